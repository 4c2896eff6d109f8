package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

const remarks = "../../trace/remark"

// remarkTypes are the types of package remark that are remarks, and the values of each
// type that has named ones.
func remarkTypes(t *testing.T) (kinds map[string]bool, values map[string][]string) {
	t.Helper()
	kinds, values = map[string]bool{}, map[string][]string{}
	eachDecl(t, remarks, func(d ast.Decl) {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv != nil && d.Name.Name == "Remark" {
				kinds[d.Recv.List[0].Type.(*ast.Ident).Name] = true
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				if v, ok := spec.(*ast.ValueSpec); ok && v.Type != nil && len(v.Values) == 1 {
					text, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
					if err != nil {
						t.Fatal(err)
					}
					of := v.Type.(*ast.Ident).Name
					values[of] = append(values[of], text)
				}
			}
		}
	})
	return kinds, values
}

func eachDecl(t *testing.T, dir string, each func(ast.Decl)) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil || len(files) == 0 {
		t.Fatal(dir, err)
	}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			each(d)
		}
	}
}

// A kind of remark without words panics when it is told, and words for a kind that is
// not there are never read.
// One of a kind is told as one, and what rounds to nothing lies to no side.
func TestOneReadingAndNoSide(t *testing.T) {
	at := trace.Reading{StationM: 12, OffsetM: -0.001, DepthM: trace.Unknown, CurrentMA: trace.Unknown, RaiseM: trace.Unknown}
	for _, tt := range []struct{ got, want string }{
		{Remark(geo.Metric, remark.DepthsComputed{Among: true, N: 1}), "two antennas (1 reading), at"},
		{Remark(geo.Metric, remark.DepthsComputed{N: 1, GapM: 0.4}), "computed at 1 reading from"},
		{Remark(geo.Metric, remark.FullScale{Shown: 999, N: 1}), "at 1 reading: its antennas were"},
		{Remark(geo.US, remark.ExposedFound{StationM: 3, OffsetM: -0.001, DepthDifferenceM: trace.Unknown}), "the line lies where it was traced without this point."},
		{Remark(geo.US, remark.ComparedWith{Record: "R", Source: "S", MeanM: 0.001, LargestM: -0.3}), "it lies on the trace, at most 11.8 in from it."},
		{strings.Join(Reading(geo.US, &at, ""), " "), "At 39 ft, on the line"},
	} {
		if !strings.Contains(tt.got, tt.want) {
			t.Errorf("%q, want %q", tt.got, tt.want)
		}
	}
}

// A limit in percent is rounded up, and to a side to which nothing is wrong none is told:
// "0 % too shallow" would be a claim, and "-0 %" is no figure.
func TestPercentOfALimitIsNoClaim(t *testing.T) {
	beside := func(least, most float64) string {
		return Remark(geo.Metric, remark.HeardBesideJump{FromM: 60, ToM: 100, JumpFromM: 40, JumpToM: 60, LnLeast: least, LnMost: most})
	}
	for _, tt := range []struct{ got, want string }{
		{beside(0, 0.182), "shown up to 20 % too deep, and their band"},
		{beside(-0.003, 0), "shown up to 1 % too shallow, and their band"},
		{beside(-0.2, 0.182), "shown up to 20 % too deep or 19 % too shallow, and their band"},
		{Remark(geo.Metric, remark.DepthsSet{N: 2, LnScale: -0.001, Sigma: 0.001}), "was off by +0 % (± 1 %, 95 %)"},
		{Remark(geo.Metric, remark.CoupledUnseen{Share: 0.201, ShiftM: 0.001, LnDepth: 0.001}), "up to 21 % of the line's current could flow on the neighbour unseen. The true line would then lie up to 0.01 m from the paint, and a depth would be wrong by up to 1 %."},
	} {
		if !strings.Contains(tt.got, tt.want) {
			t.Errorf("%q, want %q", tt.got, tt.want)
		}
	}
}

func TestEveryKindOfRemarkHasWords(t *testing.T) {
	kinds, _ := remarkTypes(t)
	worded := map[string]bool{}
	eachDecl(t, ".", func(d ast.Decl) {
		ast.Inspect(d, func(n ast.Node) bool {
			c, ok := n.(*ast.CaseClause)
			if !ok {
				return true
			}
			for _, e := range c.List {
				if s, ok := e.(*ast.SelectorExpr); ok {
					if pkg, ok := s.X.(*ast.Ident); ok && pkg.Name == "remark" {
						worded[s.Sel.Name] = true
					}
				}
			}
			return true
		})
	})
	for kind := range kinds {
		if !worded[kind] {
			t.Errorf("no words for a remark.%s: add a case to a remark_*.go of export/words", kind)
		}
	}
	if len(kinds) < 100 {
		t.Errorf("only %d kinds found", len(kinds))
	}
}

// Kinds that differ by a named value have words for each.
func TestEveryValueOfARemarkHasWords(t *testing.T) {
	say := func(r trace.Remark) string { return Remark(geo.Metric, r) }
	words := map[string]func(value string) string{
		"Argument":  func(v string) string { return say(remark.Argument(v)) },
		"Reason":    func(v string) string { return say(remark.Reason(v)) },
		"Try":       func(v string) string { return say(remark.Try(v)) },
		"Slip":      func(v string) string { return slips[remark.Slip(v)] },
		"LiftShows": func(v string) string { return liftShows[remark.LiftShows(v)] },
		"PAS128":    func(v string) string { return pasBands[remark.PAS128(v)] },
		"NFS70003":  func(v string) string { return frenchClasses[remark.NFS70003(v)] },
		"Figure":    func(v string) string { return figuresOfPlaces[remark.Figure(v)] },
		"Cost":      func(v string) string { return costs[remark.Cost(v)] },
		"Check":     func(v string) string { return checks[remark.Check(v)].notMade },
		"From": func(v string) string {
			if said := standsOff(geo.Metric, remark.From(v), 1, 2); v == string(remark.FromNowhere) || said != standsOff(geo.Metric, remark.FromNowhere, 1, 2) {
				return said
			}
			return ""
		},
	}
	_, values := remarkTypes(t)
	for of, all := range values {
		if words[of] == nil {
			t.Errorf("the values of remark.%s are not looked at here", of)
			continue
		}
		for _, v := range all {
			if words[of](v) == "" {
				t.Errorf("no words for remark.%s(%q)", of, v)
			}
		}
	}
	for of := range words {
		if len(values[of]) == 0 {
			t.Errorf("remark.%s has no values", of)
		}
	}
	for _, fix := range []trace.Fix{trace.FixNone, trace.FixDeadReckoning, trace.FixManual, trace.FixSimulator} {
		if fix.Measured() || say(remark.NoFix{Fix: fix}) == "" {
			t.Errorf("no words for fix %d", fix)
		}
	}
}

// The package comment of the kinds says where each file belongs.
func TestRemarksAreMapped(t *testing.T) {
	doc, err := os.ReadFile(filepath.Join(remarks, "doc.go"))
	if err != nil {
		t.Fatal(err)
	}
	files, _ := filepath.Glob(filepath.Join(remarks, "*.go"))
	for _, f := range files {
		if name := filepath.Base(f); name != "doc.go" && !strings.Contains(string(doc), name) {
			t.Errorf("%s is not in doc.go", name)
		}
	}
}

// Every role that people see in a list has a title.
func TestEveryRoleHasATitle(t *testing.T) {
	for _, role := range fixture.Roles() {
		if role != trace.RoleVertex && roleTitles[role] == "" && kinds[role].title == "" {
			t.Errorf("no title for role %s: declare it in a file export/words/finding_*.go, or in roleTitles", role)
		}
	}
	if n := len(fixture.Roles()) - 1; len(roleTitles)+len(kinds) != n {
		t.Errorf("%d and %d titles for %d roles", len(roleTitles), len(kinds), n)
	}
}

// Two figures that read the same are one.
func TestDepthsReadAlikeAreOneFigure(t *testing.T) {
	for r, want := range map[remark.ProfileOutOfRange]string{
		{StationM: 71, DrawnM: 1.36, LeastM: 1.618, MostM: 1.622}: "read near it are 1.62 m:",
		{StationM: 71, DrawnM: 1.36, LeastM: 1.6, MostM: 1.7}:     "read near it are 1.60 m to 1.70 m:",
	} {
		if got := Remark(geo.Metric, r); !strings.Contains(got, want) {
			t.Errorf("%q has no %q", got, want)
		}
	}
}

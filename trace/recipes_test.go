package trace_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestRecipesNameWhatIsThere holds the recipes of DEVELOPERS.md against the tree: each
// file and folder that they name is there.
func TestRecipesNameWhatIsThere(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, recipes, _ := strings.Cut(string(text), "## How to add\n")
	recipes, _, _ = strings.Cut(recipes, "\n## ")
	named := regexp.MustCompile("`((?:cmd|export|trace|geo|examples|testdata)/[a-z0-9_/.*-]+)`").FindAllStringSubmatch(recipes, -1)
	if len(named) < 20 {
		t.Fatalf("only %d names found", len(named))
	}
	for _, m := range named {
		if found, _ := filepath.Glob("../" + m[1]); len(found) == 0 && m[1] != "export/name" {
			t.Errorf("a recipe names %s, which is not there", m[1])
		}
	}
}

// change is an edit of a recipe: a new file, or what is put before a text of one that
// is there.
type change struct{ file, before, text string }

// recipe is one of DEVELOPERS.md, walked.
type recipe struct {
	name    string
	changes []change // the last one is what is forgotten at first
	tests   string   // by name
	in      []string // these packages, the first of which misses what is forgotten
	golden  []string // remade
	told    string   // what a test then says
}

var recipes = []recipe{
	{"column", []change{
		{"trace/reading.go", "\tFix     Fix\n", "\tGainDB float64 // of the receiver, as shown\n\n"},
		{"trace/intake/fields.go", "\t{Name: \"hookup\"", "\t{Name: \"gain\", Units: []string{\"db\"}, Words: \"gain of the receiver\", Choice: \"gain of the receiver\", Group: ofSignal,\n" +
			"\t\tnumber: func(r *trace.Reading) *float64 { return &r.GainDB }, domain: anyNumber},\n"},
		{"README.md", "| `phase` |", "| `gain_db` | dB | gain of the receiver |\n"},
	}, "Column|Number|Field|Cell|Readme|Empty|Template|CSV|Examples", []string{"./trace/intake", "./export/table", "./cmd/loamline", "./cmd/loamline/internal/serve/tables"},
		[]string{"./export/table", "./cmd/loamline"}, "gain_db"},
	{"finding", []change{
		{"trace/finding/lean.go", "", leanKind}, {"trace/locate/lean.go", "", leanFinder}, {"export/words/finding_lean.go", "", leanWords},
		{"export/tongue/es_findings.go", "\t{\"bleed-over strongly suspected, ", leanSpanish},
	}, "Finding|Kind|Role|Phase|Advi|Golden|Schema|Sentence|Pair|Summary|Examples", []string{"./export/tongue", "./trace", "./trace/finding", "./trace/locate", "./export/words", "./export/layer",
		"./export/geojson", "./export/schema", "./export/kml", "./export/page", "./export/pdf", "./cmd/loamline"},
		[]string{"./export/schema", "./export/kml", "./cmd/loamline"}, "is in no template"},
	{"format", []change{
		{"export/lean/lean.go", "", leanFormat}, {"export/formats.go", "\t\"loamline.example/export/page\"\n", "\t\"loamline.example/export/lean\"\n"},
		{"export/formats.go", "\t{\"gpx\", ", "\t{\"lean\", \"names of the lines\", false, streamed(\".lean\", lean.Write)},\n"},
		{"DEVELOPERS.md", "`gpkg` `gpx`", "`lean` "}, {"README.md", "| `shp` | Shapefiles", "| `lean` | the lines' names |\n"},
	}, "Layout|WhoImports|Readme|EveryOutput|Finite", []string{"./cmd/loamline", "./trace", "./export", "./cmd/loamline/internal/serve/outputs"}, nil, "--write takes has no lean"},
}

// The recipes of DEVELOPERS.md are walked on a copy of the whole: a column takes three
// files, a finding four and a format three and a package, and where one is left out a test
// says so. Goldens are remade.
//
// All are walked on one copy at the same time, for each compiles nearly all of the
// project anew; what it depends on is compiled as for any other test, and once. A program
// of tests is linked in each of three runs at most.
func TestRecipesAreWhole(t *testing.T) {
	if os.Getenv("LOAMLINE_RECIPES") == "" {
		t.Skip("compiles nearly everything anew: LOAMLINE_RECIPES asks for it")
	}
	dir := t.TempDir()
	if out, err := exec.Command("cp", "-r", "../.", dir).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	test := func(names string, args ...string) (string, error) {
		// Symbols for a debugger take a quarter of the time that it takes to link.
		c := exec.Command("go", append([]string{"test", "-vet=off", "-ldflags=-w", "-run", names}, args...)...)
		c.Dir = dir
		out, err := c.CombinedOutput()
		return string(out), err
	}
	var forgotten []change
	for _, r := range recipes {
		last := len(r.changes) - 1
		for _, c := range r.changes[:last] {
			c.make(t, dir)
		}
		forgotten = append(forgotten, r.changes[last])
	}
	var names, in, first, golden []string
	for _, r := range recipes {
		names, in, first, golden = append(names, r.tests), append(in, r.in...), append(first, r.in[0]), append(golden, r.golden...)
	}
	all := strings.Join(names, "|")
	said, _ := test(all, first...)
	for i, r := range recipes {
		if failed := "FAIL\tloamline.example" + strings.TrimPrefix(r.in[0], "."); !strings.Contains(said, failed) || !strings.Contains(said, r.told) {
			t.Errorf("%s, without %s: not told by %s: %s", r.name, forgotten[i].file, r.in[0], said)
		}
	}
	for _, c := range forgotten {
		c.make(t, dir)
	}
	if said, err := test(all, append(once(golden), "-update")...); err != nil {
		t.Error(said)
	}
	if said, err := test(all, once(in)...); err != nil {
		t.Errorf("the recipes are not whole: %s", said)
	}
}

// once lists each of some packages once, in the order of their names.
func once(packages []string) []string { return slices.Compact(slices.Sorted(slices.Values(packages))) }

func (c change) make(t *testing.T, dir string) {
	t.Helper()
	path := filepath.Join(dir, c.file)
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	text := []byte(c.text)
	if c.before != "" {
		was, err := os.ReadFile(path)
		if err != nil || strings.Count(string(was), c.before) != 1 {
			t.Fatalf("%s: %v, %q stands there %d times", c.file, err, c.before, strings.Count(string(was), c.before))
		}
		text = []byte(strings.Replace(string(was), c.before, c.text+c.before, 1))
	}
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
}

const (
	leanKind = `package finding

import (
	"loamline.example/geo"
	"loamline.example/trace"
)

// RoleLean is the role of a Lean.
const RoleLean = "lean"

var _ = declare(Lean{Line: "A", FromM: 2, ToM: 8, Path: specimenPath(), LeanM: 0.12})

// Lean is a stretch whose marks lie to one side of the line for long.
type Lean struct {
	Line       string
	FromM, ToM float64
	Path       []geo.XY
	LeanM      float64 // positive to the right of travel
}

func (Lean) Role() string                     { return RoleLean }
func (f Lean) OnLine() string                 { return f.Line }
func (f Lean) Span() (fromM, toM float64)     { return f.FromM, f.ToM }
func (f Lean) Where() []geo.XY                { return f.Path }
func (Lean) Beside() []trace.CourseStrip      { return nil }
func (Lean) NeedsEyes() bool                  { return true }
func (Lean) Finding()                         {}
`
	leanFormat = `// Package lean writes the names of a sheet's lines.
package lean

import (
	"fmt"
	"io"

	"loamline.example/trace"
)

// Write writes one name a row.
func Write(w io.Writer, s *trace.Sheet) error {
	for _, l := range s.Lines {
		if _, err := fmt.Fprintln(w, l.Setup.Name); err != nil {
			return err
		}
	}
	return nil
}
`
	leanFinder = `package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// leastLeanM is from where a lean is told. Judgement.
const leastLeanM = 0.1

var _ = find(leans)

// leans finds a line whose marks all lie to one side.
func leans(l *trace.Line) (found []trace.Finding) {
	line, least := l.Centerline.Polyline(), 0.0
	for _, r := range byStation(l.Readings) {
		if r.OffsetM < leastLeanM {
			return nil
		}
		least = r.OffsetM
	}
	if to := line.Length(); least > 0 {
		found = append(found, finding.Lean{Line: l.Setup.Name, ToM: to, Path: line.Slice(0, to), LeanM: least})
	}
	return found
}
`
	leanWords = `package words

import (
	"loamline.example/geo"
	"loamline.example/trace/finding"
)

var _ = worded("Marks to one side", func(u geo.Units, f finding.Lean) told {
	return told{"Marks lie to one side, " + Range(u, f.FromM, f.ToM), []string{
		"The marks lie " + u.Short(f.LeanM) + " to one side of the line drawn."}}
})
`
	leanSpanish = "\t{\"Marks to one side\", \"Marcas a un lado\"},\n" +
		"\t{\"Marks lie to one side, {r}\", \"Las marcas están a un lado, {r}\"},\n" +
		"\t{\"The marks lie {m} to one side of the line drawn\", \"Las marcas están {m} a un lado de la línea dibujada\"},\n"
)

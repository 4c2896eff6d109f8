package trace_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// unreasonedFolders are the folders in which no number decides what the map claims: files
// are read and refused there, or only tests use them. In every other, none stands in a
// function without a word on where it comes from.
var unreasonedFolders = []string{"intake", "siteplan", "tracetest", "setting", "finding", "advice"}

// plainNumbers need no word: counts of a few, halves, tens and thousands, degrees of a
// turn, the 97.5 % point of a normal error; and powers of ten, which are bounds of the arithmetic.
var plainNumbers = []float64{0, 0.5, 1, 2, 3, 4, 10, 1000, 90, 180, 360, 1.96}

func isPlain(of string) bool {
	v, err := strconv.ParseFloat(of, 64)
	return err != nil || slices.Contains(plainNumbers, v) || strings.HasPrefix(of, "1e") || strings.HasPrefix(of, "0x")
}

// sourceWords are how a comment says where a number comes from: judged; known in the trade
// without a source; from memory; measured here, by which command; published, by whom and
// when; or derived from other numbers or a law that the comment names.
var sourceWords = regexp.MustCompile(`(?i)\bjudgement\b|\bno source\b|\bfrom memory\b|\bmeasured here by\s+.|` +
	`\bpublished\b|\bderived\b|\bbounds? of the arithmetic\b|` +
	`(?-i:[A-Z][\w.]+(?: et al\.)?(?: of)?,? \(?(?:1[6-9]|20)\d\d\b)`)

func hasSource(comment string) bool {
	return sourceWords.MatchString(strings.Join(strings.Fields(comment), " "))
}

// A number in a function has a comment on its line or just above it that says where it
// comes from, one in a constant or variable a comment of its own: on itself, on its block,
// or on one above it in the block that says its name too.
func TestNumbersHaveAReason(t *testing.T) {
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		dir, ok := strings.CutPrefix(filepath.ToSlash(filepath.Dir(path)), "../trace/")
		inFunctions := ok && dir != "receiver" && !within(dir, unreasonedFolders)
		if !ok || !inFunctions && dir != "receiver" {
			return
		}
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(string(src), "\n")
		for _, d := range f.Decls {
			if g, ok := d.(*ast.GenDecl); ok {
				for _, v := range unreasoned(g) {
					t.Errorf("%s: the number %s has no word on where it comes from", fset.Position(v.Pos()), v.Names[0].Name)
				}
				continue
			}
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Body == nil || !inFunctions && hasSource(fn.Doc.Text()) { // a table of the receiver's, told above it
				continue
			}
			ast.Inspect(fn.Body, func(n ast.Node) bool {
				if l, ok := n.(*ast.BasicLit); ok && (l.Kind == token.INT || l.Kind == token.FLOAT) && !isPlain(l.Value) {
					at := fset.Position(l.Pos())
					if !hasSource(said(lines, at.Line-1)) {
						t.Errorf("%s: %s has no word on where it comes from: %s", at, l.Value, strings.TrimSpace(lines[at.Line-1]))
					}
				}
				return true
			})
		}
	})
}

// said is the comment on a line and the one that ends just above it.
func said(lines []string, at int) string {
	_, on, _ := strings.Cut(lines[at], "//")
	text := []string{on}
	for k := at - 1; k >= 0; k-- {
		above, ok := strings.CutPrefix(strings.TrimSpace(lines[k]), "//")
		if !ok {
			break
		}
		text = append(text, above)
	}
	slices.Reverse(text)
	return strings.Join(text, " ")
}

// unreasoned are the constants and variables of a declaration that hold a number and
// have no comment that says where it comes from.
func unreasoned(g *ast.GenDecl) (found []*ast.ValueSpec) {
	if g.Tok != token.CONST && g.Tok != token.VAR {
		return nil
	}
	above := ""
	for _, s := range g.Specs {
		v := s.(*ast.ValueSpec)
		if v.Doc != nil {
			above = v.Doc.Text()
		}
		text := g.Doc.Text() + v.Doc.Text() + v.Comment.Text()
		if slices.ContainsFunc(v.Names, func(n *ast.Ident) bool { return regexp.MustCompile(`\b` + n.Name + `\b`).MatchString(above) }) {
			text += above
		}
		if hasNumber(v) && !hasSource(text) {
			found = append(found, v)
		}
	}
	return found
}

func hasNumber(v *ast.ValueSpec) (has bool) {
	for _, e := range v.Values {
		ast.Inspect(e, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && (l.Kind == token.INT || l.Kind == token.FLOAT) {
				has = true
			}
			_, function := n.(*ast.FuncLit)
			return !function
		})
	}
	return has
}

// Numbers without a word on where they come from are found, those of a block among them,
// and those with a comment on what they are alone.
func TestUnreasoned(t *testing.T) {
	const src = `package p
const bare = 1.5
// told is told: judgement.
const told = 2.5
// what says what it is, and is judged by nobody.
const what = 2.5
const (
	// a and b are told together (common practice, no
	// source).
	a = 3.5
	b = 4.5
	c = 5.5
	d = 6.5 // of a normal error (Hampel 1974, JASA 69:383)
	e = 7.5 // of 2000 readings
	f = 8.5 // measured here by
	name = "no number"
)
// Of the block. Measured here by loamline accuracy.
const (
	g = 9.5
	h = 9.5 // in metres
)
var table = []float64{7.5}
`
	f, err := parser.ParseFile(token.NewFileSet(), "p.go", src, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, d := range f.Decls {
		for _, v := range unreasoned(d.(*ast.GenDecl)) {
			got = append(got, v.Names[0].Name)
		}
	}
	if want := []string{"bare", "what", "c", "e", "f", "table"}; !slices.Equal(got, want) {
		t.Errorf("found %s, want %s", got, want)
	}
	lines := []string{"// Far off.", "// Judgement.", "x := 1.5", "y := 2.5 // m", "z := 3.5 // derived"}
	for k, want := range map[int]bool{2: true, 3: false, 4: true} {
		if got := hasSource(said(lines, k)); got != want {
			t.Errorf("%q: %v, want %v", lines[k], got, want)
		}
	}
}

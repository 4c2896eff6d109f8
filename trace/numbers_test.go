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

// reasoned are the folders in which a number decides what the map claims: none stands in
// a function without a word on where it comes from.
var reasoned = []string{"fit", "bleed", "guard", "locate", "clean", "records", "zones", "rounding", "placing", "traverse", "walkorder", "branch", "compare"}

// plainNumbers need no word: counts of a few, halves, tens and thousands, degrees of a
// turn, the 97.5 % point of a normal error; and powers of ten, which are bounds of the arithmetic.
var plainNumbers = []float64{0, 0.5, 1, 2, 3, 4, 10, 1000, 90, 180, 360, 1.96}

func isPlain(of string) bool {
	v, err := strconv.ParseFloat(of, 64)
	return err != nil || slices.Contains(plainNumbers, v) || strings.HasPrefix(of, "1e") || strings.HasPrefix(of, "0x")
}

// A number in a function has a comment on its line or just above it, one in a constant or
// variable of the package a comment of its own: on itself, on its block, or on one above it
// in the block that says its name too.
func TestNumbersHaveAReason(t *testing.T) {
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		dir, ok := strings.CutPrefix(filepath.ToSlash(filepath.Dir(path)), "../trace/")
		inFunctions := slices.Contains(reasoned, dir)
		if !ok || !inFunctions && dir != "receiver" { // whose functions have their sources in their comments
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
					t.Errorf("%s: the number %s has no comment on what it is and where it comes from", fset.Position(v.Pos()), v.Names[0].Name)
				}
				continue
			}
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Body == nil || !inFunctions {
				continue
			}
			ast.Inspect(fn.Body, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.GenDecl:
					return n.Tok != token.CONST
				case *ast.BasicLit:
					if n.Kind != token.INT && n.Kind != token.FLOAT || isPlain(n.Value) {
						return true
					}
					at := fset.Position(n.Pos())
					if on, above := lines[at.Line-1], strings.TrimSpace(lines[at.Line-2]); !strings.Contains(on, "//") && !strings.HasPrefix(above, "//") {
						t.Errorf("%s: %s has no name and no word on where it comes from: %s", at, n.Value, strings.TrimSpace(on))
					}
				}
				return true
			})
		}
	})
}

// unreasoned are the constants and variables of a declaration that hold a number and
// have no comment.
func unreasoned(g *ast.GenDecl) (found []*ast.ValueSpec) {
	if g.Tok != token.CONST && g.Tok != token.VAR || g.Doc != nil {
		return nil
	}
	above := ""
	for _, s := range g.Specs {
		v := s.(*ast.ValueSpec)
		if v.Doc != nil {
			above = v.Doc.Text()
		}
		named := func(n *ast.Ident) bool { return regexp.MustCompile(`\b` + n.Name + `\b`).MatchString(above) }
		if v.Doc == nil && v.Comment == nil && !slices.ContainsFunc(v.Names, named) && hasNumber(v) {
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

// Numbers without a comment are found, those of a block among them.
func TestUnreasoned(t *testing.T) {
	const src = `package p
const bare = 1.5
// told is told.
const told = 2.5
const (
	// a and b are told together.
	a = 3.5
	b = 4.5
	c = 5.5
	d = 6.5 // told
	name = "no number"
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
	if want := []string{"bare", "c", "table"}; !slices.Equal(got, want) {
		t.Errorf("found %s, want %s", got, want)
	}
}

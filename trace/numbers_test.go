package trace_test

import (
	"go/ast"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// reasoned are the folders in which a number decides what the map claims: none stands in
// a function without a word on where it comes from.
var reasoned = []string{"fit", "bleed", "guard", "locate", "clean", "records", "zones", "rounding", "placing", "traverse"}

// plainNumbers need no word: counts of a few, halves, tens and thousands, degrees of a
// turn, the 97.5 % point of a normal error; and powers of ten, which are bounds of the arithmetic.
var plainNumbers = []float64{0, 0.5, 1, 2, 3, 4, 10, 1000, 90, 180, 360, 1.96}

func isPlain(of string) bool {
	v, err := strconv.ParseFloat(of, 64)
	return err != nil || slices.Contains(plainNumbers, v) || strings.HasPrefix(of, "1e") || strings.HasPrefix(of, "0x")
}

// A number has its name in a constant, or a comment on its line or just above it.
func TestNumbersHaveAReason(t *testing.T) {
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		dir, ok := strings.CutPrefix(filepath.ToSlash(filepath.Dir(path)), "../trace/")
		if !ok || !slices.Contains(reasoned, dir) {
			return
		}
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(string(src), "\n")
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Body == nil {
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

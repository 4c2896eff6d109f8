package locate

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"loamline.example/trace/finding"
)

// A kind of finding that nothing finds would be drawn, worded and listed in vain: each
// is made somewhere in this package, or where known lines are laid beside the traced ones.
func TestEveryKindOfFindingIsFound(t *testing.T) {
	var files []string
	for _, room := range []string{"locate", "records"} {
		in, err := filepath.Glob(filepath.Join("..", room, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, in...)
	}
	made := map[string]bool{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			if lit, ok := n.(*ast.CompositeLit); ok {
				if of, ok := lit.Type.(*ast.SelectorExpr); ok {
					made[of.Sel.Name] = true
				}
			}
			return true
		})
	}
	for _, f := range finding.All() {
		if name := reflect.TypeOf(f).Name(); !made[name] {
			t.Errorf("nothing in trace/locate finds a %s: find it in a file of its own, with a row in finders", name)
		}
	}
}

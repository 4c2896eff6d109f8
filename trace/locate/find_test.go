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

// What finders find is read in the order of their list: none adds itself to one when its
// file is compiled, or a file's name would order what people read.
func TestFindersAreOneList(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range tree.Decls {
			if v, ok := d.(*ast.GenDecl); ok && v.Tok == token.VAR {
				for _, s := range v.Specs {
					if s := s.(*ast.ValueSpec); s.Names[0].Name == "_" {
						t.Errorf("%s: something is done when it is compiled", file)
					}
				}
			}
			if f, ok := d.(*ast.FuncDecl); ok && f.Name.Name == "init" && f.Recv == nil {
				t.Errorf("%s: something is done when it is loaded", file)
			}
		}
	}
}

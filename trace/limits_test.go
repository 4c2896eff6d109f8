package trace_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// What the longest and the most branching functions have today. Lower them when
// these are cut; a new function that needs more is to be cut instead.
const (
	mostLines      = 102
	mostComplexity = 28
	mostFileLines  = 388
)

// TestFunctionsStayShort counts lines and branches (McCabe, 1976, IEEE Trans.
// Softw. Eng. SE-2:308: one, and one more for each decision) of every function of
// the product, its tests aside.
func TestFunctionsStayShort(t *testing.T) {
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		if n := fset.Position(f.End()).Line; n > mostFileLines {
			t.Errorf("%s has %d lines, more than %d: one idea a file", path, n, mostFileLines)
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if n := fset.Position(fn.End()).Line - fset.Position(fn.Pos()).Line + 1; n > mostLines {
				t.Errorf("%s: %s has %d lines, more than %d", fset.Position(fn.Pos()), fn.Name.Name, n, mostLines)
			}
			if n := complexity(fn); n > mostComplexity {
				t.Errorf("%s: %s has a cyclomatic complexity of %d, more than %d", fset.Position(fn.Pos()), fn.Name.Name, n, mostComplexity)
			}
		}
	})
}

// wide are the packages that may have more lines than mostPackageLines: each is one
// subject that does not come apart (a reader of tables, the two estimators, the sheets).
var wide = map[string]bool{"trace/intake": true, "trace/fit": true, "trace/bleed": true, "export/pdf": true}

const mostPackageLines = 4000

// A package with more lines than anybody reads through is cut along its ideas.
func TestPackagesStaySmall(t *testing.T) {
	lines := map[string]int{}
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		dir := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "../")
		lines[dir] += fset.Position(f.FileEnd).Line
	})
	for dir, n := range lines {
		if n > mostPackageLines && !wide[dir] {
			t.Errorf("%s has %d lines, more than %d: cut it along its ideas", dir, n, mostPackageLines)
		}
	}
	for dir := range wide {
		if lines[dir] <= mostPackageLines {
			t.Errorf("%s has %d lines: it needs no exception", dir, lines[dir])
		}
	}
}

// mostMethods is how many methods a type may have, and broad are those that have more: what a
// newcomer must read before the first of them is understood.
const mostMethods = 30

var broad = map[string]bool{"trace/guard.view": true, "trace/bleed.columns": true, "trace/fit.walk": true, "trace/fit.traced": true,
	"trace/intake.tableReader": true, "export/kml.writer": true, "export/gpkg.writer": true, "export/internal/paper.Canvas": true,
	"cmd/loamline/internal/serve.Server": true, "cmd/loamline/internal/serve/jobs.Store": true}

// A type with more methods than anybody keeps in mind is cut by what they need of its fields,
// as the drafter of the sheets was by the areas that it drew.
func TestTypesStaySmall(t *testing.T) {
	methods := map[string]int{}
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		dir := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "../")
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Recv != nil {
				methods[dir+"."+receiverName(fn.Recv.List[0].Type)]++
			}
		}
	})
	for name, n := range methods {
		if n > mostMethods && !broad[name] {
			t.Errorf("%s has %d methods, more than %d: cut it by what they need of its fields", name, n, mostMethods)
		}
	}
	for name := range broad {
		if methods[name] <= mostMethods {
			t.Errorf("%s has %d methods: it needs no exception", name, methods[name])
		}
	}
}

// receiverName is the type that a method is of.
func receiverName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiverName(e.X)
	case *ast.IndexExpr:
		return receiverName(e.X)
	case *ast.IndexListExpr:
		return receiverName(e.X)
	case *ast.Ident:
		return e.Name
	}
	return ""
}

// eachGoFile parses every file of the product but its tests.
func eachGoFile(t *testing.T, each func(path string, fset *token.FileSet, f *ast.File)) {
	t.Helper()
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == ".git" || d.Name() == "node_modules") {
			return fs.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		fset := token.NewFileSet()
		f, err := parser.ParseFile(fset, path, nil, parser.SkipObjectResolution|parser.ParseComments)
		if err != nil {
			return err
		}
		each(path, fset, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// complexity is one, and one more for each decision of a function.
func complexity(fn *ast.FuncDecl) int {
	n := 1
	ast.Inspect(fn, func(x ast.Node) bool {
		switch x := x.(type) {
		case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt:
			n++
		case *ast.CaseClause:
			if x.List != nil {
				n++
			}
		case *ast.CommClause:
			if x.Comm != nil {
				n++
			}
		case *ast.BinaryExpr:
			if x.Op == token.LAND || x.Op == token.LOR {
				n++
			}
		}
		return true
	})
	return n
}

// One, an if, a for, an && and two cases of three: six.
func TestComplexity(t *testing.T) {
	const src = `package p
func f(a, b int) {
	if a > 0 && b > 0 {
		for range a { }
	}
	switch a {
	case 1:
	case 2:
	default:
	}
}`
	f, err := parser.ParseFile(token.NewFileSet(), "p.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	if n := complexity(f.Decls[0].(*ast.FuncDecl)); n != 6 {
		t.Errorf("complexity %d, want 6", n)
	}
}

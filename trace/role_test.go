package trace_test

import (
	"fmt"
	"go/ast"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/fixture"
)

// The set of findings is closed: its kinds are in package finding, whose tests know one
// that it does not declare.
func TestFindingsStandInOnePlace(t *testing.T) {
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		if filepath.ToSlash(filepath.Dir(path)) == "../trace/finding" {
			return
		}
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Recv != nil && fn.Name.Name == "Finding" && fn.Type.Results == nil {
				t.Errorf("%s: a kind of finding: it belongs in trace/finding", fset.Position(fn.Pos()))
			}
		}
	})
}

// What is done by kind of finding goes through finding.PerKind, whose tests name an
// output that lacks one: no switch stands elsewhere.
func TestFindingsAreSwitchedInOnePlace(t *testing.T) {
	const registry = "../trace/finding/perkind.go"
	switches := 0
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		path = filepath.ToSlash(path)
		inside := filepath.ToSlash(filepath.Dir(path)) == "../trace/finding"
		ast.Inspect(f, func(n ast.Node) bool {
			s, ok := n.(*ast.TypeSwitchStmt)
			if !ok || !overFindings(s, inside) {
				return true
			}
			if switches++; path != registry {
				t.Errorf("%s: a switch over findings: it belongs in finding.PerKind", fset.Position(s.Pos()))
			}
			return true
		})
	})
	if switches == 0 {
		t.Errorf("no switch over findings in %s", registry)
	}
}

// overFindings tells whether a case of a switch is a kind of finding.
func overFindings(s *ast.TypeSwitchStmt, inside bool) bool {
	kinds := map[string]bool{}
	for _, f := range finding.All() {
		_, name, _ := strings.Cut(fmt.Sprintf("%T", f), ".")
		kinds[name] = true
	}
	return slices.ContainsFunc(s.Body.List, func(c ast.Stmt) bool {
		return slices.ContainsFunc(c.(*ast.CaseClause).List, func(e ast.Expr) bool {
			switch e := e.(type) {
			case *ast.SelectorExpr:
				return nameOf(e.X) == "finding" && kinds[e.Sel.Name]
			case *ast.Ident:
				return inside && kinds[e.Name]
			}
			return false
		})
	})
}

// Roles, grades, sides and checks are spelled where they are declared: what is done by
// them anywhere else goes by the constants, so that the compiler knows one that has
// gone. The judge of small cases reads maps from outside and spells them for itself.
func TestRolesAreSpelledOnce(t *testing.T) {
	names := append(fixture.Roles(), string(trace.GradeWatch), string(trace.GradeSuspect), string(trace.GradeStrong),
		string(trace.Left), string(trace.Right), string(trace.CheckAirCoupling), trace.UnknownNeighbor, trace.FromEdge)
	spelled := func(e ast.Expr) (string, bool) {
		l, ok := e.(*ast.BasicLit)
		if !ok || l.Kind != token.STRING {
			return "", false
		}
		s, err := strconv.Unquote(l.Value)
		return s, err == nil && slices.Contains(names, s)
	}
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		if dir := filepath.ToSlash(path); strings.HasPrefix(dir, "../trace/tracetest/") {
			return
		}
		ast.Inspect(f, func(n ast.Node) bool {
			var by []ast.Expr
			switch n := n.(type) {
			case *ast.CaseClause:
				by = n.List
			case *ast.BinaryExpr:
				if n.Op == token.EQL || n.Op == token.NEQ {
					by = []ast.Expr{n.X, n.Y}
				}
			case *ast.KeyValueExpr:
				by = []ast.Expr{n.Key}
			case *ast.IndexExpr:
				by = []ast.Expr{n.Index}
			}
			for _, e := range by {
				if s, ok := spelled(e); ok {
					t.Errorf("%s: %q is spelled here: use its constant of package trace", fset.Position(e.Pos()), s)
				}
			}
			return true
		})
	})
}

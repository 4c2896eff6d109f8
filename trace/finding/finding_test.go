package finding

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"loamline.example/trace"
)

// findingTypes are the types of the package that declare the method that marks a kind.
func findingTypes(t *testing.T) (names []string) {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if ok && fn.Recv != nil && fn.Name.Name == "Finding" {
				names = append(names, fn.Recv.List[0].Type.(*ast.Ident).Name)
			}
		}
	}
	return names
}

func TestEveryKindOfFindingIsRegistered(t *testing.T) {
	kinds := findingTypes(t)
	if len(kinds) < 7 {
		t.Fatalf("only %v are found", kinds)
	}
	var specimens []string
	roles := map[string]bool{}
	for _, f := range All() {
		specimens = append(specimens, reflect.TypeOf(f).Name())
		if roles[f.Role()] {
			t.Errorf("role %s is used twice", f.Role())
		}
		roles[f.Role()] = true
	}
	for _, k := range kinds {
		if !slices.Contains(specimens, k) {
			t.Errorf("%s is not declared: say var _ = declare(%s{...}) where it is", k, k)
		}
	}
	if len(specimens) != len(kinds) {
		t.Errorf("%v for the kinds %v", specimens, kinds)
	}
}

// Of must know every kind: a field without its case would be passed to Else.
func TestPerKindKnowsEveryKind(t *testing.T) {
	for _, f := range All() {
		name := reflect.TypeOf(f).Name()
		k := PerKind[string]{Else: func(trace.Finding) string { return "else" }}
		field := reflect.ValueOf(&k).Elem().FieldByName(name)
		if !field.IsValid() {
			continue // no output has a form of its own for it
		}
		field.Set(reflect.MakeFunc(field.Type(), func([]reflect.Value) []reflect.Value {
			return []reflect.Value{reflect.ValueOf("own")}
		}))
		if got := k.Of(f); got != "own" {
			t.Errorf("%s goes to %s: add its case to PerKind.Of in trace/finding/perkind.go", name, got)
		}
		if got := (PerKind[string]{Else: func(trace.Finding) string { return "else" }}).Of(f); got != "else" {
			t.Errorf("%s without a form goes to %s", name, got)
		}
	}
}

// What generic lists and drawings live on is there for every kind.
func TestFindingsTellWhereTheyAre(t *testing.T) {
	for _, f := range All() {
		from, to := f.Span()
		if !(from <= to) || len(f.Where()) == 0 || f.OnLine() != "A" {
			t.Errorf("%T: %v to %v at %v on %q", f, from, to, f.Where(), f.OnLine())
		}
	}
}

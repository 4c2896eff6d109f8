package trace_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// worded are the folders that may word what people see: they read files and refuse them, or
// only tests use them. In every other, nothing is worded that a map, a page, a sheet or a
// summary shows: they tell kinds with figures (package remark), and export/words has the
// sentences, so that units and language reach all of them.
var worded = []string{"intake", "siteplan", "tracetest", "setting", "finding"}

// readWords are the files that have the words of notes as locators write them, to read them by.
var readWords = []string{"doubt/unheard/note.go", "doubt/unheard/besidenote.go"}

// within says whether a folder below trace is one of these, or inside one.
func within(dir string, folders []string) bool {
	top, _, _ := strings.Cut(dir, "/")
	return slices.Contains(folders, top)
}

// sentence is a text of several words.
var sentence = regexp.MustCompile(`\pL{2,}[,:;]? (?:\pL|%)|%\pL \pL{2,}`)

// errorTexts are where a text with several words is part of an error: of a value of
// error, or of a trace.Problem, which is one, with its cause and its advice.
var errorTexts = map[string]bool{"errors.New": true, "fmt.Errorf": true, "panic": true, "depthsContradict": true}

// onProblems are the functions of locate and its rooms that word a part of a problem of the input.
var onProblems = []string{
	"turnedAxes",  // which sign a file lost
	"rowsWords",   // how many rows have two positions
	"judge",       // of them
	"outputFrame", // a system that is not for the job's place
	"checkReach",  // lines in different parts of the world: the job is refused
	"slipCause",   // what would mend that
	"misplacedHint",
	"placeWords", // where they lie
	"checkUnit",  // the advice on columns that no instrument gives
	"lostPoints", // the advice of three problems
	"leapingGround",
	"Plane", // a layer that lies elsewhere
}

func TestEstimatorsMakeNoSentences(t *testing.T) {
	looked := 0
	eachGoFile(t, func(path string, fset *token.FileSet, f *ast.File) {
		dir, ok := strings.CutPrefix(filepath.ToSlash(filepath.Dir(path)), "../trace/")
		if !ok || within(dir, worded) || slices.Contains(readWords, dir+"/"+filepath.Base(path)) {
			return
		}
		for _, d := range f.Decls {
			looked++
			for _, at := range sentences(d) {
				t.Errorf("%s: %s: a remark has figures, export/words has the sentence", fset.Position(at.Pos()), at.Value)
			}
		}
	})
	if looked < 1000 {
		t.Errorf("only %d declarations looked at", looked)
	}
}

// sentences are the texts of a declaration that are sentences and no part of an error.
func sentences(d ast.Decl) (found []*ast.BasicLit) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if slices.Contains(onProblems, d.Name.Name) {
			return nil
		}
	case *ast.GenDecl:
		if v, ok := d.Specs[0].(*ast.ValueSpec); d.Tok == token.IMPORT || ok && slices.Contains(onProblems, v.Names[0].Name) {
			return nil
		}
	}
	ast.Inspect(d, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			return !errorTexts[nameOf(n.Fun)]
		case *ast.CompositeLit:
			return nameOf(n.Type) != "trace.Problem"
		case *ast.AssignStmt: // of a problem that is at hand
			to, ok := n.Lhs[0].(*ast.SelectorExpr)
			return !ok || to.Sel.Name != "Cause" && to.Sel.Name != "Hint"
		case *ast.BasicLit:
			if n.Kind != token.STRING {
				break
			}
			if text, err := strconv.Unquote(n.Value); err == nil && sentence.MatchString(text) {
				found = append(found, n)
			}
		}
		return true
	})
	return found
}

func nameOf(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return nameOf(e.X) + "." + e.Sel.Name
	case *ast.ArrayType: // of literals without their type
		return nameOf(e.Elt)
	}
	return ""
}

// Sentences are found wherever they stand, and errors are let be.
func TestSentences(t *testing.T) {
	const src = `package p
var a = "the line lies elsewhere"
func f(u units) {
	s.Why = fmt.Sprintf("%s off the line", u.Short(1))
	g("Depth "+"gauge", fmt.Sprintf("%d depths", 2))
	r := trace.Problem{Cause: "no such column"}
	r.Hint, r.Row = "write one", 7
	panic("no such kind")
}
func turnedAxes() string { return "latitude and longitude" }`
	f, err := parser.ParseFile(token.NewFileSet(), "p.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, d := range f.Decls {
		for _, at := range sentences(d) {
			got = append(got, at.Value)
		}
	}
	if want := []string{`"the line lies elsewhere"`, `"%s off the line"`, `"%d depths"`}; !slices.Equal(got, want) {
		t.Errorf("found %s, want %s", got, want)
	}
}

package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loamline.example/trace/intake"
)

// sourceTexts are the string literals of the program, without its tests and
// without the packages that only make up data.
func sourceTexts(t *testing.T) []string {
	t.Helper()
	var texts []string
	for _, top := range []string{"../../cmd", "../../export", "../../geo", "../../trace"} {
		err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				if d != nil && (d.Name() == "tracetest" || d.Name() == "internal" && strings.Contains(path, "export")) {
					return fs.SkipDir
				}
				return err
			}
			if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return nil
			}
			texts = append(texts, literalsOf(t, path)...)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return texts
}

// literalsOf are the string literals of a file.
func literalsOf(t *testing.T, path string) (texts []string) {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if s, err := strconv.Unquote(lit.Value); err == nil {
				texts = append(texts, s)
			}
		}
		return true
	})
	return texts
}

// Every message of the guide's table is one that the program can say.
func TestFieldGuideMessagesExist(t *testing.T) {
	table, err := os.ReadFile("../../examples/messages.md")
	if err != nil {
		t.Fatal(err)
	}
	texts := sourceTexts(t)
	said := func(part string) bool {
		for _, s := range texts {
			if strings.Contains(s, part) {
				return true
			}
		}
		return false
	}
	rows := regexp.MustCompile("(?m)^\\| `([^`]+)` \\| (.+) \\|$").FindAllStringSubmatch(string(table), -1)
	if len(rows) < 20 {
		t.Fatalf("%d messages", len(rows))
	}
	for _, row := range rows {
		long := false
		for _, part := range strings.Split(row[1], "…") {
			part = strings.TrimSpace(part)
			long = long || len(part) >= 10
			if part != "" && !said(part) {
				t.Errorf("the program never says %q", part)
			}
		}
		if !long {
			t.Errorf("%q is too short to be told from others", row[1])
		}
	}
	if said("a message that nobody says") {
		t.Error("the check finds everything")
	}
}

// Every sentence with which an item of the check list begins, of a job, its lines and its
// input, is in the guide's table. Sentences that go on from another are not asked for.
func TestGuideHasEveryMessageOfTheCheckList(t *testing.T) {
	table, err := os.ReadFile("../../examples/messages.md")
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for _, row := range regexp.MustCompile("(?m)^\\| `([^`]+)` \\|").FindAllStringSubmatch(string(table), -1) {
		rows = append(rows, strings.Split(row[1], "…"))
	}
	goesOn := regexp.MustCompile("^(?:[ ,:]|Ask |Until then |%s; %s from it)|and not a point of the line$|^(?:readings|places) .* were taken as ")
	asked := 0
	for _, name := range []string{"remark_advice.go", "remark_input.go", "remark_atlarge.go"} {
		for _, text := range literalsOf(t, "../../export/words/"+name) {
			if len(text) < 60 || goesOn.MatchString(text) {
				continue
			}
			asked++
			if !slices.ContainsFunc(rows, func(parts []string) bool {
				return !slices.ContainsFunc(parts, func(part string) bool { return !strings.Contains(text, strings.TrimSpace(part)) })
			}) {
				t.Errorf("examples/messages.md has no row for %q", text)
			}
		}
	}
	if asked < 40 {
		t.Errorf("only %d messages found", asked)
	}
}

// Columns and keys that the guide names are there.
func TestFieldGuideNamesExist(t *testing.T) {
	guide, err := os.ReadFile("../../examples/field-guide.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile("`([a-z_]+)…?`").FindAllStringSubmatch(string(guide), -1) {
		name := strings.TrimSuffix(m[1], "_")
		known := strings.Contains(jobTemplate, "#"+name+" = ")
		for _, c := range intake.ColumnNames() {
			known = known || c == name || strings.HasPrefix(c, name+"_")
		}
		if !known && name != "readings" {
			t.Errorf("%s is neither a column nor a key of the job file", name)
		}
	}
}

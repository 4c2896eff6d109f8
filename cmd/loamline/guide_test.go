package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
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
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if s, err := strconv.Unquote(lit.Value); err == nil {
						texts = append(texts, s)
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
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

package trace_test

import (
	"go/ast"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestLayoutIsTheTree holds the layout table of DEVELOPERS.md against the folders:
// each that it names is there, and each package has a row, or is internal to one
// that has.
func TestLayoutIsTheTree(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, ok := strings.Cut(string(text), "## The layout\n")
	if !ok {
		t.Fatal("DEVELOPERS.md has no section on the layout")
	}
	table, _, _ = strings.Cut(table, "\n## ")
	rows := map[string]bool{}
	quoted := regexp.MustCompile("`([^`]+)`")
	for _, line := range strings.Split(table, "\n") {
		if !strings.HasPrefix(line, "| `") {
			continue
		}
		parent := "" // of the names that follow the first of a row
		for i, m := range quoted.FindAllStringSubmatch(strings.Split(line, "|")[1], -1) {
			name := m[1]
			if i == 0 {
				parent = path.Dir(name)
			} else {
				name = path.Join(parent, name)
			}
			rows[name] = true
			if info, err := os.Stat("../" + name); err != nil || !info.IsDir() {
				t.Errorf("the layout has a row for %s, which is no folder", name)
			}
		}
	}
	seen := map[string]bool{}
	eachGoFile(t, func(file string, _ *token.FileSet, _ *ast.File) {
		dir := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(file)), "../")
		if seen[dir] {
			return
		}
		seen[dir] = true
		own, _, _ := strings.Cut(dir, "/internal")
		for _, whole := range []string{"examples", ".ci"} {
			if own == whole || strings.HasPrefix(own, whole+"/") {
				own = whole
			}
		}
		if !rows[own] && own != ".ci" {
			t.Errorf("the layout has no row for %s", own)
		}
	})
}

// TestMapsNameEveryFile holds the maps in the package comments of the estimators
// against their folders: each file has its place there, and none is named that has
// gone.
func TestMapsNameEveryFile(t *testing.T) {
	for _, dir := range []string{"fit", "bleed"} {
		doc, err := os.ReadFile(filepath.Join(dir, "doc.go"))
		if err != nil {
			t.Fatal(err)
		}
		named := map[string]bool{"doc.go": true}
		for _, name := range regexp.MustCompile(`[a-z_]+\.go`).FindAllString(string(doc), -1) {
			named[name] = true
			if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
				t.Errorf("the package comment of %s names %s, which is not there", dir, name)
			}
		}
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if name := filepath.Base(f); !named[name] && !strings.HasSuffix(name, "_test.go") {
				t.Errorf("the package comment of %s does not say where %s belongs", dir, name)
			}
		}
	}
}

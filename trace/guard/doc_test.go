package guard

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What is asked of a line is told in the package's words, each with its file.
func TestDocNamesEachCheck(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	check := regexp.MustCompile(`(?m)^func \(v \*view\) \w+\(.*\) (\[\]Breach|\(\w+ \[\]Breach\)) \{`)
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(file, "_test.go") || !check.Match(src) {
			continue
		}
		if n++; !strings.Contains(string(doc), file) {
			t.Errorf("doc.go says nothing of %s", file)
		}
	}
	if n < 20 {
		t.Errorf("%d files with a check", n)
	}
}

package trace_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// elsewhere is a program of another module that needs every door of the library:
// reading, building, writing.
const elsewhere = `package main

import (
	"context"
	"log"

	"loamline.example/export"
	_ "loamline.example/export/geojson"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
)

var (
	_ trace.Reading
	_ geo.Frame
	_ = export.WriteFiles
	_ = intake.Load
	_ = locate.Build
	_ = context.Background
)

func main() { log.SetFlags(0) }
`

// TestOtherModulesCanImport builds it against a copy on disk, as go.mod's replace does.
// That module paths hold a dot is what go commands ask of a path that can be imported.
func TestOtherModulesCanImport(t *testing.T) {
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	own, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	_, required, found := strings.Cut(string(own), "module loamline.example\n")
	if !found {
		t.Fatal("go.mod names another module")
	}
	sums, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for name, text := range map[string]string{
		"go.mod": "module elsewhere.example\n" + required +
			"\nrequire loamline.example v0.0.0\n\nreplace loamline.example => " + filepath.ToSlash(root) + "\n",
		"go.sum":  string(sums),
		"main.go": elsewhere,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	build := exec.Command("go", "build", "-mod=mod", "-o", filepath.Join(dir, "program"), ".")
	build.Dir = dir
	if said, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
}

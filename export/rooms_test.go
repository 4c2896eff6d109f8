package export

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// below lists the shared packages from the lowest up: each imports only what
// stands before it.
var below = []string{"schema", "literal", "style", "words", "station", "place", "layer", "member", "featuretable", "archive"}

// rooms are the formats.
var rooms = []string{"geojson", "kml", "gpkg", "gpx", "table", "page", "pdf", "postgis"}

// The product's own code imports downwards only: a format never another format,
// a shared package only those below it.
func TestFormatsDoNotImportEachOther(t *testing.T) {
	seen := map[string]bool{}
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		room := filepath.ToSlash(filepath.Dir(path))
		if room == "." || strings.HasPrefix(room, "internal/") || room == "webtest" {
			return nil
		}
		seen[room] = true
		from, isFormat := slices.Index(below, room), slices.Contains(rooms, room)
		if from < 0 && !isFormat {
			t.Errorf("%s is neither a format nor a shared package: add it to this test and to doc.go", room)
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, im := range f.Imports {
			name, _ := strconv.Unquote(im.Path.Value)
			other, ok := strings.CutPrefix(name, "loamline/export")
			other = strings.TrimPrefix(other, "/")
			if !ok || strings.HasPrefix(other, "internal/") && other != "internal/check" && other != "internal/sample" {
				continue
			}
			if to := slices.Index(below, other); to < 0 || !isFormat && to >= from {
				t.Errorf("%s imports %s", path, name)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, room := range slices.Concat(below, rooms) {
		if !seen[room] {
			t.Errorf("no package %s", room)
		}
	}
}

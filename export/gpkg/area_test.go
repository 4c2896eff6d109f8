package gpkg

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/geo"
)

// A system of another country is refused by the name of its area, and one that
// holds the job is taken.
func TestGeoPackageInAnotherCountrysGrid(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.gpkg")
	frame := func(code string) Options {
		f, err := geo.NewFrame(code, "", 0)
		if err != nil {
			t.Fatal(err)
		}
		return Options{Frame: f}
	}
	err := Write(path, sample.Sheet(), frame("EPSG:2154"))
	if err == nil || !strings.Contains(err.Error(), "EPSG:2154") || !strings.Contains(err.Error(), "France") {
		t.Errorf("got %v", err)
	}
	if _, err := os.Stat(path); !os.IsNotExist(err) {
		t.Errorf("a file is left: %v", err)
	}
	if err := Write(path, sample.Sheet(), frame("EPSG:32619")); err != nil {
		t.Error(err)
	}
}

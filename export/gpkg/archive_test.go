package gpkg

import (
	"path/filepath"
	"testing"

	"loamline/export/internal/check"
	"loamline/export/internal/sample"
	"loamline/trace"
)

// An archive that jobs came into and went from is still a sound GeoPackage.
func TestGeoPackageArchiveConforms(t *testing.T) {
	path := filepath.Join(t.TempDir(), "archive.gpkg")
	a, err := OpenArchive(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []*trace.Sheet{sample.EveryKind(), sample.OtherJob(), sample.Sheet()} {
		if _, err := a.Put(t.Context(), s); err != nil {
			t.Fatal(err)
		}
	}
	a.Close()
	check.ConformsToGeoPackage(t, path)
}

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

// An archive whose tables an older program made takes jobs with columns that it
// had not.
func TestArchiveOfFewerColumns(t *testing.T) {
	path := filepath.Join(t.TempDir(), "archive.gpkg")
	put := func(s *trace.Sheet) {
		t.Helper()
		a, err := OpenArchive(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		defer a.Close()
		if _, err := a.Put(t.Context(), s); err != nil {
			t.Fatal(err)
		}
	}
	put(sample.Sheet())
	db, err := openSQLite(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`ALTER TABLE crossing DROP COLUMN source`); err != nil {
		t.Fatal(err)
	}
	db.Close()
	put(sample.OtherJob())
	check.ConformsToGeoPackage(t, path)
}

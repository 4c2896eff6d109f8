package gpkg

import (
	"compress/gzip"
	"database/sql"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/trace"
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

// An archive of version 2 that cannot be written is read as it stands; one of
// version 1, which lacks its ledger, is refused.
func TestOldArchiveThatCannotBeWritten(t *testing.T) {
	for version, jobs := range map[int]int{1: 0, 2: 3} {
		path := filepath.Join(t.TempDir(), "archive.gpkg")
		f, err := os.Open(filepath.Join("..", "testdata", "old-archives", fmt.Sprintf("version-%d.gpkg.gz", version)))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		z, err := gzip.NewReader(f)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, whole, 0o666); err != nil {
			t.Fatal(err)
		}
		db, err := sql.Open("sqlite", "file:"+sqlitePath(path)+"?mode=ro")
		if err != nil {
			t.Fatal(err)
		}
		a := &archiveFile{db: db, path: path}
		defer a.Close()
		err = checkArchive(t.Context(), db)
		if jobs == 0 {
			if err == nil || !strings.Contains(err.Error(), "readonly") {
				t.Errorf("version %d: %v", version, err)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		got, err := a.Jobs(t.Context())
		if err != nil || len(got) != jobs {
			t.Errorf("%v, %v", got, err)
		}
		kept, err := a.Versions(t.Context(), "T-1 / quay")
		if err != nil || len(kept) != 2 || kept[0].Date != "2026-05-13" || !strings.HasSuffix(kept[0].KeptAt, "Z") {
			t.Errorf("%v, %v", kept, err)
		}
	}
}

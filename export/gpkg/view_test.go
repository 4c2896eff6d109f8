package gpkg

import (
	"database/sql"
	"path/filepath"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
)

// Every line has one symbol of a view and no more, and a figure at a limit is in the
// class above it: the conditions are those of SQL, so SQLite tells.
func TestViewClasses(t *testing.T) {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, q := range []string{
		`CREATE TABLE centerline (fid INTEGER PRIMARY KEY, geom BLOB, job TEXT, line TEXT, utility TEXT, part INTEGER, depth_min_m REAL, horizontal_95_max_m REAL)`,
		`INSERT INTO centerline (depth_min_m, horizontal_95_max_m) VALUES (0.499, 0.099), (0.5, 0.1), (1.5, 0.5), (2, 1), (NULL, NULL)`,
	} {
		if _, err := db.Exec(q); err != nil {
			t.Fatal(err)
		}
	}
	for _, v := range views {
		if _, err := db.Exec(v.sql()); err != nil {
			t.Fatal(err)
		}
		if n := len(v.symbols()); n != 5 {
			t.Fatalf("%s has %d symbols for 5 rows", v.name, n)
		}
		for i, s := range v.symbols() {
			var n, fid int
			if err := db.QueryRow(`SELECT COUNT(*), MAX(OGC_FID) FROM `+v.name+` WHERE `+v.filter(i)).Scan(&n, &fid); err != nil {
				t.Fatal(err)
			}
			if n != 1 || fid != i+1 {
				t.Errorf("%s: %q holds %d rows, the last is %d", v.name, s.label, n, fid)
			}
		}
	}
}

// GDAL opens the views as layers of lines with an extent, and both styles beside them.
func TestGDALReadsTheViews(t *testing.T) {
	check.NeedGDAL(t)
	path := filepath.Join(t.TempDir(), "job.gpkg")
	if err := Write(path, sample.Sheet(), Options{}); err != nil {
		t.Fatal(err)
	}
	want := check.GDALNumber(t, check.GDAL(t, path, "SELECT COUNT(*) AS n FROM centerline"), "n")
	if want == 0 {
		t.Fatal("the sample has no line")
	}
	for _, v := range views {
		if got := check.GDALNumber(t, check.GDAL(t, path, "SELECT COUNT(*) AS n FROM "+v.name+""), "n"); got != want {
			t.Errorf("%s has %v lines of %v", v.name, got, want)
		}
		if got := check.GDALNumber(t, check.GDAL(t, path, "SELECT COUNT(*) AS n FROM layer_styles WHERE f_table_name = '"+v.name+"' AND styleQML LIKE '%RuleRenderer%"+v.column+"%' AND styleSLD LIKE '%PropertyIsNull%"+v.column+"%'"), "n"); got != 1 {
			t.Errorf("%s has %v styles", v.name, got)
		}
		if got := check.GDALNumber(t, check.GDAL(t, path, "SELECT COUNT(*) AS n FROM gpkg_contents a JOIN gpkg_contents b ON b.table_name = 'centerline' AND a.min_x = b.min_x AND a.max_y = b.max_y AND a.srs_id = b.srs_id WHERE a.table_name = '"+v.name+"'"), "n"); got != 1 {
			t.Errorf("%s does not have the extent of its lines", v.name)
		}
	}
}

package intake

import (
	"database/sql"
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// streets is a layer of lines of 100 ft, 100 ft apart to the north and 1,000 ft to
// the east, in the job's system, and a service without a name, a valve and a main
// without geometry among them.
func streets(n int) string {
	var b strings.Builder
	b.WriteString(`{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::6424"}},"features":[`)
	for i := range n {
		x, y := 6480000+float64(i/200)*1000, 1840000+float64(i%200)*100
		fmt.Fprintf(&b, `{"type":"Feature","properties":{"asset":"w%d"},"geometry":{"type":"LineString","coordinates":[[%.0f,%.0f],[%.0f,%.0f]]}},`+"\n", i, x, y, x+100, y)
	}
	b.WriteString(`{"type":"Feature","properties":{"asset":null},"geometry":{"type":"MultiLineString","coordinates":[[[6490100,1845000],[6490100,1845040]],[[6490100,1845040],[6490160,1845040]]]}},
{"type":"Feature","properties":{"asset":"valve"},"geometry":{"type":"Point","coordinates":[6490100,1845000]}},
{"type":"Feature","properties":{"asset":"far valve"},"geometry":{"type":"Point","coordinates":[6480100,1840000]}},
{"type":"Feature","properties":{"asset":"drawn nowhere"},"geometry":null}]}`)
	return b.String()
}

// gpkgRead reads a layer for a job and says how many rows were fetched of it.
func gpkgRead(t *testing.T, path string, s trace.Source) (trace.Source, int) {
	t.Helper()
	readings, err := setting.Frame(s.Job)
	if err != nil {
		t.Fatal(err)
	}
	ref := ReferenceFile{File: layerFile(path), Utility: trace.Water, NameColumn: "asset"}
	l, err := newLayerReader(ref, readings.Epoch)
	if err != nil {
		t.Fatal(err)
	}
	db, y := gpkgOpen(t, path)
	if err := l.ownSystem(fmt.Sprintf("EPSG:%d", y.code)); err != nil {
		t.Fatal(err)
	}
	g := &gpkgReader{l: l, db: db, y: y}
	if err := g.read(jobReach(&s)); err != nil {
		t.Fatal(err)
	}
	// What the program itself makes of it.
	if err := addRecords(t.Context(), &s, ref); err != nil {
		t.Fatal(err)
	}
	if len(s.Records) != len(l.records) {
		t.Errorf("%d records, by the program %d", len(l.records), len(s.Records))
	}
	return s, g.rows
}

func gpkgOpen(t *testing.T, path string) (*sql.DB, gpkgLayer) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	layers, err := gpkgLayers(db)
	if err != nil || len(layers) != 1 {
		t.Fatalf("%v, %v", layers, err)
	}
	return db, layers[0]
}

// Of a city's GeoPackage what lies within reach of the readings is read, in whatever
// system it is and with or without the index that GDAL makes: the answer is the
// same, and the index is what it is found by.
func TestGeoPackageWithinReach(t *testing.T) {
	needGDAL(t)
	const n = 4000
	dir := t.TempDir()
	own := gdalLayer(t, filepath.Join(dir, "own.geojson"), streets(n), "-f", "GeoJSON", "-lco", "RFC7946=NO")
	job := func() trace.Source {
		return readingsAt([2]float64{6490000, 1845000}, [2]float64{6490500, 1845200})
	}
	for _, crs := range []string{"EPSG:6424", "EPSG:6318", "EPSG:6339"} { // feet, degrees, metres of another zone, all on NAD83(2011)
		files := map[string]string{}
		for _, index := range []string{"YES", "NO"} {
			files[index] = filepath.Join(t.TempDir(), "town.gpkg")
			if out, err := exec.Command("ogr2ogr", "-f", "GPKG", "-t_srs", crs, "-lco", "SPATIAL_INDEX="+index, "-nlt", "GEOMETRY", "-nln", "water", files[index], own).CombinedOutput(); err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
		}
		with, fetched := gpkgRead(t, files["YES"], job())
		without, all := gpkgRead(t, files["NO"], job())
		if fetched > 100 || all != n+4 {
			t.Errorf("%s: %d rows are fetched by the index, %d without one", crs, fetched, all)
		}
		if fmt.Sprint(with.Records, with.Problems) != fmt.Sprint(without.Records, without.Problems) {
			t.Errorf("%s: with the index %d records and %v, without %d and %v", crs, len(with.Records), with.Problems, len(without.Records), without.Problems)
		}
		if got := fmt.Sprint(with.Problems); !strings.Contains(got, "1 features with Point") || !strings.Contains(got, "1 features with no geometry") {
			t.Errorf("%s: told is %s", crs, got)
		}
		// Held against the figures themselves: 250 m are 820 ft.
		got := map[string]bool{}
		for _, r := range with.Records {
			got[r.Name] = true
		}
		for i := range n {
			x, y := 6480000+float64(i/200)*1000, 1840000+float64(i%200)*100
			within := x+100 >= 6490000-820 && x <= 6490500+820 && y >= 1845000-820 && y <= 1845200+820
			beyond := x+100 < 6490000-1500 || x > 6490500+1500 || y < 1845000-1500 || y > 1845200+1500
			if name := fmt.Sprint("w", i); within && !got[name] || beyond && got[name] {
				t.Errorf("%s: %s at %.0f, %.0f: read %v", crs, name, x, y, got[name])
			}
		}
		if name := fmt.Sprint("water ", n+1); !got[name] {
			t.Errorf("%s: the service is not called %q, as where the layer is read whole", crs, name)
		}
		// A job with nothing of the layer near has it whole, to be told why.
		for _, path := range files {
			if far, _ := gpkgRead(t, path, readingsAt([2]float64{6490000, 1640000})); len(far.Records) != n+2 || !strings.Contains(fmt.Sprint(far.Problems), "2 features with Point") {
				t.Errorf("%s: %d lines for a job far off, %v", crs, len(far.Records), far.Problems)
			}
		}
		gpkgIndexIsUsed(t, files["YES"], job())
		staleIndex(t, files["YES"], job(), with)
	}
}

// gpkgIndexIsUsed asks SQLite how it looks for what is near.
func gpkgIndexIsUsed(t *testing.T, path string, s trace.Source) {
	t.Helper()
	db, y := gpkgOpen(t, path)
	frame, err := geo.NewFrame(fmt.Sprintf("EPSG:%d", y.code), "", 2026)
	if err != nil {
		t.Fatal(err)
	}
	near, ok := jobReach(&s).in(frame)
	query, args := (&gpkgReader{db: db, y: y}).querySQL(&near, true)
	rows, err := db.Query("EXPLAIN QUERY PLAN "+query, args...)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	defer rows.Close()
	plan := ""
	for rows.Next() {
		var id, parent, unused int
		var detail string
		if err := rows.Scan(&id, &parent, &unused, &detail); err != nil {
			t.Fatal(err)
		}
		plan += detail + "\n"
	}
	// The four bounds go into the R-tree, and the rows are found by their numbers.
	if !strings.Contains(plan, "SCAN rtree_water_geom VIRTUAL TABLE INDEX 2:") || !strings.Contains(plan, "SEARCH t USING INTEGER PRIMARY KEY (rowid=?)") {
		t.Errorf("plan:\n%s", plan)
	}
}

// An index that a program left behind is not gone by: it would hide lines.
func staleIndex(t *testing.T, path string, s, want trace.Source) {
	t.Helper()
	db, _ := gpkgOpen(t, path)
	if _, err := db.Exec(`DELETE FROM rtree_water_geom WHERE id IN (SELECT fid FROM water WHERE asset = ?)`, want.Records[0].Name); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	got, _ := gpkgRead(t, path, s)
	if fmt.Sprint(got.Records) != fmt.Sprint(want.Records) {
		t.Errorf("%d records by an index without %s, want %d", len(got.Records), want.Records[0].Name, len(want.Records))
	}
}

// A view has no numbers and no index of its own, and is read all the same.
func TestGeoPackageView(t *testing.T) {
	needGDAL(t)
	path := gdalLayer(t, filepath.Join(t.TempDir(), "town.gpkg"), streets(200), "-f", "GPKG", "-nlt", "GEOMETRY", "-nln", "water")
	db, _ := gpkgOpen(t, path)
	for _, q := range []string{`CREATE VIEW mains AS SELECT * FROM water`, `UPDATE gpkg_contents SET table_name = 'mains'`, `UPDATE gpkg_geometry_columns SET table_name = 'mains'`} {
		if _, err := db.Exec(q); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	s := readingsAt([2]float64{6480000, 1845000})
	if got, all := gpkgRead(t, path, s); all != 204 || len(got.Records) == 0 || len(got.Records) > 40 {
		t.Errorf("%d records of %d rows", len(got.Records), all)
	}
}

package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
)

// The analyst's way: readings in State Plane feet on NAD83(2011), records from a
// Shapefile in the same system, and a GeoPackage, tables and a PostGIS database out in
// the same system. The readings lie on the record's own figures, so that the drawn
// line must lie on them too, to 1 cm, as GDAL and PostGIS read it; nothing on the way
// may have been shifted by the frames, which lie more than a metre apart.
func TestStatePlaneInAndOut(t *testing.T) {
	for _, tool := range []string{"ogr2ogr", "ogrinfo"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skip(tool + " is not installed (Debian: gdal-bin): no layer is made or read with GDAL")
		}
	}
	const east, north, step = 6480000.0, 1840000.0, 4.0 // US survey feet
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	var table strings.Builder
	table.WriteString("line,east_usft,north_usft,fix,h_acc_m,depth_m\n")
	for i := range 60 {
		fmt.Fprintf(&table, "W-1,%.4f,%.4f,4,0.01,1.10\n", east+step*float64(i), north)
	}
	layer := fmt.Sprintf(`{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::6424"}},"features":[
{"type":"Feature","properties":{"asset":"main 12"},"geometry":{"type":"LineString","coordinates":[[%.1f,%.1f],[%.1f,%.1f]]}},
{"type":"Feature","properties":{"asset":"service 3"},"geometry":{"type":"LineString","coordinates":[[%.1f,%.1f],[%.1f,%.1f]]}}]}`,
		east-50, north, east+300, north, east+100, north-30, east+100, north+30)
	job := `crs = "EPSG:6424"
datum = "NAD83(2011)"
date = 2026-05-12
units = "us"
[output]
crs = "EPSG:6424"
[[line]]
name = "W-1"
utility = "water"
[[reference]]
file = "town.shp"
name_column = "asset"
utility = "water"
[[reference]]
file = "kerbs.shp"
role = "background"
`
	kerb := fmt.Sprintf(`{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::6424"}},"features":[
{"type":"Feature","properties":{"name":"kerb north"},"geometry":{"type":"LineString","coordinates":[[%.1f,%.1f],[%.1f,%.1f]]}}]}`, east, north+8, east+200, north+8)
	for name, text := range map[string]string{"walk.csv": table.String(), "layer.geojson": layer, "kerb.geojson": kerb, "walk.toml": job} {
		if err := os.WriteFile(at(name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for to, from := range map[string]string{"town.shp": "layer.geojson", "kerbs.shp": "kerb.geojson"} {
		if out, err := exec.Command("ogr2ogr", "-f", "ESRI Shapefile", at(to), at(from)).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
	}
	address := ""
	if os.Getenv("LOAMLINE_TEST_POSTGIS") != "" {
		address = ownDatabase(t)
	}
	args := []string{"loamline", "map", at("walk.csv"), "--job", at("walk.toml"), "--out", at("out"), "--write", "gpkg,csv,dxf,landxml,shp,html"}
	if address != "" {
		args = append(args, "--archive", address)
	}
	var out, errs bytes.Buffer
	if status := run(context.Background(), args, streams{in: strings.NewReader(""), out: &out, err: &errs}); status != statusOK {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	if !strings.Contains(out.String(), "service 3") || strings.Contains(out.String(), "kerb") {
		t.Errorf("the service that crosses is not told, or the kerb is:\n%s", out.String())
	}
	if page, err := os.ReadFile(at("out/walk.html")); err != nil || !strings.Contains(string(page), `"ground":[{"name":"kerb north"`) {
		t.Errorf("the kerb is not on the page: %v", err)
	}
	const cmFt = 0.01 / 0.3048006096012192
	onLine := func(what string, x, y float64) {
		if math.Abs(y-north) > cmFt || x < east-cmFt || x > east+step*59+cmFt {
			t.Errorf("%s: %.4f, %.4f lies %.4f m off the record", what, x, y, math.Abs(y-north)*0.3048006096012192)
		}
	}
	// GDAL reads the GeoPackage: its system and its figures.
	info, err := exec.Command("ogrinfo", "-ro", "-al", at("out/walk.gpkg"), "centerline").CombinedOutput()
	if err != nil || !strings.Contains(string(info), `ID["EPSG",6424]`) {
		t.Fatalf("%v\n%s", err, info)
	}
	wkt := regexp.MustCompile(`LINESTRING \(([^)]*)\)`).FindStringSubmatch(string(info))
	if wkt == nil {
		t.Fatalf("no line in\n%s", info)
	}
	checkWKT := func(what, positions string) {
		for _, p := range strings.Split(positions, ",") {
			f := strings.Fields(p)
			x, err1 := strconv.ParseFloat(f[0], 64)
			y, err2 := strconv.ParseFloat(f[1], 64)
			if err1 != nil || err2 != nil {
				t.Fatalf("%s: %q", what, p)
			}
			onLine(what, x, y)
		}
	}
	checkWKT("GeoPackage", wkt[1])
	// The Shapefile and the drawing have it too.
	for what, args := range map[string][]string{"Shapefile": {"/vsizip/" + at("out/walk-shp.zip") + "/walk/centerline.shp"},
		"drawing": {at("out/walk.dxf"), "-where", "Layer = 'WATER-CENTERLINE'"}} {
		info, err := exec.Command("ogrinfo", append([]string{"-ro", "-al"}, args...)...).CombinedOutput()
		line := regexp.MustCompile(`LINESTRING (?:Z )?\(([^)]*)\)`).FindStringSubmatch(string(info))
		if err != nil || line == nil {
			t.Fatalf("%s: %v\n%s", what, err, info)
		}
		checkWKT(what, line[1])
	}
	// LandXML has it north first.
	design, err := os.ReadFile(at("out/walk-landxml.xml"))
	list := regexp.MustCompile(`(?s)<PlanFeatures name="centerline".*?<PntList2D>([^<]*)<`).FindSubmatch(design)
	if err != nil || list == nil || !strings.Contains(string(design), `epsgCode="6424"`) || !strings.Contains(string(design), `linearUnit="USSurveyFoot"`) {
		t.Fatalf("LandXML: %v\n%.2000s", err, design)
	}
	both := strings.Fields(string(list[1]))
	for i := 0; i+1 < len(both); i += 2 {
		checkWKT("LandXML", both[i+1]+" "+both[i])
	}

	text, err := os.ReadFile(at("out/walk-lines.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil || len(rows) < 3 {
		t.Fatalf("%v, %d rows", err, len(rows))
	}
	n := len(rows[0])
	if got := rows[0][n-3:]; got[0] != "output_crs" || got[1] != "output_east_usft" || got[2] != "output_north_usft" {
		t.Fatalf("columns %q", got)
	}
	for _, r := range rows[1:] {
		x, _ := strconv.ParseFloat(r[n-2], 64)
		y, _ := strconv.ParseFloat(r[n-1], 64)
		onLine("table", x, y)
	}

	if address == "" {
		return
	}
	conn, err := pgx.Connect(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.Background())
	var positions string
	var metres float64
	if err := conn.QueryRow(t.Context(), `SELECT regexp_replace(ST_AsText(geom_6424), '^LINESTRING\s*\(|\)$', '', 'g'),
	 ST_Distance(ST_Transform(ST_StartPoint(geom), 6424), ST_StartPoint(geom_6424)) * 0.3048006096012192 FROM loamline.centerline`).Scan(&positions, &metres); err != nil {
		t.Fatal(err)
	}
	checkWKT("PostGIS", positions)
	// What the README warns of: the database itself takes both frames for the same.
	if metres < 0.5 {
		t.Errorf("PostGIS reprojects to within %.2f m; the warning about it would be wrong", metres)
	}
}

// A system that is not meant for the place of the job is refused by name.
func TestOutputSystemOfAnotherPlace(t *testing.T) {
	dir := t.TempDir()
	csv := filepath.Join(dir, "walk.csv")
	if err := os.WriteFile(csv, []byte("line,lat,lon,fix\nW-1,44.1,-71.5,4\nW-1,44.1,-71.4999,4\nW-1,44.1,-71.4998,4\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for flag, want := range map[string]string{"--output-crs": "--output-crs: this system (NAD83 / California", "--gpkg-crs": "--gpkg-crs: this system (NAD83 / California"} {
		var out, errs bytes.Buffer
		status := run(context.Background(), []string{"loamline", "map", csv, "--out", filepath.Join(dir, "out"), "--write", "gpkg", flag, "EPSG:2229"}, streams{in: strings.NewReader(""), out: &out, err: &errs})
		if status == statusOK || !strings.Contains(errs.String(), want) || !strings.Contains(errs.String(), "latitude 44.1000") {
			t.Errorf("%s: status %d: %s", flag, status, errs.String())
		}
		if left, _ := filepath.Glob(filepath.Join(dir, "out", "*")); len(left) > 0 {
			t.Errorf("%s: left %q", flag, left)
		}
	}
}

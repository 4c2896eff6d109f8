package intake

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// townLayer is a layer in NAD83(2011) / California zone 5 (ftUS): a main in two
// pieces, with heights, a service, a valve and a tank.
const townLayer = `{"type":"FeatureCollection","name":"town","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::6424"}},"features":[
{"type":"Feature","properties":{"asset":"Hauptstraße 12","utility":"gas","depth_ft":3.5},"geometry":{"type":"MultiLineString","coordinates":[[[6480000,1840000,310],[6480100,1840050,311]],[[6480100,1840050,311],[6480200,1840050,312]]]}},
{"type":"Feature","properties":{"asset":"service 3","utility":"Gas","depth_ft":null},"geometry":{"type":"LineString","coordinates":[[6480100,1840050,311],[6480100,1840090,311]]}}]}`

const townGround = `{"type":"FeatureCollection","name":"ground","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::6424"}},"features":[
{"type":"Feature","properties":{"asset":"pump house"},"geometry":{"type":"Polygon","coordinates":[[[6480000,1840100],[6480030,1840100],[6480030,1840130],[6480000,1840100]]]}}]}`

const townValves = `{"type":"FeatureCollection","name":"valves","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::6424"}},"features":[
{"type":"Feature","properties":{"asset":"valve 1"},"geometry":{"type":"Point","coordinates":[6480100,1840050]}}]}`

func needGDAL(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		t.Skip("ogr2ogr is not installed (Debian: gdal-bin): no layer is made with GDAL")
	}
}

// gdalLayer has GDAL write a layer in another format.
func gdalLayer(t *testing.T, to, geojson string, args ...string) string {
	t.Helper()
	from := filepath.Join(t.TempDir(), "from.geojson")
	if err := os.WriteFile(from, []byte(geojson), 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("ogr2ogr", append(args, to, from)...).CombinedOutput(); err != nil {
		t.Fatalf("ogr2ogr: %v\n%s", err, out)
	}
	return to
}

func layerFile(path string) File {
	open := func(p string) File {
		info, err := os.Stat(p)
		size := int64(0)
		if err == nil {
			size = info.Size()
		}
		return File{Name: filepath.Base(p), Size: size, Open: func() (io.ReadCloser, error) { return os.Open(p) }}
	}
	f := open(path)
	f.Beside = func(ending string) (File, bool) {
		stem := strings.TrimSuffix(path, filepath.Ext(path))
		if strings.HasPrefix(ending, "-") {
			stem = path
		}
		_, err := os.Stat(stem + ending)
		return open(stem + ending), err == nil
	}
	return f
}

func surveyedJob() trace.Source {
	s := trace.Source{Job: trace.DefaultJob()}
	s.Job.CRS, s.Job.Datum, s.Job.Epoch = "EPSG:6424", "NAD83(2011)", 2026
	return s
}

// checkTown holds what came out of a layer against the figures that went in, by
// the job's own frame: the same figures must come to the same place to 0.1 mm.
func checkTown(t *testing.T, what string, s trace.Source) {
	t.Helper()
	frame, err := setting.Frame(s.Job)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][][2]float64{"Hauptstraße 12": {{6480000, 1840000}, {6480100, 1840050}, {6480100, 1840050}, {6480200, 1840050}}, "service 3": {{6480100, 1840050}, {6480100, 1840090}}}
	got := map[string][]geo.LonLat{}
	for _, r := range s.Records {
		got[r.Name] = append(got[r.Name], r.Path...)
		if r.Utility != trace.Gas || r.DoubtM != 0 || trace.Known(r.DepthM[0]) != (r.Name != "service 3") {
			t.Errorf("%s: %+v", what, r)
		}
	}
	if len(s.Records) != 3 || len(s.Problems) != 0 || len(s.Inputs) == 0 {
		t.Fatalf("%s: %d records, %d inputs, %+v", what, len(s.Records), len(s.Inputs), s.Problems)
	}
	for name, path := range want {
		if len(got[name]) != len(path) {
			t.Errorf("%s: %s has %d positions", what, name, len(got[name]))
			continue
		}
		for i, p := range path {
			at, err := frame.Unproject(p[0]*geo.USSurveyFootM, p[1]*geo.USSurveyFootM)
			if err != nil {
				t.Fatal(err)
			}
			if off := geo.NewPlane(at).XY(got[name][i]).Norm(); off > 1e-4 {
				t.Errorf("%s: %s lies %.4f m off", what, name, off)
			}
		}
	}
}

// The same layer, written by GDAL in each format, with heights and in pieces.
func TestLayersThatGDALWrote(t *testing.T) {
	needGDAL(t)
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	gpkg := gdalLayer(t, at("town.gpkg"), townLayer, "-f", "GPKG", "-nln", "gas mains")
	gdalLayer(t, gpkg, townGround, "-f", "GPKG", "-update", "-nln", "houses")
	gdalLayer(t, gpkg, townValves, "-f", "GPKG", "-update", "-nln", "valves")
	both := gdalLayer(t, at("both.gpkg"), townLayer, "-f", "GPKG", "-nln", "a")
	gdalLayer(t, both, townLayer, "-f", "GPKG", "-update", "-nln", "b")
	shp := gdalLayer(t, at("town.shp"), townLayer, "-f", "ESRI Shapefile", "-lco", "ENCODING=UTF-8")
	latin := gdalLayer(t, at("latin.shp"), townLayer, "-f", "ESRI Shapefile", "-lco", "ENCODING=ISO-8859-1")
	zipped := gdalLayer(t, at("town.shz"), townLayer, "-f", "ESRI Shapefile", "-lco", "ENCODING=UTF-8")
	plain := at("town.geojson")
	if err := os.WriteFile(plain, []byte(townLayer), 0o644); err != nil {
		t.Fatal(err)
	}
	for what, ref := range map[string]ReferenceFile{
		"GeoJSON with a crs member": {File: layerFile(plain)},
		"the only layer of lines":   {File: layerFile(gpkg)},
		"a layer by its name":       {File: layerFile(gpkg), Layer: "Gas Mains"},
		"one of two":                {File: layerFile(both), Layer: "b"},
		"Shapefile":                 {File: layerFile(shp)},
		"Shapefile in Latin-1":      {File: layerFile(latin)},
		"Shapefile in a zip":        {File: layerFile(zipped)},
		"with the datum beside it":  {File: layerFile(shp), Datum: "NAD83(2011)"},
		"by a stated system":        {File: layerFile(shp), CRS: "EPSG:2229"},
	} {
		s := surveyedJob()
		ref.Utility, ref.NameColumn = trace.UnknownKind, "Asset"
		if err := addRecords(t.Context(), &s, ref); err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		if strings.HasPrefix(what, "Shapefile in L") != (s.Inputs[0].Name == "latin.shp" || len(s.Inputs) > 1 && s.Inputs[len(s.Inputs)-1].Name == "latin.shp") {
			t.Errorf("%s: inputs %+v", what, s.Inputs)
		}
		checkTown(t, what, s)
	}

	// Areas are background, and nothing else where lines are wanted.
	s := surveyedJob()
	if err := addRecords(t.Context(), &s, ReferenceFile{File: layerFile(gpkg), Layer: "houses", Background: true, NameColumn: "asset"}); err != nil ||
		len(s.Records) != 1 || !s.Records[0].Background || len(s.Records[0].Path) != 4 || s.Records[0].Name != "pump house" {
		t.Errorf("background: %v, %+v", err, s.Records)
	}

	cut := func(path string, n int64) string {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(t.TempDir(), filepath.Base(path))
		if err := os.WriteFile(to, b[:int64(len(b))-n], 0o644); err != nil {
			t.Fatal(err)
		}
		for _, e := range []string{".dbf", ".prj", ".cpg"} {
			if more, err := os.ReadFile(strings.TrimSuffix(path, ".shp") + e); err == nil && strings.HasSuffix(path, ".shp") {
				if err := os.WriteFile(strings.TrimSuffix(to, ".shp")+e, more, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
		return to
	}
	bare := filepath.Join(t.TempDir(), "bare.shp")
	if b, err := os.ReadFile(shp); err != nil || os.WriteFile(bare, b, 0o644) != nil {
		t.Fatal(err)
	}
	open := gdalLayer(t, at("open.gpkg"), townLayer, "-f", "GPKG")
	if err := os.WriteFile(open+"-wal", []byte("pages"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name       string
		ref        ReferenceFile
		cause, cue string
	}{
		{"a layer that is not there", ReferenceFile{File: layerFile(gpkg), Layer: "water"}, "no such layer", "gas mains, houses, valves"},
		{"which of two", ReferenceFile{File: layerFile(both)}, "2 layers", "a, b"},
		{"areas for lines", ReferenceFile{File: layerFile(gpkg), Layer: "houses"}, "holds areas", `role = "background"`},
		{"areas for lines in a Shapefile", ReferenceFile{File: layerFile(gdalLayer(t, at("houses.shp"), townGround, "-f", "ESRI Shapefile"))}, "holds areas", `role = "background"`},
		{"areas for lines in GeoJSON", ReferenceFile{File: File{Name: "h.geojson", Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(townGround)), nil }}}, "1 areas and no line", `role = "background"`},
		{"a column that is not there", ReferenceFile{File: layerFile(gpkg), Layer: "gas mains", NameColumn: "nmae"}, "no feature of the layer has this column", "asset, depth_ft"},
		{"a Shapefile without its system", ReferenceFile{File: layerFile(bare)}, "no .prj", `crs = "EPSG:`},
		{"a Shapefile cut short", ReferenceFile{File: layerFile(cut(shp, 20))}, "shape 2: the file ends in the middle of a record", "save the layer again"},
		{"a GeoPackage cut short", ReferenceFile{File: layerFile(cut(both, 60_000)), Layer: "a"}, "cannot be read", "save the layer again"},
		{"a zip cut short", ReferenceFile{File: layerFile(cut(zipped, 200))}, "zip cannot be read", "pack"},
		{"a GeoPackage that is being edited", ReferenceFile{File: layerFile(open)}, "another program has this GeoPackage open", "close it"},
		{"a layer of a GeoJSON", ReferenceFile{File: layerFile(plain), Layer: "x"}, "has no layers", "take layer out"},
	} {
		s := surveyedJob()
		err := addRecords(t.Context(), &s, tt.ref)
		var p *trace.Problem
		if !errors.As(err, &p) || !strings.Contains(p.Cause, tt.cause) || !strings.Contains(p.Hint, tt.cue) || p.File != tt.ref.Name {
			t.Errorf("%s: %v", tt.name, err)
		}
		if len(s.Records) > 0 {
			t.Errorf("%s: %d records all the same", tt.name, len(s.Records))
		}
	}

	// Points are no lines, and are told.
	s = surveyedJob()
	if err := addRecords(t.Context(), &s, ReferenceFile{File: layerFile(gpkg), Layer: "valves"}); err != nil || len(s.Records) != 0 || len(s.Problems) != 1 || !s.Problems[0].Warn {
		t.Errorf("valves: %v, %+v, %+v", err, s.Records, s.Problems)
	}
}

// A line without length is a place: a valve drawn as a line is no neighbour.
func TestPlacesAreNoLines(t *testing.T) {
	records, problems, err := ReadRecords(strings.NewReader(`{"type":"LineString","coordinates":[[-71.5,44.1],[-71.5,44.1]]}`), "valve.geojson", trace.Water)
	if err != nil || len(records) != 0 || len(problems) != 1 || !strings.Contains(problems[0].Cause, "a line without length") {
		t.Errorf("%v, %+v, %+v", err, records, problems)
	}
}

func townDatabase(t *testing.T) (address string) {
	t.Helper()
	address = os.Getenv("LOAMLINE_TEST_POSTGIS")
	if address == "" {
		t.Skip("LOAMLINE_TEST_POSTGIS is not set: nothing is read from a database")
	}
	conn, err := pgx.Connect(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.Background())
	for _, q := range []string{`DROP SCHEMA IF EXISTS town CASCADE`, `CREATE SCHEMA town`,
		`CREATE TABLE town.gas (id serial, asset text, utility text, depth_ft double precision, shape geometry(MultiLineStringZ, 6424))`,
		`INSERT INTO town.gas (asset, utility, depth_ft, shape) VALUES ('service 3', 'gas', NULL, 'SRID=6424;MULTILINESTRING Z((6480100 1840050 311,6480100 1840090 311))'),
		 ('Hauptstraße 12', 'gas', 3.5, 'SRID=6424;MULTILINESTRING Z((6480000 1840000 310,6480100 1840050 311),(6480100 1840050 311,6480200 1840050 312))')`,
		`CREATE TABLE town.houses (shape geometry(Polygon, 6424))`} {
		if _, err := conn.Exec(t.Context(), q); err != nil {
			t.Fatal(err)
		}
	}
	return address
}

func TestTableOfADatabase(t *testing.T) {
	address := townDatabase(t)
	ref := func(table string) ReferenceFile {
		r := trace.Reference{File: address, Table: table, Utility: trace.UnknownKind, NameColumn: "asset"}
		return ReferenceOf(r, nil)
	}
	s := surveyedJob()
	if err := addRecords(t.Context(), &s, ref("town.gas")); err != nil {
		t.Fatal(err)
	}
	checkTown(t, "town.gas", s)
	again := surveyedJob()
	if err := addRecords(t.Context(), &again, ref("gas")); err != nil || again.Inputs[0].SHA256 != s.Inputs[0].SHA256 {
		t.Errorf("the same table again: %v, %+v", err, again.Inputs)
	}
	for _, tt := range []struct{ table, cause, hint string }{
		{"town.water", "no such table", "town.gas, town.houses"},
		{"town.houses", "holds areas", "background"},
	} {
		s := surveyedJob()
		err := addRecords(t.Context(), &s, ref(tt.table))
		var p *trace.Problem
		if !errors.As(err, &p) || !strings.Contains(p.Cause, tt.cause) || !strings.Contains(p.Hint, tt.hint) {
			t.Errorf("%s: %v", tt.table, err)
		}
	}
}

// A database that goes away in the middle leaves an error that says so, and no
// half of a layer. The address is never repeated.
func TestDatabaseThatBreaksOff(t *testing.T) {
	address := townDatabase(t)
	conn, err := pgx.Connect(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.Background())
	if _, err := conn.Exec(t.Context(), `INSERT INTO town.gas (asset, shape) SELECT 'g' || n, ST_Force3D(ST_Multi(ST_SetSRID(ST_MakeLine(ST_MakePoint(6480000 + n, 1840000), ST_MakePoint(6480000 + n, 1840100)), 6424))) FROM generate_series(1, 20000) n`); err != nil {
		t.Fatal(err)
	}
	for _, after := range []int64{0, 40_000, 300_000} {
		r := trace.Reference{File: breakingOff(t, address, after), Table: "town.gas"}
		s := surveyedJob()
		err := addRecords(t.Context(), &s, ReferenceOf(r, nil))
		var p *trace.Problem
		if !errors.As(err, &p) || after > 100_000 && !strings.Contains(p.Cause, "the connection to the database broke off after ") || len(s.Records)+len(s.Inputs) > 0 {
			t.Errorf("after %d bytes: %v, %d records", after, err, len(s.Records))
		}
		if err != nil && strings.Contains(err.Error(), "secret") {
			t.Errorf("the password is told: %v", err)
		}
	}
}

// breakingOff is the database's address through a wire that ends after so many
// bytes from it.
func breakingOff(t *testing.T, address string, after int64) string {
	t.Helper()
	c, err := pgx.ParseConfig(address)
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	network, to := pgxNetwork(c)
	go func() {
		for {
			near, err := l.Accept()
			if err != nil {
				return
			}
			go func() {
				defer near.Close()
				far, err := net.Dial(network, to)
				if err != nil {
					return
				}
				defer far.Close()
				go io.Copy(far, near)
				io.CopyN(near, far, after)
			}()
		}
	}()
	return fmt.Sprintf("postgres://%s:secret@%s/%s?sslmode=disable", c.User, l.Addr(), c.Database)
}

func pgxNetwork(c *pgx.ConnConfig) (network, address string) {
	if strings.HasPrefix(c.Host, "/") {
		return "unix", fmt.Sprintf("%s/.s.PGSQL.%d", c.Host, c.Port)
	}
	return "tcp", net.JoinHostPort(c.Host, fmt.Sprint(c.Port))
}

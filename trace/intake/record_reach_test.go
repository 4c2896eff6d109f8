package intake

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// readingsAt is the surveyed job with readings at some places of its grid, in US
// survey feet.
func readingsAt(feet ...[2]float64) trace.Source {
	s := surveyedJob()
	for _, f := range feet {
		r := trace.NewReading()
		r.Projected = [2]float64{f[0] * geo.USSurveyFootM, f[1] * geo.USSurveyFootM}
		s.Readings = append(s.Readings, r)
	}
	return s
}

// Of a city's table, which is in degrees of another frame and of an index, only
// what lies within reach of the readings is read; a change far off changes nothing.
func TestTableWithinReach(t *testing.T) {
	address := townDatabase(t)
	conn, err := pgx.Connect(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.Background())
	exec := func(q string) {
		t.Helper()
		if _, err := conn.Exec(t.Context(), q); err != nil {
			t.Fatal(err)
		}
	}
	// Lines of 100 ft, 100 ft apart to the north and 1,000 ft to the east.
	exec(`CREATE TABLE town.water AS SELECT 'w' || n AS asset, ST_Transform(ST_SetSRID(ST_MakeLine(ST_MakePoint(x, y), ST_MakePoint(x + 100, y)), 6424), 4269)::geometry(LineString, 4269) AS shape
	 FROM (SELECT n, 6480000 + (n / 200) * 1000 AS x, 1840000 + (n % 200) * 100 AS y FROM generate_series(0, 19999) n) g`)
	exec(`CREATE INDEX ON town.water USING gist (shape)`)
	exec(`ANALYZE town.water`)
	ref := ReferenceOf(trace.Reference{File: address, Table: "town.water", Utility: trace.Water, NameColumn: "asset"}, nil)
	read := func(s trace.Source) trace.Source {
		t.Helper()
		if err := addRecords(t.Context(), &s, ref); err != nil {
			t.Fatal(err)
		}
		return s
	}

	near := read(readingsAt([2]float64{6490000, 1845000}, [2]float64{6490500, 1845200}))
	got := map[string]bool{}
	for _, r := range near.Records {
		got[r.Name] = true
	}
	// 250 m are 820 ft: the lines from 6490000 on, and those that begin at 6491000.
	for n := range 20000 {
		x, y := 6480000+float64(n/200)*1000, 1840000+float64(n%200)*100
		within := x+100 >= 6490000-820 && x <= 6490500+820 && y >= 1845000-820 && y <= 1845200+820
		beyond := x+100 < 6490000-1500 || x > 6490500+1500 || y < 1845000-1500 || y > 1845200+1500
		if name := fmt.Sprint("w", n); within && !got[name] || beyond && got[name] {
			t.Errorf("%s at %.0f, %.0f: read %v", name, x, y, got[name])
		}
	}
	if len(near.Records) > 100 {
		t.Errorf("%d of 20000 lines are read", len(near.Records))
	}

	exec(`UPDATE town.water SET asset = 'renamed' WHERE asset = 'w0'`)
	again := read(readingsAt([2]float64{6490000, 1845000}, [2]float64{6490500, 1845200}))
	if again.Inputs[0].SHA256 != near.Inputs[0].SHA256 {
		t.Error("a change 3 km away changes what was read")
	}

	// A job with nothing of the layer near has it whole, to be told why.
	if far := read(readingsAt([2]float64{6490000, 1640000})); len(far.Records) != 20000 {
		t.Errorf("%d lines for a job far off", len(far.Records))
	}
	indexIsUsed(t, conn, readingsAt([2]float64{6490000, 1845000}))
}

// indexIsUsed asks the database how it would look for what is near.
func indexIsUsed(t *testing.T, conn *pgx.Conn, s trace.Source) {
	t.Helper()
	readings, err := setting.Frame(s.Job)
	if err != nil {
		t.Fatal(err)
	}
	l, err := newLayerReader(ReferenceFile{CRS: "EPSG:4269"}, 2026)
	if err != nil {
		t.Fatal(err)
	}
	tx, err := conn.Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback(context.Background())
	y := tableLayer{schema: "town", table: "water", column: "shape", srid: 4269}
	where, args, err := (&databaseReader{l: l, within: reachOf(&s, readings)}).nearSQL(t.Context(), tx, y)
	if err != nil || where == "" {
		t.Fatalf("%q, %v", where, err)
	}
	var plan json.RawMessage
	if err := tx.QueryRow(t.Context(), `EXPLAIN (FORMAT JSON) SELECT 1`+y.from()+where, args...).Scan(&plan); err != nil || !strings.Contains(string(plan), "water_shape_idx") {
		t.Errorf("%v\n%s", err, plan)
	}
}

// There is no box where it would be wrong or of no use.
func TestReachWithoutABox(t *testing.T) {
	frame, err := geo.NewFrame("", "", 0)
	if err != nil {
		t.Fatal(err)
	}
	at := func(lon, lat float64) trace.Source {
		r := trace.NewReading()
		r.Geographic = geo.LonLat{LonDeg: lon, LatDeg: lat}
		return trace.Source{Readings: []trace.Reading{r}}
	}
	for _, tt := range []struct {
		name string
		s    trace.Source
		want bool
	}{
		{"a place", at(-71.5, 44.1), true},
		{"no reading", trace.Source{}, false},
		{"what receivers write without a position", at(0, 0), false},
		{"the antimeridian", at(179.9999, -17), false},
		{"a pole", at(10, 89.9), false},
	} {
		if got := reachOf(&tt.s, frame); got.ok != tt.want {
			t.Errorf("%s: %+v", tt.name, got)
		}
	}
}

package intake

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"loamline.example/trace"
)

// Files that are no readings table, or not yet: one error that says what and
// where, and what to do.
func TestFilesThatAreNoTable(t *testing.T) {
	columnsNamed := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "c%d,", i)
		}
		return b.String() + "lat,lon\n1,2\n"
	}
	tests := []struct {
		name, text string
		columns    map[string]string
		row, col   int
		cause      string // or hint
	}{
		{"empty", "", nil, 0, 0, "the file is empty"},
		{"byte-order mark only", "\ufeff", nil, 0, 0, "the file is empty"},
		{"comments only", "# a\n\n# b", nil, 0, 0, "all its lines start with #"},
		{"no position", "line,depth_m\nA,1\n", nil, 1, 0, `no column lat and lon (or east_m and north_m); the file has "line", "depth_m"`},
		{"no longitude", "# x\nlat,depth_m\n1,1\n", nil, 2, 0, "no column lon;"},
		{"no latitude", "lon,depth_m\n1,1\n", nil, 1, 0, "no column lat;"},
		{"no northing", "east_ft,lat\n1,1\n", nil, 1, 0, "no column lon;"},
		{"no easting", "north_m\n1,1\n", nil, 1, 0, "no column east_m;"},
		{"header in a comment", "#lat,lon\n1,2\n3,4\n", nil, 2, 0, "take its # away"},
		{"titles above the header", "Job 4711\n\nlat,lon,depth_m\n1,2,3\n", nil, 1, 0, "line 3 looks like the header"},
		{"same header twice", "lat,lon,depth_m,Depth_M\n1,2,3,4\n", nil, 1, 17, "columns 3 and 4 have the same header"},
		{"two units of one field", "lat,lon,depth_m,depth_ft\n1,2,3,4\n", nil, 1, 17, `and "depth_m" both give depth`},
		{"two kinds of signal", "lat,lon,signal,signal_db\n1,2,3,4\n", nil, 1, 16, `and "signal" both give signal`},
		{"mapped and own", "lat,lon,depth_m,Depth (in)\n1,2,3,4\n", map[string]string{"depth_in": "Depth (in)"}, 1, 17, `and "depth_m" both give depth`},
		{"map names no header", "lat,lon,Depth (in)\n1,2,3\n", map[string]string{"depth_in": "Depht (in)"}, 1, 0, `the nearest header is "Depth (in)"`},
		{"map is far off", "lat,lon\n1,2\n", map[string]string{"note": "Remarks"}, 1, 0, `the file has "lat", "lon"`},
		{"map gives a column twice", "lat,lon,D\n1,2,3\n", map[string]string{"depth_m": "D", "note": "d"}, 1, 9, "to both depth_m and note"},
		{"zip", "PK\x03\x04rest", nil, 1, 0, "a spreadsheet or a zip archive"},
		{"UTF-16", "\xff\xfel\x00a\x00t\x00", nil, 1, 0, "UTF-16"},
		{"zero bytes", "lat,lon\x00\n1,2\n", nil, 1, 0, "binary data"},
		{"random bytes", "\x89\xd3,\xf1\xe2\xba\xa7\x93\xc0\xc1\xf5,\xe9\n\x80\x81", nil, 1, 0, "binary data"},
		{"header in another encoding", "lat,lon,a note on the north side of the stra\xdfe\n1,2,3\n", nil, 1, 9, "not UTF-8"},
		{"quote never closed", "lat,\"lon\n1,2\n", nil, 1, 5, "never closed"},
		{"text behind a quote", "lat,\"lon\"x\n1,2\n", nil, 1, 9, "after a closing quote"},
		{"two thousand columns", columnsNamed(2000), nil, 1, 0, "more than 1024 columns"},
		{"a million columns", columnsNamed(1_000_000), nil, 1, 0, "does not end within 1 MB"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ReadTable(strings.NewReader(tt.text), "walk.csv", 0, TableOptions{Columns: tt.columns})
			var p *trace.Problem
			if !errors.As(err, &p) {
				t.Fatalf("error %v", err)
			}
			if p.File != "walk.csv" || p.Row != tt.row || p.Column != tt.col || !strings.Contains(p.Cause+" | "+p.Hint, tt.cause) || p.Hint == "" {
				t.Errorf("%v\n%+v", p, *p)
			}
			if len(p.Error()) > 600 {
				t.Errorf("%d bytes of message", len(p.Error()))
			}
		})
	}
}

func TestColumnMap(t *testing.T) {
	text := "Nr;Breite;Länge;Depth (in);Überdeckung;Remarks\n7;44,1;-71,5;34;x;\"a;b\"\n"
	columns := map[string]string{"point": "Nr", "lat": "breite", "lon": " LÄNGE ", "depth_in": "Depth (in)", "note": "Remarks"}
	table := readText(t, text, TableOptions{Columns: columns})
	r := table.Readings[0]
	if r.Point != "7" || r.Geographic.LatDeg != 44.1 || r.Geographic.LonDeg != -71.5 || math.Abs(r.DepthM-0.8636) > 1e-12 || r.Note != "a;b" {
		t.Errorf("%+v", r)
	}
	if len(table.Problems) != 1 || !table.Problems[0].Warn || table.Problems[0].Value != "Überdeckung" || table.Problems[0].Column != 28 {
		t.Errorf("problems %+v", table.Problems)
	}
	want := []TableColumn{{"Nr", "point", 1, 1, 1}, {"Breite", "lat", 1, 1, 4}, {"Länge", "lon", 1, 1, 11},
		{"Depth (in)", "depth_in", 1, 1, 17}, {"Überdeckung", "", 0, 1, 28}, {"Remarks", "note", 1, 1, 40}}
	if fmt.Sprint(table.Columns) != fmt.Sprint(want) {
		t.Errorf("columns %v", table.Columns)
	}
	// One map serves files with and without the instrument's own headers.
	if table := readText(t, "point,lat,lon,depth_in,note\n7,44.1,-71.5,34,a\n", TableOptions{Columns: columns}); math.Abs(table.Readings[0].DepthM-0.8636) > 1e-12 {
		t.Errorf("%+v", table.Readings)
	}
}

func TestUnknownColumns(t *testing.T) {
	table := readText(t, "lat,lon,depth,Depht_m,weather,\n1,2,3,4,5,\n", TableOptions{})
	var hints []string
	for _, p := range table.Problems {
		if !p.Warn || p.Row != 1 || p.Column == 0 {
			t.Errorf("%+v", p)
		}
		hints = append(hints, p.Hint)
	}
	for i, want := range []string{"its unit is missing: name it depth_cm, depth_ft, depth_in, depth_m", `meant to be "depth_m"`, "give it one of loamline's names"} {
		if i >= len(hints) || !strings.Contains(hints[i], want) {
			t.Errorf("hints %q", hints)
		}
	}
	if len(hints) != 3 || len(table.Readings) != 1 {
		t.Errorf("%d hints, %d readings", len(hints), len(table.Readings))
	}
	many := readText(t, "lat,lon"+manyHeaders(200)+"\n1,2"+strings.Repeat(",", 200)+"\n", TableOptions{})
	last := many.Problems[len(many.Problems)-1]
	if len(many.Problems) != maxUnknownColumns+1 || !strings.HasPrefix(last.Cause, "150 more columns") {
		t.Errorf("%d problems, last %+v", len(many.Problems), last)
	}
}

func manyHeaders(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, ",x%d", i)
	}
	return b.String()
}

func TestHeaderOnly(t *testing.T) {
	for _, text := range []string{"lat,lon", "lat,lon\n", "lat;lon\r\n\r\n", "lat\tlon\n# end\n"} {
		if table := readText(t, text, TableOptions{}); table.Rows != 0 || len(table.Columns) != 2 {
			t.Errorf("%q: %+v", text, table)
		}
	}
}

func TestTimesInsteadOfPositions(t *testing.T) {
	opt := TableOptions{WithoutPosition: true}
	if table := readText(t, "time,depth_m\n2026-05-12T09:30:00Z,1\n", opt); len(table.Readings) != 1 || trace.Known(table.Readings[0].Geographic.LatDeg) {
		t.Errorf("%+v", table)
	}
	_, err := ReadTable(strings.NewReader("point,depth_m\n1,1\n"), "walk.csv", 0, opt)
	if err == nil || !strings.Contains(err.Error(), "neither a position nor a column time") {
		t.Errorf("%v", err)
	}
}

// The separator is the one that gives known columns, not the most frequent
// character.
func TestSeparator(t *testing.T) {
	known := TableOptions{}.isColumn
	for header, want := range map[string]byte{
		"lat": ',', "lat,lon": ',', "lat;lon": ';', "lat\tlon": '\t', "a;b;c": ';', "a,b;c": ',',
		"lat;lon;note (a, b, c, d, e)": ';', "\"lat\";\"lon\";\"x,y,z\"": ';', "lat\tlon\ta;b;c;d": '\t', "lat,lon,a 6\" b;c": ',',
	} {
		if got := separator(header, known); got != want {
			t.Errorf("%q: %q, want %q", header, got, want)
		}
	}
}

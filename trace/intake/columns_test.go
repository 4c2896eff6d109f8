package intake

import (
	"math"
	"reflect"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Every column and unit suffix of the readings table, with the value that a
// number of 12.5 must become. The international foot is 0.3048 m, the US
// survey foot 1200/3937 m (24 FR 5348, 1959), the inch 25.4 mm; a level of
// 20 lg(ratio) decibels is a field strength's (IEC 60027-3).
func TestColumnUnits(t *testing.T) {
	number := func(get func(*trace.Reading) float64, want float64) func(*testing.T, *trace.Reading) {
		return func(t *testing.T, r *trace.Reading) {
			if got := get(r); math.Abs(got-want) > 1e-12*math.Abs(want) {
				t.Errorf("12.5 became %.15g, want %.15g", got, want)
			}
		}
	}
	lat := func(r *trace.Reading) float64 { return r.Geographic.LatDeg }
	lon := func(r *trace.Reading) float64 { return r.Geographic.LonDeg }
	east := func(r *trace.Reading) float64 { return r.Projected[0] }
	north := func(r *trace.Reading) float64 { return r.Projected[1] }
	elev := func(r *trace.Reading) float64 { return r.ElevM }
	hAcc := func(r *trace.Reading) float64 { return r.HAccM }
	depth := func(r *trace.Reading) float64 { return r.DepthM }
	lift := func(r *trace.Reading) float64 { return r.RaiseM }
	null := func(r *trace.Reading) float64 { return r.NullOffsetM }
	signal := func(r *trace.Reading) float64 { return r.Signal }
	want := map[string]func(*testing.T, *trace.Reading){
		"lat": number(lat, 12.5), "lon": number(lon, 12.5),
		"east_m": number(east, 12.5), "east_ft": number(east, 3.81), "east_usft": number(east, 12.5*1200/3937),
		"north_m": number(north, 12.5), "north_ft": number(north, 3.81), "north_usft": number(north, 12.5*1200/3937),
		"elev_m": number(elev, 12.5), "elev_ft": number(elev, 3.81),
		"hdop":    number(func(r *trace.Reading) float64 { return r.HDOP }, 12.5),
		"h_acc_m": number(hAcc, 12.5), "h_acc_ft": number(hAcc, 3.81), "h_acc_cm": number(hAcc, 0.125),
		"depth_m": number(depth, 12.5), "depth_ft": number(depth, 3.81), "depth_in": number(depth, 0.3175), "depth_cm": number(depth, 0.125),
		"current_ma":  number(func(r *trace.Reading) float64 { return r.CurrentMA }, 12.5),
		"signal":      number(signal, 12.5),
		"signal_db":   number(signal, 4.216965034285822), // 10^0.625
		"signal_low":  number(func(r *trace.Reading) float64 { return r.SignalLow }, 12.5),
		"signal_high": number(func(r *trace.Reading) float64 { return r.SignalHigh }, 12.5),
		"lift_m":      number(lift, 12.5), "lift_ft": number(lift, 3.81), "lift_in": number(lift, 0.3175),
		"raise_m": number(lift, 12.5), "raise_ft": number(lift, 3.81), "raise_in": number(lift, 0.3175),
		"null_offset_m": number(null, 12.5), "null_offset_ft": number(null, 3.81), "null_offset_in": number(null, 0.3175),
		"freq_hz": number(func(r *trace.Reading) float64 { return r.FreqHz }, 12.5), "freq_khz": number(func(r *trace.Reading) float64 { return r.FreqHz }, 12500),
	}
	words := map[string]struct {
		text string
		ok   func(*trace.Reading) bool
	}{
		"line":  {"W-1", func(r *trace.Reading) bool { return r.Line == "W-1" }},
		"point": {"A1", func(r *trace.Reading) bool { return r.Point == "A1" }},
		"note":  {"by the oak", func(r *trace.Reading) bool { return r.Note == "by the oak" }},
		"time": {"2026-05-12T07:30:00.5-04:00", func(r *trace.Reading) bool {
			return r.Time.UTC().Format("15:04:05.0") == "11:30:00.5" && r.Time.Day() == 12
		}},
		"fix":     {"5", func(r *trace.Reading) bool { return r.Fix == trace.FixFloat }},
		"phase":   {"Against", func(r *trace.Reading) bool { return r.Phase == trace.PhaseAgainst }},
		"hookup":  {"CLAMP", func(r *trace.Reading) bool { return r.Hookup == trace.HookupClamp }},
		"exposed": {"Yes", func(r *trace.Reading) bool { return r.Exposed }},
	}
	// RFC 3339, 5.8: the leap second at the end of 1990, in UTC and in Pacific time.
	for _, text := range []string{"1990-12-31T23:59:60Z", "1990-12-31T15:59:60-08:00"} {
		if r := readOne(t, "time", text); !r.Time.Equal(time.Date(1991, 1, 1, 0, 0, 0, 0, time.UTC)) {
			t.Errorf("%s became %v", text, r.Time)
		}
	}
	if len(want)+len(words) != len(ColumnNames()) {
		t.Errorf("the test knows %d columns, the reader %d", len(want)+len(words), len(ColumnNames()))
	}
	for _, name := range ColumnNames() {
		t.Run(name, func(t *testing.T) {
			text, check := "12.5", want[name]
			if w, ok := words[name]; ok {
				text = w.text
				check = func(t *testing.T, r *trace.Reading) {
					if !w.ok(r) {
						t.Errorf("%q became %+v", text, *r)
					}
				}
			}
			check(t, readOne(t, name, text))
		})
	}
}

// readOne reads a table of one row with one more column than a position.
func readOne(t *testing.T, column, text string) *trace.Reading {
	t.Helper()
	head, row := "lat,lon,"+column, "1,2,"+text
	switch column {
	case "lat":
		head, row = "lat,lon", text+",2"
	case "lon":
		head, row = "lat,lon", "1,"+text
	case "east_m", "east_ft", "east_usft":
		head, row = column+",north_m", text+",7"
	case "north_m", "north_ft", "north_usft":
		head, row = "east_m,"+column, "7,"+text
	}
	table := readText(t, head+"\n"+row+"\n", TableOptions{})
	if len(table.Readings) != 1 || len(table.Problems) != 0 {
		t.Fatalf("%d readings, problems %v", len(table.Readings), table.Problems)
	}
	return &table.Readings[0]
}

// Values that no column may take. What follows from each is the second half of
// the promise: the row stands without the value, or it is unreadable.
func TestValuesThatCannotBeRead(t *testing.T) {
	tests := []struct {
		column, text string
		rowStands    bool
	}{
		{"depth_m", "NaN", true}, {"depth_m", "Inf", true}, {"depth_m", "-inf", true}, {"depth_m", "1e999", true},
		{"depth_m", "0x1p3", true}, {"depth_m", "1_000", true}, {"depth_m", "---", true}, {"depth_m", "1.2 m", true},
		{"depth_m", "\"0,85\"", true}, {"depth_m", "−1", true}, {"depth_m", "1.2.3", true}, {"freq_khz", "1e308", true},
		{"signal_db", "1e5", true}, {"h_acc_m", "0", true}, {"h_acc_m", "-0.02", true}, {"hdop", "0", true},
		{"signal_low", "-3", true}, {"freq_hz", "0", true},
		{"time", "12.05.2026 09:30", true}, {"time", "2026-05-12T09:30:00", true}, {"time", "2026-13-12T09:30:00Z", true},
		{"fix", "RTK", true}, {"fix", "9", true}, {"fix", "-1", true}, {"fix", "4.0", true},
		{"phase", "left", true}, {"hookup", "wire", true}, {"exposed", "maybe", true},
		{"lift_m", "half", false}, {"raise_m", "-0.5", false},
		{"lat", "N44.1", false}, {"lat", "NaN", false}, {"lon", "71°30'08\"W", false}, {"lat", "+Inf", false},
	}
	for _, tt := range tests {
		t.Run(tt.column+" "+tt.text, func(t *testing.T) {
			head, row := "note,"+tt.column+",lat,lon", "ä,"+tt.text+",1,2"
			switch tt.column {
			case "lat":
				head, row = "note,lat,lon", "ä,"+tt.text+",2"
			case "lon":
				head, row = "note,lon,lat", "ä,"+tt.text+",2"
			}
			table := readText(t, head+"\n"+row+"\n", TableOptions{})
			if len(table.Problems) != 1 {
				t.Fatalf("problems: %v", table.Problems)
			}
			p := table.Problems[0]
			if p.File != "walk.csv" || p.Row != 2 || p.Column < 3 || p.Column > 4 || p.Field != tt.column || p.Value == "" || p.Cause == "" || p.Hint == "" {
				t.Errorf("problem does not lead to the cell: %+v", p)
			}
			if p.Warn != tt.rowStands || len(table.Readings) == 1 != tt.rowStands {
				t.Errorf("row stands: %v, want %v (%v)", len(table.Readings) == 1, tt.rowStands, &p)
			}
		})
	}
}

func TestEmptyCellsAreUnknown(t *testing.T) {
	head, row := "lat", ""
	for _, name := range []string{"lon", "elev_m", "hdop", "h_acc_m", "depth_m", "current_ma", "signal", "signal_low", "signal_high",
		"raise_m", "null_offset_m", "freq_hz", "time", "fix", "phase", "hookup", "exposed", "line", "point", "note"} {
		head += "," + name
		row += ","
		if name == "point" {
			row += "7"
		}
		row += " "
	}
	table := readText(t, head+"\n"+row+"\n", TableOptions{})
	if len(table.Readings) != 1 || len(table.Problems) != 0 {
		t.Fatalf("%d readings, problems %v", len(table.Readings), table.Problems)
	}
	r, want := table.Readings[0], trace.NewReading()
	for _, v := range []float64{r.Geographic.LatDeg, r.Geographic.LonDeg, r.ElevM, r.HDOP, r.HAccM, r.DepthM, r.CurrentMA, r.Signal,
		r.SignalLow, r.SignalHigh, r.RaiseM, r.NullOffsetM, r.FreqHz} {
		if trace.Known(v) {
			t.Errorf("an empty cell became %g", v)
		}
	}
	if r.Fix != want.Fix || r.Phase != want.Phase || r.Hookup != "" || r.Exposed || !r.Time.IsZero() || r.Line != "walk" || r.Point != "7" || r.Note != "" {
		t.Errorf("an empty cell became something: %+v", r)
	}
}

// No number of a reading is anything before a column gives it: one that begins at 0
// would be a value that nobody read.
func TestNoNumberBeginsAtZero(t *testing.T) {
	r := reflect.ValueOf(trace.NewReading())
	for i := range r.NumField() {
		if v := r.Field(i); v.Kind() == reflect.Float64 && trace.Known(v.Float()) {
			t.Errorf("%s begins at %g: give it trace.Unknown in NewReading", r.Type().Field(i).Name, v.Float())
		}
	}
}

// A latitude past 90 whose longitude could be one is for the cleaning to
// explain, so it must get there.
func TestSwappedPositionIsReadable(t *testing.T) {
	table := readText(t, "lat,lon\n-102.00048,41.10028\n41.10028,-102.00048\n", TableOptions{})
	if len(table.Readings) != 2 || table.Readings[0].Geographic != (geo.LonLat{LonDeg: 41.10028, LatDeg: -102.00048}) {
		t.Errorf("%+v", table)
	}
}

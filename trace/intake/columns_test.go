package intake

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"reflect"
	"slices"
	"strings"
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
	for name := range want {
		if !slices.Contains(ColumnNames(), name) {
			t.Errorf("%s is no longer read", name)
		}
	}
	for _, name := range ColumnNames() {
		t.Run(name, func(t *testing.T) {
			text, check := "12.5", want[name]
			if _, word := words[name]; check == nil && !word {
				switch c := columns[name]; {
				case c.text != nil:
					text, check = "by the oak", textAlone(name, "by the oak")
				case c.number:
					check = func(*testing.T, *trace.Reading) {} // TestNumbersGoToFieldsOfTheirOwn has every number
				default:
					t.Fatal("no case above says what it is read as")
				}
			}
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
// textAlone says that a column's text went to its own field and to no other.
func textAlone(name, text string) func(*testing.T, *trace.Reading) {
	return func(t *testing.T, r *trace.Reading) {
		for _, f := range Fields() {
			if f.text == nil {
				continue
			}
			if got := *f.text(r); (got == text) != (f.Name == name) {
				t.Errorf("%s: %q went to %s", name, text, f.Name)
			}
		}
	}
}

// What a cell of a field says is read again as what it was.
func TestCellsAreReadAgain(t *testing.T) {
	texts := map[string]string{"fix": "5", "time": "2026-05-12T07:30:00.5-04:00", "phase": "against", "hookup": "clamp", "exposed": "yes"}
	for _, f := range FieldsBeyond() {
		c := columns[f.Metric()]
		r := trace.NewReading()
		if got := f.Cell(&r); got != "" {
			t.Errorf("%s: %q before anything was read", f.Name, got)
		}
		text := cmp.Or(texts[f.Name], "12.5")
		if c.text != nil {
			*c.text(&r) = text
		} else if err := c.set(&r, text); err != nil {
			t.Fatal(f.Name, err)
		}
		if got := f.Cell(&r); got != text {
			t.Errorf("%s: %q became %q", f.Name, text, got)
		}
	}
}

func TestValuesThatCannotBeRead(t *testing.T) {
	tests := []struct {
		column, text string
		rowStands    bool
	}{
		{"depth_m", "Inf", true}, {"depth_m", "-inf", true}, {"depth_m", "1e999", true},
		{"depth_m", "0x1p3", true}, {"depth_m", "1_000", true}, {"depth_m", "1.2 m", true},
		{"depth_m", "\"0,85\"", true}, {"depth_m", "−1", true}, {"depth_m", "1.2.3", true}, {"freq_khz", "1e308", true},
		{"signal_db", "1e5", true}, {"h_acc_m", "0", true}, {"h_acc_m", "-0.02", true}, {"hdop", "0", true},
		{"signal_low", "-3", true}, {"freq_hz", "0", true},
		{"time", "12.05.2026 09:30", true}, {"time", "2026-05-12T09:30:00", true}, {"time", "2026-13-12T09:30:00Z", true},
		{"fix", "RTK", true}, {"fix", "9", true}, {"fix", "-1", true}, {"fix", "4.5", true},
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
	head, row := "lat,lon,point", ",,7"
	measured := map[string]bool{"lat": true, "lon": true, "point": true, "east": true, "north": true} // one position alone
	for _, name := range ColumnNames() {
		if f := columns[name].field; !measured[f] {
			measured[f] = true
			head += "," + name
			row += ", "
		}
	}
	table := readText(t, head+"\n"+row+"\n", TableOptions{})
	if len(table.Readings) != 1 || len(table.Problems) != 0 {
		t.Fatalf("%d readings, problems %v", len(table.Readings), table.Problems)
	}
	r, want := table.Readings[0], trace.NewReading()
	for where, v := range numbersOf(r) {
		if trace.Known(v) {
			t.Errorf("an empty cell became %g in %s", v, where)
		}
	}
	if r.Fix != want.Fix || r.Phase != want.Phase || r.Hookup != "" || r.Exposed || !r.Time.IsZero() || r.Line != "walk" || r.Point != "7" || r.Note != "" {
		t.Errorf("an empty cell became something: %+v", r)
	}
}

// numbersOf are the numbers of a reading by their fields' names.
func numbersOf(r trace.Reading) map[string]float64 {
	out := map[string]float64{}
	var visit func(name string, v reflect.Value)
	visit = func(name string, v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			out[name] = v.Float()
		case reflect.Struct:
			for i := range v.NumField() {
				visit(name+"."+v.Type().Field(i).Name, v.Field(i))
			}
		case reflect.Array:
			for i := range v.Len() {
				visit(fmt.Sprintf("%s[%d]", name, i), v.Index(i))
			}
		}
	}
	visit("", reflect.ValueOf(r))
	return out
}

// No number of a reading is anything before a column gives it: one that begins at 0
// would be a value that nobody read.
func TestNoNumberBeginsAtZero(t *testing.T) {
	numbers := numbersOf(trace.NewReading())
	if len(numbers) < 15 {
		t.Fatalf("only %v are found", numbers)
	}
	for where, v := range numbers {
		if trace.Known(v) {
			t.Errorf("%s begins at %g", where, v)
		}
	}
}

// Each column of numbers changes one number of the reading, which no column of
// another field changes, and by its unit: what TestColumnUnits says of those that were
// there when it was written, of every one that is added.
func TestNumbersGoToFieldsOfTheirOwn(t *testing.T) {
	in := map[string]float64{"": 1, "m": 1, "ft": 0.3048, "usft": 1200.0 / 3937, "in": 0.0254, "cm": 0.01, "ma": 1, "hz": 1, "khz": 1000, "db": 1}
	given := map[string]string{} // the field that gives a number, by where it goes
	for _, f := range Fields() {
		for _, unit := range f.units() {
			c := columns[f.In(unit)]
			if !c.number {
				continue
			}
			if in[unit] == 0 {
				t.Errorf("%s: what its unit is in metric ones should stand in this test, in the map above", c.name)
				continue
			}
			r := trace.NewReading()
			if err := c.set(&r, "12.5"); err != nil {
				t.Fatal(c.name, err)
			}
			changed := 0
			for where, v := range numbersOf(r) {
				if !trace.Known(v) {
					continue
				}
				changed++
				if by := given[where]; by != "" && by != c.field {
					t.Errorf("%s and %s both give %s", by, c.field, where)
				}
				given[where] = c.field
				if want := 12.5 * in[unit]; f.number != nil && math.Abs(v-want) > 1e-12*want {
					t.Errorf("%s: 12.5 became %g in %s, want %g", c.name, v, where, want)
				}
			}
			if changed != 1 {
				t.Errorf("%s changes %d numbers", c.name, changed)
			}
		}
	}
}

// A field says all that people are shown of it: where the meaning of a column is
// chosen, and in a blank table.
func TestEveryFieldHasWords(t *testing.T) {
	for _, f := range Fields() {
		if f.Choice == "" || !slices.Contains(Groups(), f.Group) {
			t.Errorf("%s: a choice %q under %q, which is none of %q", f.Name, f.Choice, f.Group, Groups())
		}
		if f.Words == "" && f.measures == "" && f.Name != "east" && f.Name != "north" { // lat and lon stand for these
			t.Errorf("%s: a blank table would not say what to write there", f.Name)
		}
		for _, unit := range f.Units {
			if f.unitWords(unit) == "" {
				t.Errorf("%s: how the unit %q is called is not stated", f.Name, unit)
			}
		}
	}
}

// Whoever prepares a table reads the README: it has a row with each field and each of
// its units.
func TestReadmeHasEveryColumn(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rows, _ := strings.Cut(string(text), "## The readings table\n")
	rows, _, _ = strings.Cut(rows, "\n## ")
	for _, f := range Fields() {
		row := ""
		for _, line := range strings.Split(rows, "\n") {
			cells := strings.Split(line, "|")
			if len(cells) > 1 && (strings.Contains(cells[1], "`"+f.In(f.units()[0])+"`") || strings.Contains(line, "`"+f.Name+"_*`")) {
				row = line
			}
		}
		if row == "" {
			t.Errorf("the README's readings table has no row for %s", f.In(f.units()[0]))
		}
		for _, unit := range f.Units {
			if !strings.Contains(row, "_"+unit+"`") && !strings.Contains(row, "`_"+unit+" ") && !strings.Contains(row, "`"+f.Name+"_*`") {
				t.Errorf("the README's readings table does not name %s", f.In(unit))
			}
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

// Qualities and times in forms that have one meaning are read; others are told.
func TestFormsOfFixAndTime(t *testing.T) {
	for text, want := range map[string]trace.Fix{"4.0": 4, "4.": 4, "5.00": 5, "RTK Fixed": 4, "rtk_fixed": 4, "RTK Float": 5, "Float": 5, "DGPS": 2, "Autonomous": 1,
		"Fixed": trace.FixUnknown, "RTK": trace.FixUnknown, "Fix": trace.FixUnknown, "4.5": trace.FixUnknown, "40": trace.FixUnknown, "10.0": trace.FixUnknown, "": trace.FixUnknown} {
		r := trace.NewReading()
		if err := setFix(&r, text); r.Fix != want || (err == nil) != (want != trace.FixUnknown) {
			t.Errorf("fix %q: %v, %v", text, r.Fix, err)
		}
	}
	want := time.Date(2026, 5, 12, 9, 30, 0, 0, time.UTC)
	for _, text := range []string{"2026-05-12T09:30:00+0000", "2026-05-12T09:30:00+00", "2026-05-12 09:30:00 UTC", "2026-05-12T04:30:00-0500", "2026-05-12 04:30:00 -05:00", "2026-05-12T09:30:00.000 Z", "2026-05-12 09:30:00utc"} {
		r := trace.NewReading()
		if err := setTime(&r, text); err != nil || !r.Time.Equal(want) {
			t.Errorf("%s: %v, %v", text, r.Time, err)
		}
	}
	for _, text := range []string{"2026-05-12T09:30:00", "2026-05-12 09:30", "12.05.2026 09:30:00Z", "2026-05-12T09:30:00 EST", "UTC", ""} {
		r := trace.NewReading()
		if err := setTime(&r, text); err == nil {
			t.Errorf("%q is read as %v", text, r.Time)
		}
	}
}

// A mark for none is as good as an empty cell; a place needs its figure.
func TestMarksForNone(t *testing.T) {
	table := readText(t, "lat,lon,depth_m,exposed,lift_m,hookup\n1,2,N/A,-,--,NaN\n1,2,1,n/a,-,none\n-,2,1,,,\n", TableOptions{})
	if len(table.Readings) != 2 || table.Unreadable != 1 || trace.Known(table.Readings[0].DepthM) || table.Columns[2].Filled != 1 {
		t.Errorf("%+v", table)
	}
	warned := 0
	for _, p := range table.Problems {
		if strings.Contains(p.Cause, "say that there is no value, and none has one") {
			warned++
		} else if p.Warn {
			t.Errorf("%+v", p)
		}
	}
	if warned != 1 { // hookup
		t.Errorf("%d columns without a value are told", warned)
	}
}

package table

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
)

func TestCSVGoldens(t *testing.T) {
	check.Golden(t, "sample-line.csv", check.Write(t, sample.Sheet(), Lines))
	check.Golden(t, "sample-stakeout.csv", check.Write(t, sample.Sheet(), StakeOut))
	check.Golden(t, "sample-readings.csv", check.Write(t, sample.Sheet(), Readings))
}

func TestLineCSVTellsDoubt(t *testing.T) {
	s := sample.Sheet()
	n, doubted := 0, 0
	for _, r := range check.CSVRows(t, check.Write(t, s, Lines)) {
		n++
		if !strings.Contains(r["words"], "expose to verify") {
			t.Errorf("a depth without its words: %v", r)
		}
		if r["line"] == "W-1" && r["bleed_over"] == "strong" {
			doubted++
			if !strings.HasPrefix(r["words"], "bleed-over strongly suspected") {
				t.Errorf("words %q", r["words"])
			}
		}
	}
	want := 0
	for _, l := range s.Lines {
		for _, p := range l.Centerline.Parts {
			want += len(p.Vertices)
		}
	}
	if n != want || doubted < 3 {
		t.Errorf("%d rows of %d, %d in doubt", n, want, doubted)
	}
}

// Every point that is measured from something has a distance, and none in doubt
// has a depth that looks sure.
func TestStakeOutCSV(t *testing.T) {
	s := sample.Sheet()
	s.Job.CRS = "EPSG:26919"
	tied, doubted := 0, 0
	for _, r := range check.CSVRows(t, check.Write(t, s, StakeOut)) {
		if r["tie_1"] != "" {
			tied++
			if r["tie_1_m"] == "" || r["ties"] == "" {
				t.Errorf("a tie without its distance: %v", r)
			}
		}
		if r["north"] == "" || r["east"] == "" || r["crs"] != "EPSG:26919" || r["unit"] != "m" {
			t.Errorf("no grid figures: %v", r)
		}
		if strings.HasPrefix(r["words"], "bleed-over strongly") {
			doubted++
		}
	}
	if tied < 10 || doubted < 2 {
		t.Errorf("%d tied, %d in doubt", tied, doubted)
	}
}

// The fates add up to the rows read, also of rows that could not be read.
func TestReadingsCSVAddsUp(t *testing.T) {
	s := sample.Sheet()
	s.Problems = append(s.Problems,
		trace.Problem{File: "lantern-row.csv", Row: 70, Field: "lat", Cause: "this is not a number"},
		trace.Problem{File: "lantern-row.csv", Row: 70, Field: "lon", Cause: "this is not a number"})
	got := map[string]int{}
	for _, r := range check.CSVRows(t, check.Write(t, s, Readings)) {
		got[r["status"]]++
		if r["status"] == "unreadable" && (r["row"] != "70" || !strings.Contains(r["reason"], "not a number")) {
			t.Errorf("unreadable row %v", r)
		}
	}
	c := s.Counts
	if got["used"] != c.Used || got["set_aside"] != c.SetAside || got["check"] != c.Check || got["exposed"] != c.Exposed || got["unreadable"] != 1 {
		t.Errorf("got %v, want %+v", got, c)
	}
}

// What is written is read in again as the same readings.
func TestReadingsCSVIsAReadingsTable(t *testing.T) {
	s := sample.Sheet()
	r := &s.Lines[0].Readings[2]
	r.HDOP, r.Signal, r.SignalLow, r.SignalHigh, r.Phase = 0.7, 81.5, 80, 57.25, trace.PhaseAgainst
	r.NullOffsetM, r.ElevM, r.Note = -0.04, 210.125, "by the \"old\" pump, gate 3"
	table, err := intake.ReadTable(bytes.NewReader(check.Write(t, s, Readings)), "again.csv", 0, intake.TableOptions{})
	if err != nil {
		t.Fatal(err)
	}
	i := 0
	for _, l := range s.Lines {
		for _, want := range l.Readings {
			got := table.Readings[i]
			i++
			if got.Line != want.Line || got.Point != want.Point || got.Note != want.Note || got.Fix != want.Fix ||
				got.Phase != want.Phase || got.Hookup != want.Hookup || got.Exposed != want.Exposed {
				t.Fatalf("row %d: %+v\nwant %+v", i+1, got, want)
			}
			for name, v := range map[string][2]float64{
				"lat": {got.Geographic.LatDeg, want.Geographic.LatDeg}, "lon": {got.Geographic.LonDeg, want.Geographic.LonDeg},
				"depth": {got.DepthM, want.DepthM}, "current": {got.CurrentMA, want.CurrentMA}, "raise": {got.RaiseM, want.RaiseM},
				"null": {got.NullOffsetM, want.NullOffsetM}, "elev": {got.ElevM, want.ElevM}, "hdop": {got.HDOP, want.HDOP},
				"signal": {got.Signal, want.Signal}, "low": {got.SignalLow, want.SignalLow}, "high": {got.SignalHigh, want.SignalHigh},
				"acc": {got.HAccM, want.HAccM}, "freq": {got.FreqHz, want.FreqHz},
			} {
				if trace.Known(v[0]) != trace.Known(v[1]) || math.Abs(v[0]-v[1]) > 0.0006 {
					t.Errorf("row %d, %s: %v, want %v", i+1, name, v[0], v[1])
				}
			}
		}
	}
	if i != len(table.Readings) {
		t.Errorf("%d readings, want %d", len(table.Readings), i)
	}
}

// Every column of a readings table is written again, so that none is lost on the way.
func TestReadingsCSVLosesNoColumn(t *testing.T) {
	text := map[string]string{"lat": "44.1", "lon": "-71.5", "fix": "5", "time": "2026-05-12T07:30:00Z", "phase": "against",
		"hookup": "clamp", "exposed": "yes", "line": "W-1"}
	var header, row []string
	for _, f := range intake.FieldsBeyond("east_m", "north_m") { // one position alone
		header, row = append(header, f.Metric()), append(row, cmp.Or(text[f.Name], "12.5"))
	}
	read := func(text []byte) trace.Reading {
		table, err := intake.ReadTable(bytes.NewReader(text), "walk.csv", 0, intake.TableOptions{})
		if err != nil || len(table.Readings) != 1 || len(table.Problems) > 0 && !strings.Contains(table.Problems[0].Cause, "not used") {
			t.Fatalf("%v, %+v", err, table)
		}
		return table.Readings[0]
	}
	r := read([]byte(strings.Join(header, ",") + "\n" + strings.Join(row, ",") + "\n"))
	s := sample.Sheet()
	s.Lines, s.Problems = s.Lines[:1], nil
	want := r
	r.Pos, r.Status = s.Lines[0].Readings[0].Pos, trace.StatusUsed
	s.Lines[0].Readings = []trace.Reading{r}
	got := read(check.Write(t, s, Readings))
	got.File, got.Row = want.File, want.Row
	g, w := reflect.ValueOf(got), reflect.ValueOf(want)
	for i := range g.NumField() {
		if a, b := fmt.Sprint(g.Field(i)), fmt.Sprint(w.Field(i)); a != b {
			t.Errorf("%s is %s, want %s", g.Type().Field(i).Name, a, b)
		}
	}
}

func TestPlainCell(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "W-1": "W-1", "=1+1": "'=1+1", "-2.5": "-2.5", "-cmd": "'-cmd", "@x": "'@x", "+31": "+31",
	} {
		if got := plainCell(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

// What stands beside the tables holds every caution and every piece of advice.
func TestCautionsBesideTheTables(t *testing.T) {
	s := sample.Sheet()
	s.OutputWords = geo.Plain("Common tools take WGS 84 and NAD83(2011) for the same when they reproject.")
	got := string(check.Write(t, s, Cautions))
	for _, want := range append(append([]string{s.OutputWords.In(s.Job.Units), "one-call centre", "lantern-row-readings.csv"}, s.Cautions...), words.Advice(s)...) {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

// A stake-out point whose depth its words do not know has no depth beside them.
func TestStakeOutTellsNoDepthThatIsNotKnown(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(string(check.Write(t, sample.Sheet(), StakeOut)))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	depth, words := slices.Index(rows[0], "depth_m"), slices.Index(rows[0], "words")
	n := 0
	for _, row := range rows[1:] {
		if strings.Contains(row[words], "depth of the line not known") {
			if n++; row[depth] != "" {
				t.Errorf("%q: %q", row[depth], row[words])
			}
		}
	}
	if n == 0 {
		t.Error("the sample has a gap, and no point beside it says so")
	}
}

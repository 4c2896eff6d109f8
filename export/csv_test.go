package export

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"loamline/export/internal/sample"
	"loamline/trace"
)

func TestCSVGoldens(t *testing.T) {
	golden(t, "sample-line.csv", write(t, sample.Sheet(), LineCSV))
	golden(t, "sample-readings.csv", write(t, sample.Sheet(), ReadingsCSV))
}

func rows(t *testing.T, text []byte) []map[string]string {
	t.Helper()
	all, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range all[1:] {
		m := map[string]string{}
		for i, name := range all[0] {
			m[name] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func TestLineCSVTellsDoubt(t *testing.T) {
	s := sample.Sheet()
	n, doubted := 0, 0
	for _, r := range rows(t, write(t, s, LineCSV)) {
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

// The fates add up to the rows read, also of rows that could not be read.
func TestReadingsCSVAddsUp(t *testing.T) {
	s := sample.Sheet()
	s.Problems = append(s.Problems,
		trace.Problem{File: "lantern-row.csv", Row: 70, Field: "lat", Cause: "not a number"},
		trace.Problem{File: "lantern-row.csv", Row: 70, Field: "lon", Cause: "not a number"})
	got := map[string]int{}
	for _, r := range rows(t, write(t, s, ReadingsCSV)) {
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

func TestPlainCell(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "W-1": "W-1", "=1+1": "'=1+1", "-2.5": "-2.5", "-cmd": "'-cmd", "@x": "'@x", "+31": "+31",
	} {
		if got := plainCell(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

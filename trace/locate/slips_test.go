package locate

import (
	"context"
	"strings"
	"testing"
	"time"

	"loamline.example/export/words"
	"loamline.example/trace"
)

// A day that is not that of the readings is told, and so is a clock that was not set.
func TestDateAgainstTheReadings(t *testing.T) {
	for _, c := range []struct{ date, taken, problem, check string }{
		{"2036-05-12", "2026-05-12", "taken on 2026-05-12", "The date stated is 2036-05-12"},
		{"2026-05-13", "2026-05-12", "", ""},
		{"2026-12-05", "2026-05-12", "", ""}, // day and month may be turned round: less than a year
		{"", "2026-05-12", "", ""},
		{"", "1980-01-06", "a clock that was not set", ""},
		{"2026-05-12", "1980-01-06", "a clock that was not set", ""},
	} {
		at, err := time.Parse(time.DateOnly, c.taken)
		if err != nil {
			t.Fatal(err)
		}
		src := walkJob(-71.5, 44.1, func(j *trace.Job) { j.Datum, j.Date = "NAD83(2011)", c.date })
		for i := range src.Readings {
			src.Readings[i].Time = at.Add(time.Duration(i) * time.Second)
		}
		s, err := Build(context.Background(), src)
		if err != nil {
			t.Fatal(err)
		}
		var got, checks []string
		for _, p := range s.Problems {
			got, checks = append(got, p.Error()), append(checks, said(p.Check))
		}
		all, check := strings.Join(got, "\n"), strings.Join(checks, "")
		if c.problem == "" && all != "" || !strings.Contains(all, c.problem) || c.check == "" && check != "" || !strings.Contains(check, c.check) {
			t.Errorf("%s, taken on %s: %q %q", c.date, c.taken, all, check)
		}
		if c.date == "" && c.taken < "2001" && s.Job.Epoch != 0 {
			t.Errorf("a clock that was not set gives the epoch %g", s.Job.Epoch)
		}
	}
}

// Depths below zero are no depths, and a line that has lost its depths to them says so.
func TestNegativeDepthsAreTold(t *testing.T) {
	src := walkJob(-71.5, 44.1, func(j *trace.Job) { j.Datum = "NAD83(2011)" })
	for i := range src.Readings {
		src.Readings[i].DepthM = -1
	}
	s, err := Build(context.Background(), src)
	if err != nil {
		t.Fatal(err)
	}
	if all := strings.Join(words.Advice(s), "\n"); !strings.Contains(all, "12 of 12 depths are negative and were left out") {
		t.Error(all)
	}
}

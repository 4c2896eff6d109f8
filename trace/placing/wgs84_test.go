package placing

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
	"loamline.example/trace/tracetest/fixture"
)

// gridReadings are six readings 2 m apart on a grid, in metres.
func gridReadings(eastM, northM float64) []trace.Reading {
	rs := fixture.Walk(0, "A", trace.Unknown, trace.Unknown, 6)
	for i := range rs {
		rs[i].Geographic = geo.LonLat{LonDeg: trace.Unknown, LatDeg: trace.Unknown}
		rs[i].Projected = [2]float64{eastM + 2*float64(i), northM}
	}
	return rs
}

func frameOf(t *testing.T, crs, datum, date string) geo.Frame {
	t.Helper()
	job := trace.DefaultJob()
	job.CRS, job.Datum, job.Date = crs, datum, date
	f, err := setting.Frame(job)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestPlaceOnAGrid(t *testing.T) {
	f := frameOf(t, "EPSG:2263", "NAD83(2011)", "2026-05-12")
	if math.Abs(f.Epoch-2026.36) > 0.01 {
		t.Errorf("epoch %g from the job's date", f.Epoch)
	}
	rs := gridReadings(984250*geo.USSurveyFootM, 200000*geo.USSurveyFootM)
	p := placer{inputs: []trace.Input{{Name: "a.csv"}}, frame: f}
	plane, err := p.place(rs)
	if err != nil {
		t.Fatal(err)
	}
	for i := range rs {
		if rs[i].Status != "" {
			t.Fatalf("row %d: %s", i, rs[i].Reason)
		}
	}
	// On the zone's central meridian, 74 W, then moved west-north-west by 1.26 m.
	shift := geo.NewPlane(rs[0].Geographic).XY(geo.LonLat{LonDeg: -74, LatDeg: rs[0].Geographic.LatDeg})
	if shift.X < 0.4 || shift.X > 0.8 {
		t.Errorf("moved by %g m along the parallel", shift.X)
	}
	if d := rs[5].Pos.Dist(rs[0].Pos); math.Abs(d-10) > 1e-3 {
		t.Errorf("10 m of grid became %g m", d)
	}
	if words := f.Words(plane.Origin()).In(geo.Metric); !strings.Contains(words, "moved by 1.26 m") {
		t.Error(words)
	}
}

func TestPlaceGridMistakes(t *testing.T) {
	for _, tt := range []struct {
		name, crs     string
		eastM, northM float64
		reason        string
	}{
		{"feet read as metres", "EPSG:2263", 984250 * 3.28, 200000 * 3.28, "EPSG:2263"},
		{"no place at all", "EPSG:32618", 1e12, 1e12, "impossible position"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rs := gridReadings(tt.eastM, tt.northM)
			p := placer{inputs: []trace.Input{{Name: "a.csv"}}, frame: frameOf(t, tt.crs, "", "")}
			if _, err := p.place(rs); err != nil {
				t.Fatal(err)
			}
			for i := range rs {
				if rs[i].Status != trace.StatusSetAside || !strings.Contains(said(rs[i].Reason), tt.reason) {
					t.Fatalf("row %d: %q %q", i, rs[i].Status, rs[i].Reason)
				}
			}
		})
	}
}

// A job without a grid for its eastings is refused; one such row among others is
// set aside.
func TestPlaceNeedsAGrid(t *testing.T) {
	p := placer{inputs: []trace.Input{{Name: "a.csv"}}, frame: frameOf(t, "EPSG:4326", "", "")}
	_, err := p.place(gridReadings(300000, 61000))
	var problem *trace.Problem
	if !errors.As(err, &problem) || problem.File != "a.csv" || !strings.Contains(problem.Hint, "EPSG code") {
		t.Errorf("error: %v", err)
	}
	rs := append(fixture.Walk(0, "A", -74, 40.7, 5), gridReadings(300000, 61000)[0])
	if _, err := p.place(rs); err != nil {
		t.Fatal(err)
	}
	if rs[5].Status != trace.StatusSetAside || !strings.Contains(said(rs[5].Reason), "without a grid") || rs[0].Status != "" {
		t.Errorf("%q: %q", rs[5].Status, rs[5].Reason)
	}
}

func TestJobFrameErrors(t *testing.T) {
	job := trace.DefaultJob()
	job.CRS = "EPSG:27572"
	if _, err := setting.Frame(job); err == nil || !strings.Contains(err.Error(), "EPSG:27572") {
		t.Errorf("error %v", err)
	}
}

// The readings' own times give the epoch where nothing else does.
func TestEpochFromReadings(t *testing.T) {
	rs := fixture.Walk(0, "A", -74, 40.7, 5)
	day := time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)
	for i := range rs {
		rs[i].Time = day.Add(time.Duration(i) * time.Minute)
	}
	rs[0].Time = time.Date(1980, 1, 6, 0, 0, 0, 0, time.UTC) // a clock not set yet
	for _, tt := range []struct {
		name  string
		job   trace.Job
		epoch float64
	}{
		{"nothing stated", trace.Job{Epoch: trace.Unknown}, 2026.36},
		{"a date", trace.Job{Date: "2020-01-01"}, 0},
		{"an epoch", trace.Job{Epoch: 2010}, 2010},
	} {
		if got := setting.DatedBy(tt.job, rs).Epoch; got != tt.epoch {
			t.Errorf("%s: epoch %g, want %g", tt.name, got, tt.epoch)
		}
	}
	if got := setting.DatedBy((trace.Job{}), fixture.Walk(0, "A", -74, 40.7, 5)).Epoch; got != 0 {
		t.Errorf("no times: epoch %g", got)
	}
}

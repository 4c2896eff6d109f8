package batch

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"loamline.example/export/archive"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/otherworld"
)

// Traced lines stay nearer to their job's readings than jobs that are fitted once
// stay apart: those of every sixth simulated family of two worlds, and those of readings as
// far apart as anything that is drawn as traced.
func TestLinesStayByTheirReadings(t *testing.T) {
	tables := map[string]string{}
	for _, world := range []struct {
		name     string
		families []tracetest.Family
		make     func(string, uint64) (tracetest.Job, error)
	}{{"first", tracetest.Families(), tracetest.Make}, {"second", otherworld.Families(), otherworld.Make}} {
		for i, f := range world.families {
			if i%6 > 0 { // all held when this was written: at most 32.7 m
				continue
			}
			j, err := world.make(f.Name, 4000)
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			if err := j.WriteCSV(&b, tracetest.Plain(), j.Traces...); err != nil {
				t.Fatal(err)
			}
			tables[world.name+" "+f.Name] = b.String()
		}
	}
	for _, everyM := range []float64{25, 45, 59} {
		for _, hAccM := range []float64{0.02, 1, 10} {
			var b strings.Builder
			b.WriteString("line,lat,lon,h_acc_m,depth_m\n")
			for i := range 24 {
				x, y := everyM*float64(min(i, 12))+hAccM*math.Sin(float64(9*i)), everyM*float64(max(i-12, 0))+hAccM*math.Sin(float64(7*i))
				at := geo.NewPlane(geo.LonLat{LonDeg: -30.5, LatDeg: 44.1}).LonLat(geo.XY{X: x, Y: y})
				fmt.Fprintf(&b, "L,%.8f,%.8f,%g,%.2f\n", at.LatDeg, at.LonDeg, hAccM, 1+0.02*math.Sin(float64(5*i)))
			}
			tables[fmt.Sprintf("every %g m, %g m", everyM, hAccM)] = b.String()
		}
	}
	drawn, farthestM := 0, 0.0
	for name, table := range tables {
		w := work{}
		src, err := intake.Load(t.Context(), intake.LoadOptions{Name: "walk", Tables: []intake.File{{Name: "walk.csv", Open: func() (io.ReadCloser, error) {
			return io.NopCloser(strings.NewReader(table)), nil
		}}}})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		src.Nearby = func(_ context.Context, plane geo.Plane, places []geo.XY) ([]trace.Record, error) {
			w.fitted.Origin, w.fitted.Places = plane.Origin(), places
			return nil, nil
		}
		sheet, err := locate.Build(t.Context(), src)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		plane := geo.NewPlane(w.fitted.Origin)
		for _, l := range archive.LinesOf(sheet, "batch", "walk") {
			drawn++
			for i := range l.Path {
				at, from := plane.XY(l.Path[i]), plane.XY(l.Path[max(i-1, 0)])
				for k := range 8 {
					p, nearM := from.Lerp(at, float64(k)/7), math.Inf(1)
					for _, q := range w.fitted.Places {
						nearM = min(nearM, p.Dist(q))
					}
					if farthestM = max(farthestM, nearM); nearM > outM {
						t.Fatalf("%s: %.1f m from every reading", name, nearM)
					}
				}
			}
		}
	}
	t.Logf("%d lines, none farther than %.1f m from every reading", drawn, farthestM)
	if drawn < len(tables) || farthestM < 20 {
		t.Errorf("%d lines of %d jobs, at most %.1f m from a reading: nothing was tried", drawn, len(tables), farthestM)
	}
}

// Jobs that come near one that is made here are fitted first, and no others.
func TestMarkBeside(t *testing.T) {
	const reachM = 25.0
	job := func(lonDeg, latDeg float64, ours bool, places ...geo.XY) *work {
		return &work{ours: ours, fitted: fitted{Origin: geo.LonLat{LonDeg: lonDeg, LatDeg: latDeg}, Places: places}}
	}
	at := func(x, y float64) geo.XY { return geo.XY{X: x, Y: y} }
	for _, tt := range []struct {
		name string
		jobs []*work
		want string
	}{
		{"one street", []*work{job(9, 50, true, at(0, 0)), job(9, 50, true, at(99, 0))}, "ab"},
		{"far apart", []*work{job(9, 50, true, at(0, 0)), job(9, 50, true, at(400, 0))}, ""},
		{"boxes overlap, readings are far apart", []*work{job(9, 50, true, at(0, 0), at(900, 900)), job(9, 50, true, at(900, 0))}, ""},
		{"another plane", []*work{job(9, 50, true, at(700, 0)), job(9.01, 50, true, at(0, 0))}, "ab"},
		{"of another program beside ours", []*work{job(9, 50, true, at(0, 0)), job(9, 50, false, at(99, 0))}, "b"},
		{"two of another program", []*work{job(9, 50, false, at(0, 0)), job(9, 50, false, at(99, 0))}, ""},
		{"across the antimeridian", []*work{job(179.9999, 10, true, at(0, 0)), job(-179.9999, 10, true, at(0, 0))}, "ab"},
		{"one that lies across it, and one far away", []*work{job(180, 10, true, at(-20, 0), at(20, 0)), job(0, 10, true, at(0, 0))}, ""},
		{"failed", []*work{job(9, 50, true, at(0, 0)), {ours: true}}, ""},
	} {
		b := &run{Options: Options{ReachM: reachM}, jobs: tt.jobs}
		b.markBeside()
		got := ""
		for i, w := range b.jobs {
			if w.beside {
				got += string(rune('a' + i))
			}
		}
		if got != tt.want {
			t.Errorf("%s: %q, not %q", tt.name, got, tt.want)
		}
	}
}

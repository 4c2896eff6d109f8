package guard

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// TestSessionsApart: what the next day's base moved is told all along both days, and the
// band holds it; readings that were set aside tell it too.
func TestSessionsApart(t *testing.T) {
	elbow := geo.NewPolyline([]geo.XY{{}, {X: 32}, {X: 60, Y: 28}})
	bent := func(southM float64) *trace.Line { // the second day begins at a bend to the north
		at := along(16, level) // to 30 m
		for s := 32.0; s <= 64; s += 2 {
			at = append(at, elbow.At(s).Add(geo.XY{Y: -southM}))
		}
		return drawnThrough(at)
	}
	overlap := func(asideM float64, setAside int) *trace.Line {
		at := along(21, level) // to 40 m
		for x := 32.0; x <= 60; x += 2 {
			at = append(at, geo.XY{X: x, Y: asideM})
		}
		l := read(line(0.03, geo.XY{}, geo.XY{X: 60}), at...)
		for i := 21 - setAside; i < 21; i++ {
			l.Readings[i].SetAside(remark.Outlier{From: remark.FromLine, OffM: asideM})
		}
		return l
	}
	later := func(l *trace.Line, from int, by time.Duration) *trace.Line {
		for i := from; i < len(l.Readings); i++ {
			l.Readings[i].Time = l.Readings[i].Time.Add(by)
		}
		return l
	}
	const day = 24 * time.Hour
	// As a table stores them that was sorted by something else, with an exposure without a time.
	stored := func(l *trace.Line) *trace.Line {
		rand.New(rand.NewPCG(5, 2)).Shuffle(len(l.Readings), func(i, k int) { l.Readings[i], l.Readings[k] = l.Readings[k], l.Readings[i] })
		hole := trace.NewReading()
		hole.Pos, hole.Exposed, hole.Status = geo.XY{X: 20}, true, trace.StatusExposed
		l.Readings = append(l.Readings, hole)
		return l
	}
	fromBothEnds := func(asideM float64) *trace.Line {
		at := along(16, level) // to 30 m
		for x := 60.0; x >= 26; x -= 2 {
			at = append(at, geo.XY{X: x, Y: asideM})
		}
		return read(line(0.03, geo.XY{}, geo.XY{X: 24}, geo.XY{X: 32, Y: asideM}, geo.XY{X: 60, Y: asideM}), at...)
	}
	for _, c := range []struct {
		name  string
		line  *trace.Line
		wantM float64
	}{
		{"from both ends, 0.4 m aside", fromBothEnds(0.4), 0.4},
		{"from both ends", fromBothEnds(0), 0},
		{"0.8 m aside the next day, at a bend", later(bent(0.8), 16, day), 0.8},
		{"the same at a stretch", later(bent(0.8), 16, 0), 0},
		{"the next day, at a bend", later(bent(0), 16, day), 0},
		{"overlaps 1.2 m aside", later(overlap(1.2, 0), 21, day), 1.2},
		{"overlaps 1.2 m aside, stored in another order with an exposure without a time", stored(later(overlap(1.2, 0), 21, day)), 1.2},
		{"overlaps 1.2 m aside of those set aside", later(overlap(1.2, 5), 21, day), 1.2},
		{"overlaps", later(overlap(0, 0), 21, day), 0},
	} {
		got := newView(c.line, rule()).sessionsApart()
		if c.wantM == 0 {
			if len(got) > 0 {
				t.Errorf("%s: %+v", c.name, got)
			}
			continue
		}
		end := c.line.Centerline.Polyline().Length()
		if len(got) != 1 || math.Abs(got[0].BandM-c.wantM) > 0.1 || got[0].FromM > 0.1 || got[0].ToM < end-0.1 {
			t.Errorf("%s: %+v, want %.1f m from 0 to %.1f m", c.name, got, c.wantM, end)
		}
	}
}

// TestRingOpen: a ring that drifts past its beginning is told all along.
func TestRingOpen(t *testing.T) {
	ring := geo.NewPolyline([]geo.XY{{}, {X: 16}, {X: 16, Y: 12}, {Y: 12}, {}})
	for _, driftM := range []float64{0, 0.8} {
		var at []geo.XY
		for s := 0.0; s <= 55; s += 1.5 {
			at = append(at, ring.At(s).Add(geo.XY{X: driftM * s / 55}))
		}
		l := drawnThrough(at)
		got := newView(l, rule()).sessionsApart()
		if driftM == 0 && len(got) > 0 || driftM > 0 && (len(got) != 1 || got[0].BandM < 0.6 || got[0].ToM-got[0].FromM < 50) {
			t.Errorf("drift of %.1f m: %+v", driftM, got)
		}
	}
}

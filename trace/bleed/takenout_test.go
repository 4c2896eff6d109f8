package bleed

import (
	"context"
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// besideTwice is a straight line a metre deep, read every 2 m, with a line a metre to its left
// that carries a half of its current from 30 to 60 m and from 110 to 140 m.
func besideTwice() (line Line, others *Index) {
	line.Name, line.AntennaGapM, line.Exclude = "A", 0.4, []int{0}
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	b := Path{Name: "B"}
	for i := range 90 {
		noise := func(at int) float64 { return pattern[(i+at)%len(pattern)] }
		x := 2 * float64(i)
		s := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 0.1}}}
		if x >= 30 && x <= 60 || x >= 110 && x <= 140 {
			s.Lines = append(s.Lines, receiver.Conductor{XM: -1, DepthM: 1, CurrentA: 0.05})
		}
		shown := s.Survey(0, 0.4)
		pos := geo.XY{X: x, Y: -shown.PeakM + 0.01*noise(3)}
		line.Points, line.DepthM, line.SigmaM = append(line.Points, pos), append(line.DepthM, shown.DepthM), append(line.SigmaM, 0.03)
		r := trace.NewReading()
		r.Pos, r.StationM, r.HAccM, r.Fix, r.FreqHz, r.Hookup = pos, x, 0.02, 4, 8192, trace.HookupDirect
		r.DepthM = shown.DepthM * math.Exp(0.02*noise(0))
		r.CurrentMA, r.NullOffsetM = 1000*shown.CurrentA*r.DepthM/shown.DepthM, shown.NullOffsetM+0.03*noise(5)
		line.Readings = append(line.Readings, r)
		b.Points, b.DepthM, b.SigmaM = append(b.Points, geo.XY{X: x, Y: 1}), append(b.DepthM, 1), append(b.SigmaM, 0.05)
	}
	return line, NewIndex([]Path{line.Path, b})
}

// A coupling that was found is taken out of all columns before the next is sought: two
// stretches beside one neighbour are found as two, each once, and nothing else.
func TestEachCouplingIsFoundOnce(t *testing.T) {
	line, others := besideTwice()
	line.rd = inStationOrder(line.Readings)
	col := newColumns(line)
	all := append(others.neighbours(line, col), neighbour{name: Unknown, path: -1})
	found, _ := col.inWindow(all, 0, len(col.rd))
	var at []float64
	for _, f := range found {
		at = append(at, col.rd[f.from].StationM, col.rd[f.to].StationM)
	}
	if len(found) != 2 {
		t.Fatalf("found from and to %v, want 30 to 60 m and 110 to 140 m", at)
	}
	for _, f := range found {
		from := 30.0
		if col.rd[f.from].StationM > 80 {
			from = 110
		}
		if math.Abs(col.rd[f.from].StationM-from) > 6 || math.Abs(col.rd[f.to].StationM-from-30) > 6 {
			t.Errorf("found from and to %v, want 30 to 60 m and 110 to 140 m", at)
		}
	}
}

// A record that may be an old drawing of the line itself is a neighbour less likely, by what a
// record of the line's own kind says.
func TestOwnRecordIsALessLikelyNeighbour(t *testing.T) {
	line, others := besideTwice()
	line.rd = inStationOrder(line.Readings)
	col := newColumns(line)
	odds := func(own bool) float64 {
		near := others.neighbours(line, col)
		near[0].mayBeOwn = own
		n := len(col.rd)
		y := partialResidual{ds: append(slices.Clone(col.lnD), col.lnS...), null: slices.Clone(col.null), pos: slices.Clone(col.course.acrossM)}
		return newUncoupled(col, 0, n, y).bestOf(near, make([][]signature, len(near)), true).logOdds
	}
	if other, own := odds(false), odds(true); !(own < other) || math.Abs(own-other-ownRecordNats) > 1e-9 {
		t.Errorf("log odds %.2f of another line, %.2f of a record of the line's own kind", other, own)
	}
}

// A run of readings at another current, with a sharp end on either side and nothing else, is
// told by the detector whatever the models of a window make of it.
func TestDetectorTellsARunOnAnotherLevel(t *testing.T) {
	line, _ := besideTwice()
	for i := range line.Readings {
		r := &line.Readings[i]
		r.Pos.Y, line.Points[i].Y = 0, 0
		noise := math.Exp(0.01 * math.Sin(float64(5*i)))
		r.DepthM, r.CurrentMA, r.NullOffsetM = 1, 100*noise, 0
		if i >= 40 && i < 52 {
			r.CurrentMA *= 1.5
		}
	}
	rep, err := Detect(context.Background(), line, NewIndex(nil))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range rep.Stretches {
		for _, e := range s.Evidence {
			if l, ok := e.(remark.CurrentLevel); ok {
				if math.Abs(s.FromM-80) > 4 || math.Abs(s.ToM-102) > 4 || math.Abs(l.LnCurrent-math.Log(1.5)) > 0.05 {
					t.Errorf("told from %.0f to %.0f m, by e^%.2f", s.FromM, s.ToM, l.LnCurrent)
				}
				return
			}
		}
	}
	t.Errorf("not told: %+v", rep.Stretches)
}

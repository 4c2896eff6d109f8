package bleed

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// The null shown from the peak of the whole field is twice that from the peak of the field
// across, and the peak is as far to the other side: of a neighbour with a tenth of the
// current by their fields, to first order.
func TestWholeFieldShowsTwiceTheNull(t *testing.T) {
	for _, asideM := range []float64{0.7, 1, 2} {
		s := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 1}, {XM: asideM, DepthM: 1.2, CurrentA: 0.02}}}
		field := func(x float64) (h, v float64) {
			for _, l := range s.Lines {
				u, i := x-l.XM, real(l.CurrentA)
				h, v = h+i*l.DepthM/(u*u+l.DepthM*l.DepthM), v+i*u/(u*u+l.DepthM*l.DepthM)
			}
			return h, v
		}
		shown := s.Survey(0, 0.4)
		peak := highest(func(x float64) float64 { h, v := field(x); return math.Hypot(h, v) })
		null := shown.PeakM + shown.NullOffsetM
		if twice := (null - peak) / shown.NullOffsetM; math.Abs(twice-2) > 0.1 {
			t.Errorf("neighbour %.1f m away: the null is %.2f times as far", asideM, twice)
		}
	}
}

// highest is where in -1 to 1 m something is largest.
func highest(of func(x float64) float64) float64 {
	lo, hi := -1.0, 1.0
	for hi-lo > 1e-6 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if of(a) < of(b) {
			lo = a
		} else {
			hi = b
		}
	}
	return (lo + hi) / 2
}

// winding is a line 1.8 m deep that winds in half circles of 14 m radius, read every 2 m by
// RTK over the peak of the whole field or of that across, by the field of all its parts.
func winding(seed uint64, whole bool, noiseM float64) Line {
	const depthM, radiusM, gapM = 1.8, 14, 0.4
	rng := rand.New(rand.NewPCG(seed, 2))
	var pts []geo.XY
	for half := range 3 {
		side := 1 - 2*float64(half%2)
		for i := range 30 {
			a := math.Pi * float64(i) / 30
			pts = append(pts, geo.XY{X: radiusM * (2*float64(half) + 1 - math.Cos(a)), Y: side * radiusM * math.Sin(a)})
		}
	}
	path := geo.NewPolyline(pts)
	var w receiver.Wire
	for _, p := range pts {
		w.Points = append(w.Points, receiver.Point{X: p.X, Y: p.Y, Z: -depthM})
	}
	for range len(pts) - 1 {
		w.PieceA = append(w.PieceA, 0.1)
	}
	line := Line{Path: Path{Name: "A"}, AntennaGapM: gapM}
	for s := 1.0; s < path.Length()-1; s += 2 {
		at, dir := path.At(s), path.Direction(s)
		right := geo.XY{X: dir.Y, Y: -dir.X}
		field := func(x, z float64) (h, v float64) {
			b := w.B(receiver.Point{X: at.X + x*right.X, Y: at.Y + x*right.Y, Z: z})
			return b.X*right.X + b.Y*right.Y, b.Z
		}
		size := func(x, z float64) float64 {
			h, v := field(x, z)
			if whole {
				return math.Hypot(h, v)
			}
			return math.Abs(h)
		}
		peak := highest(func(x float64) float64 { return size(x, 0) })
		null := highest(func(x float64) float64 { _, v := field(x, 0); return -math.Abs(v) })
		low, high := size(peak, 0), size(peak, gapM)
		r := trace.NewReading()
		r.StationM, r.Pos, r.HAccM, r.Fix, r.Status = s, at.Add(right.Scale(peak)), 0.015, trace.FixRTK, trace.StatusUsed
		r.DepthM = receiver.TwoAntennaDepthM(low, high, gapM) * (1 + 0.02*rng.NormFloat64())
		r.CurrentMA = low * r.DepthM / receiver.TeslaMetrePerAmpere * 1000 * (1 + 0.01*rng.NormFloat64())
		r.NullOffsetM = null - peak + noiseM*rng.NormFloat64()
		line.Readings, line.Points = append(line.Readings, r), append(line.Points, r.Pos)
		line.DepthM, line.SigmaM = append(line.DepthM, r.DepthM), append(line.SigmaM, 0.03)
	}
	return line
}

// Nulls that a line's own bends pull are no neighbour's, over the peak of the whole field as
// over that of the field across; the whole field's is told, with the side where the line lies.
func TestWholeFieldAtBends(t *testing.T) {
	for _, whole := range []bool{true, false} {
		for seed := range uint64(3) {
			line := winding(seed, whole, 0.03)
			rep, err := Detect(context.Background(), line, NewIndex([]Path{line.Path}))
			if err != nil {
				t.Fatal(err)
			}
			told, right, left := false, 0.0, 0.0
			for _, s := range rep.Stretches {
				if s.Grade != trace.GradeWatch {
					t.Errorf("whole %v: %s from %.0f to %.0f m", whole, s.Grade, s.FromM, s.ToM)
				}
				told = told || strings.Contains(strings.Join(words.Remarks(geo.Metric, s.Evidence), " "), "lie inside the bends")
				right, left = math.Max(right, s.WidenRightM), math.Max(left, s.WidenLeftM)
			}
			if told != whole || whole && (right < 0.15 || left < 0.15) {
				t.Errorf("whole %v: told %v, caution %.2f m to the right and %.2f m to the left", whole, told, right, left)
			}
		}
	}
}

// A neighbour along a winding line does not read as a receiver of the whole field: its pull
// does not follow the bends.
func TestNeighbourAtBendsIsNoWholeField(t *testing.T) {
	line := winding(1, false, 0.03)
	for i := range line.Readings {
		line.Readings[i].NullOffsetM += 0.35
	}
	line.rd = inStationOrder(line.Readings)
	if newColumns(line).wholeField {
		t.Error("a null that is off to one side all along is taken for that of the whole field")
	}
}

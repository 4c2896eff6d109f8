package guard

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// holed is a line that was read over 24 m, not over a hole, and over as much again: beyond
// the hole it lies where a bend in it, turned to the left and begun at a share of it, leads,
// and lateralM to the left of that.
func holed(holeM, turn, share, lateralM, noiseM float64, seed uint64) *trace.Line {
	rng := rand.New(rand.NewPCG(seed, 11))
	noise := func() geo.XY { return geo.XY{X: noiseM * rng.NormFloat64(), Y: noiseM * rng.NormFloat64()} }
	sin, cos := math.Sincos(turn)
	bend := geo.XY{X: 24 + share*holeM}
	var a, b []geo.XY
	for s := 0.0; s <= 24; s += 2 {
		on := (1-share)*holeM + s
		a = append(a, geo.XY{X: s}.Add(noise()))
		b = append(b, bend.Add(geo.XY{X: on*cos - lateralM*sin, Y: on*sin + lateralM*cos}).Add(noise()))
	}
	l, far := line(0.05, a...), line(0.05, b...).Centerline.Parts[0]
	for i := range far.Vertices {
		far.Vertices[i].StationM += 24 + holeM
	}
	l.Centerline.Parts = append(l.Centerline.Parts, far)
	return read(l, append(a, b...)...)
}

// Beyond a long hole a course that is parallel and beside the one before is told, to its
// end; one that goes straight on or bends in the hole, wherever it does, is not, nor one
// as far aside as a line is laid elsewhere.
func TestStepOverALongHole(t *testing.T) {
	degree := math.Pi / 180
	for seed := range uint64(20) {
		for _, c := range []struct {
			holeM, turn, share, lateralM float64
			want                         bool
		}{
			{26, 0, 0.5, 2.9, true}, {29, 0, 0.5, -1, true}, {45, 0.5 * degree, 0.5, 2, true}, {58, 0, 0.5, 1.5, true},
			{30, 0, 0.5, 0, false}, {30, 0, 0.5, 0.4, false}, {58, 0, 0.5, 0.4, false}, {30, 0, 0.5, 4.5, false}, {70, 0, 0.5, 2, false},
			{30, 1 * degree, 0, 0, false}, {58, 1 * degree, 0.5, 0, false}, {58, 1 * degree, 1, 0, false},
			{40, 3 * degree, 0.5, 2, false}, {40, 12 * degree, 0.2, 0, false}, {58, -2 * degree, 0.8, 0, false},
		} {
			l := holed(c.holeM, c.turn, c.share, c.lateralM, 0.02, seed)
			told := false
			for _, b := range Check(l, rule()) {
				if r, is := b.Remark.(remark.StepOverGap); is {
					told = true
					if end := l.Centerline.Parts[1].ToM(); b.FromM != 0 || b.ToM != end || math.Abs(r.LateralM-math.Abs(c.lateralM)) > 0.45 {
						t.Errorf("%+v: %.2f m at %.0f to %.0f m", c, r.LateralM, b.FromM, b.ToM)
					}
				}
			}
			if told != c.want {
				t.Errorf("seed %d: %+v: told %v", seed, c, told)
			}
		}
	}
}

// Readings that say as much of their direction as a loose walk does make no step over a
// hole of what is not surely one.
func TestLooseWalksStepOverNoHole(t *testing.T) {
	for seed := range uint64(40) {
		l := holed(40, 0, 0.5, 0, 0.6, seed)
		for i := range l.Readings {
			l.Readings[i].HAccM = 0.6
		}
		for _, b := range Check(l, rule()) {
			if b.Kind == Step {
				t.Errorf("seed %d: %+v", seed, b.Remark)
			}
		}
	}
}

// What lies before a hole may be on the other line as well, but for where it is the clearly
// longer part.
func TestStepOverAHoleInALongLine(t *testing.T) {
	l := holed(30, 0, 0.5, 2, 0.02, 1)
	var long []geo.XY
	for x := -80.0; x < 0; x += 2 {
		long = append(long, geo.XY{X: x})
	}
	first := &l.Centerline.Parts[0]
	first.Vertices = append(line(0.05, long...).Centerline.Parts[0].Vertices, first.Vertices...)
	at := 0.0
	for _, p := range l.Centerline.Parts {
		for i := range p.Vertices {
			p.Vertices[i].StationM = at + p.Vertices[i].Pos.X + 80
		}
	}
	readings := l.Readings
	l.Readings = nil
	read(l, long...)
	for _, r := range readings {
		read(l, r.Pos)
	}
	Apply(l, rule())
	for _, f := range l.Findings {
		if b, is := f.(finding.BleedOver); is && b.FromM > 130 && b.ToM == l.Centerline.Parts[1].ToM() {
			return
		}
	}
	t.Errorf("not told beyond the hole alone: %+v", l.Findings)
}

package guard

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// statedAt states an accuracy of all readings, and of a line what of its band is common.
func statedAt(l *trace.Line, ownM, commonM float64) *trace.Line {
	for i := range l.Readings {
		l.Readings[i].HAccM = ownM
	}
	for i := range l.Centerline.Parts[0].Vertices {
		l.Centerline.Parts[0].Vertices[i].Common95M = commonM
	}
	return l
}

// Where a quarter of a line was set aside, in blocks that are told where they lie, the
// readings that are left prove nothing: that is told of the whole line.
func TestSoManySetAsideLeaveTheLineInDoubt(t *testing.T) {
	for n, want := range map[int]bool{20: true, 24: true, 25: false, 60: false} {
		walk := along(n, func(x float64) float64 { return 4 * b2f(x >= 8 && x < 14 || x >= 26 && x < 32) })
		l := read(line(0.03, walk[0], walk[n-1]), walk...)
		for i, p := range walk {
			if p.Y > 0 {
				l.Readings[i].SetAside(remark.Outlier{From: remark.FromLine, OffM: 4})
			}
		}
		got := false
		for _, b := range Check(l, rule(), Uncovered) {
			if r, many := b.Remark.(remark.ManyUnused); many {
				got = r.Most && !trace.Known(b.FromM)
			}
		}
		if got != want {
			t.Errorf("6 of %d set aside: told of the whole line %v", n, got)
		}
	}
}

// An error that a whole walk shares is in the band and explains no run of readings that
// leaves the rest of it.
func TestARunAsideIsNoCommonError(t *testing.T) {
	detour := func(x float64) float64 { return 2.5*b2f(x >= 20 && x < 30) + 0.3*math.Sin(5*x) }
	for _, n := range []int{31, 61} { // of the longer walk the run is too little to be found in any other way
		walk := along(n, detour)
		bs := Check(statedAt(read(line(1.7, walk[0], walk[n-1]), walk...), 0.5, 1.65), rule(), Off)
		if len(bs) != 1 || bs[0].FromM > 20 || bs[0].ToM < 28 || bs[0].ToM > 31 || bs[0].BandM < 2.4 {
			t.Errorf("a run of five aside, of %d: %+v", n, bs)
		}
	}
	walk := along(31, detour)
	beside := read(line(1.7, walk[0], walk[30]), along(31, func(x float64) float64 { return 1.6 + 0.3*math.Sin(5*x) })...)
	if bs := Check(statedAt(beside, 0.5, 1.65), rule(), Off); len(bs) != 0 {
		t.Errorf("a whole walk aside: %+v", bs)
	}
}

// Readings that lie to both sides by turns, run by run, are no scatter.
func TestALineSmootherThanItsWalk(t *testing.T) {
	wave := func(x float64) float64 { return 1.5 * math.Sin(2*math.Pi*x/16) }
	straight := along(2, func(float64) float64 { return 0 })
	straight[1].X = 60
	told := func(y func(float64) float64, bandM float64) bool {
		bs := Check(statedAt(read(line(bandM, straight...), along(31, y)...), 0.5, bandM), rule(), Off)
		for _, b := range bs {
			if _, is := b.Remark.(remark.RunsAside); is {
				return b.BandM > 1.4
			}
		}
		return false
	}
	if !told(wave, 1.2) {
		t.Error("a wave drawn straight is not told")
	}
	if told(wave, 1.6) {
		t.Error("a wave that the band holds is told")
	}
	rng := rand.New(rand.NewPCG(3, 5))
	for range 200 {
		if told(func(float64) float64 { return 0.5 * rng.NormFloat64() }, 0.4) {
			t.Error("scatter as stated is told")
		}
	}
}

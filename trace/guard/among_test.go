package guard

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// Parts of few readings each are told where they lie and nowhere between, however many
// there are; of more than anybody reads one by one each knows the worst.
func TestDoubtsOfOneSortKeepTheirPlaces(t *testing.T) {
	for _, parts := range []int{reportedApart, reportedApart + 2} {
		l := line(0.1, geo.XY{}, geo.XY{X: 20})
		l.Centerline.Parts = nil
		for k := range parts {
			x, longM := 200*float64(k), 20.0
			if k == 1 {
				longM = 60
			}
			p := line(0.1, geo.XY{X: x}, geo.XY{X: x + longM}).Centerline.Parts[0]
			for i := range p.Vertices {
				p.Vertices[i].StationM = p.Vertices[i].Pos.X
			}
			l.Centerline.Parts = append(l.Centerline.Parts, p)
			read(l, geo.XY{X: x}, geo.XY{X: x + longM/2}, geo.XY{X: x + longM})
		}
		Apply(l, rule())
		n := 0
		for _, f := range l.Findings {
			d, ok := f.(finding.Doubt)
			if !ok {
				continue
			}
			if _, few := d.Why.(remark.FewReadings); !few {
				continue
			}
			n++
			if d.ToM-d.FromM > 61 {
				t.Errorf("of %d: told from %g to %g m", parts, d.FromM, d.ToM)
			}
			var want trace.Remark
			if parts > reportedApart {
				want = remark.FewReadings{N: 3, OverM: 60}
			}
			if d.Among != want {
				t.Errorf("of %d: at %g m among %v", parts, d.FromM, d.Among)
			}
		}
		if n != parts {
			t.Errorf("%d of %d told: %+v", n, parts, l.Findings)
		}
	}
}

// A line of two readings is told from two metres on: a square corner between them lies a metre
// off the straight way. Nothing is of two that are nearer, or of four that lie straight. Readings of
// one place count once.
func TestTwoReadingsAreAGuess(t *testing.T) {
	for _, c := range []struct {
		longM float64
		n     int // places
		times int // that each was read
		want  bool
	}{{1.5, 2, 1, false}, {2.5, 2, 1, true}, {4.5, 2, 1, true}, {12, 4, 1, false}, {1.5, 2, 3, false}, {8, 2, 3, true}, {14, 3, 4, true}, {9, 3, 4, false}, {12, 4, 3, false}} {
		l := line(0.1, geo.XY{}, geo.XY{X: c.longM})
		for i := range c.n * c.times {
			again := 0.1 * math.Sin(float64(i))
			read(l, geo.XY{X: c.longM*float64(i/c.times)/float64(c.n-1) + again*b2f(c.times > 1)})
		}
		told := false
		for _, b := range Check(l, rule(), Sparse) {
			if _, few := b.Remark.(remark.FewReadings); few && b.BandM > 0 {
				told = true
			}
		}
		if told != c.want {
			t.Errorf("%d places over %.1f m, each read %d times: told %t", c.n, c.longM, c.times, told)
		}
	}
}

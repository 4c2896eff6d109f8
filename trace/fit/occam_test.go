package fit

import (
	"math"
	"testing"

	"loamline.example/geo"
)

func samplesOn(f func(s float64) float64, n int, stepM, sigmaM float64) []sample {
	out := make([]sample, n)
	for i := range out {
		s := float64(i) * stepM
		meanScatter := sigmaM * math.Sin(7*float64(i))
		out[i] = &observation{placed: placed{stationM: s}, p: geo.XY{X: s, Y: f(s) + meanScatter}, wt: 1 / sq(sigmaM), sigmaM: sigmaM}
	}
	return out
}

// The marginal likelihood of a line is the integral of its likelihood over the
// range of offset and heading, here summed on a grid.
func TestLineOccamIsAnIntegral(t *testing.T) {
	part := samplesOn(func(float64) float64 { return 0 }, 6, 3, 0.2)
	r := fitStraight(part)
	sum, da, db := 0.0, 0.004, 0.0004
	for a := -1.0; a < 1; a += da {
		for b := -0.1; b < 0.1; b += db {
			rss := 0.0
			for _, q := range part {
				rss += q.wt * sq(q.p.Y-a-b*(q.p.X-7.5))
			}
			sum += math.Exp(-0.5*rss) * da * db
		}
	}
	want := -2 * math.Log(sum/(cornerEveryM*freeTurn))
	if got := r.rss + r.occam; math.Abs(got-want) > 0.02 {
		t.Errorf("%.3f, by summing %.3f", got, want)
	}
}

// A smooth run that may hardly turn is a line, and costs what one does.
func TestSmoothOccamEndsAtALine(t *testing.T) {
	part := samplesOn(func(float64) float64 { return 0 }, 12, 2, 0.1)
	line := fitStraight(part)
	r := run{part: part, hM: 0.5, foot: make([]foot, len(part))}
	for s := 0.0; s <= 22; s += r.hM {
		r.nodes = append(r.nodes, geo.XY{X: s})
	}
	e := r.offsets(part)
	d, minusTwoLn := r.solve(r.pullsOf(part, e), make([]float64, len(r.nodes)), 1e-9)
	r.measure(part, e, d)
	if got := r.rss + smoothOccam(minusTwoLn, r.rss, r.hM); math.Abs(got-line.rss-line.occam) > 0.05 {
		t.Errorf("%.3f, a line %.3f", got, line.rss+line.occam)
	}
}

// An arc costs what the determinant of the information says.
func TestArcOccamIsADeterminant(t *testing.T) {
	part := samplesOn(func(s float64) float64 { return s * s / 40 }, 9, 2, 0.05)
	r, ok := fitArc(part)
	if !ok {
		t.Fatal("no arc")
	}
	var m [3][3]float64
	for _, q := range part {
		v := unit(q.p.Sub(r.circle.center))
		cos, sin := r.mid.Dot(v), r.mid.Cross(v)
		c := [3]float64{1, r.circle.radius * sin, sq(r.circle.radius) * (1 - cos)}
		for i := range c {
			for k := range c {
				m[i][k] += q.wt * c[i] * c[k]
			}
		}
	}
	det := m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	want := math.Log(det) + lineRange() + 2*math.Log(bendRange) - math.Log(2*math.Pi)
	if math.Abs(r.occam-want) > 1e-3 {
		t.Errorf("%.4f, by the determinant %.4f", r.occam, want)
	}
}

// What a curve through everything costs grows as the positions get better: a
// price that stayed the same let curves take in leaps of metres.
func TestBetterPositionsMakeCurvesDearer(t *testing.T) {
	last := 0.0
	for _, sigma := range []float64{1, 0.3, 0.1, 0.03} {
		r := fitStraight(samplesOn(func(float64) float64 { return 0 }, 10, 3, sigma))
		if r.occam <= last {
			t.Errorf("at %.2f m a line costs %.1f, with worse positions %.1f", sigma, r.occam, last)
		}
		last = r.occam
	}
}

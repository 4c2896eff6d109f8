package bleed

import (
	"cmp"
	"math"
	"slices"
)

// extent is a run of readings i to j of a window with a bound of the evidence
// that any coupling which is the same all along it can bring.
type extent struct {
	i, j  int
	bound float64
}

// survey is an account of a window with the sums of its precision and scores,
// channel by channel, over any segment, and the segments worth a look.
type survey struct {
	model                         // any gaussian may be nil
	onDD, onDS, onSS quadratic    // of log depth and log signal
	across           [2]quadratic // of the null and of the marks
	toD, toS         linear       // scores
	scores           [2]linear
	segments         []extent // the best bound first
	col              *columns
	lo, hi           int
}

func newSurvey(col *columns, lo, hi int, t model) *survey {
	v := &survey{model: t, col: col, lo: lo, hi: hi}
	n := hi - lo
	if t.ds != nil {
		m := 2 * n
		v.onDD.sum(n, func(k int) []float64 { return t.ds.prec[k*m : k*m+n] })
		v.onDS.sumBoth(n, func(k int) (a, b []float64) { return t.ds.prec[k*m+n : k*m+2*n], t.ds.prec[(n+k)*m : (n+k)*m+n] })
		v.onSS.sum(n, func(k int) []float64 { return t.ds.prec[(n+k)*m+n : (n+k)*m+2*n] })
		v.toD.sum(t.ds.py[:n])
		v.toS.sum(t.ds.py[n:])
	}
	for i, b := range []*gaussian{t.null, t.pos} {
		if b != nil {
			v.across[i].sum(n, func(k int) []float64 { return b.prec[k*n : (k+1)*n] })
			v.scores[i].sum(b.py)
		}
	}
	v.list()
	return v
}

// leastLengthM is how long a stretch must be to be seen as one over a line so deep: 3 m
// and two and a half depths, over less than which the field of another line's beginning
// and end has no level in between. Judgement; what a fit then makes of it need be two
// depths long (newFinding).
func leastLengthM(depthM float64) float64 { return math.Max(3, leastLengthDepths*depthM) }

// leastLengthDepths is the part of that which grows with the depth (judgement).
const leastLengthDepths = 2.5

// mostPlaces is up to how many readings of a window stretches and other explanations are
// tried at each: of as many or more, at every second or third, to save time. Judgement.
const mostPlaces = 80

// list lists the admissible segments: at least three readings and leastLengthM
// long. What a coupling that is the same all along a segment brings is
// at most half the form of the scores in the inverse precision, gaussian by gaussian.
func (v *survey) list() {
	n := v.hi - v.lo
	at := func(k int) float64 { return v.col.rd[v.lo+k].StationM }
	for i := 0; i < n; i += 1 + n/mostPlaces {
		least := leastLengthM(v.col.depth[v.lo+i])
		for j := i + 2; j < n; j++ {
			if at(j)-at(i) < least {
				continue
			}
			if b := v.bound(i, j); b > searchFloorKnown {
				v.segments = append(v.segments, extent{i, j, b})
			}
		}
	}
	slices.SortFunc(v.segments, func(a, b extent) int {
		return cmp.Or(cmp.Compare(b.bound, a.bound), cmp.Compare(a.i, b.i), cmp.Compare(a.j, b.j))
	})
}

func (v *survey) bound(i, j int) (b float64) {
	if v.model.ds != nil {
		dd, ds, ss := v.onDD.of(i, j), v.onDS.of(i, j), v.onSS.of(i, j)
		d, s := v.toD.of(i, j), v.toS.of(i, j)
		if det := dd*ss - ds*ds; det > 1e-9*dd*ss {
			b += 0.5 * (ss*d*d - 2*ds*d*s + dd*s*s) / det
		} else if dd > ss {
			b += 0.5 * d * d / dd
		} else if ss > 0 {
			b += 0.5 * s * s / ss
		}
	}
	for k := range v.across {
		if v.scores[k] == nil {
			continue
		}
		if a, s := v.across[k].of(i, j), v.scores[k].of(i, j); a > 0 {
			b += 0.5 * s * s / a
		}
	}
	return b
}

// most is the largest bound of all segments.
func (v *survey) most() float64 {
	if len(v.segments) == 0 {
		return math.Inf(-1)
	}
	return v.segments[0].bound
}

package bleed

import (
	"fmt"
	"math"
	"slices"

	"loamline/geo"
)

// jumps finds runs where the marks leave the line and lie on a neighbour.
func jumps(line Line, col *columns, ix *Index, near []exposure, units geo.Units) []Stretch {
	var out []Stretch
	for _, e := range near {
		out = append(out, e.jumps(line, col, ix, units)...)
	}
	return out
}

// onNeighbour is a reading's own position against a neighbour's path.
type onNeighbour struct {
	distM, sigmaM, depthM float64
}

func (e exposure) jumps(line Line, col *columns, ix *Index, units geo.Units) []Stretch {
	n := len(col.rd)
	at := make([]onNeighbour, n)
	var feet []foot
	for k, r := range col.rd {
		at[k].distM = math.Inf(1)
		feet = ix.feet(r.Pos, 4, line.Exclude, feet)
		for _, f := range feet {
			if f.path == e.path {
				at[k] = onNeighbour{f.distM, math.Hypot(f.sigmaM, positionSigma(r)), f.depthM}
				if fitted := math.Abs(e.at[k].asideM); fitted < f.distM && !r.SetAside {
					at[k].distM = fitted
				}
			}
		}
	}
	var out []Stretch
	for from := 0; from < n; from++ {
		if !at[from].lies() {
			continue
		}
		to := runOn(at, from)
		// From the first to the last reading, nothing tells which line it is.
		if to-from >= 2 && (from >= 3 || to < n-3) {
			if s, ok := e.jump(col, at, from, to, units); ok {
				out = append(out, s)
			}
		}
		from = to
	}
	return out
}

// runOn returns the last reading of a run on the neighbour; three readings in
// a row may stand off it.
func runOn(at []onNeighbour, from int) int {
	to := from
	for k := from + 1; k < len(at) && k-to <= 4; k++ {
		if at[k].lies() {
			to = k
		}
	}
	return to
}

// positionSigma is the error of one mark across the line, marking included.
func positionSigma(r Reading) float64 {
	s := r.HAccM
	if math.IsNaN(s) {
		switch r.Fix {
		case 4:
			s = 0.02
		case 5:
			s = 0.2
		default:
			s = 0.6
		}
	}
	d := r.DepthM
	if !(d > 0) {
		d = defaultDepthM
	}
	return math.Hypot(s, max(0.02, markingPart*min(d, 3)))
}

// markingPart is the error of marking the peak, as a part of depth, one sigma
// (common practice, no source).
const markingPart = 0.04

func (o onNeighbour) lies() bool {
	return o.sigmaM < 0.75 && o.distM < 2.8*max(0.05, o.sigmaM)
}

// jump judges one run [from, to] on the neighbour.
func (e exposure) jump(col *columns, at []onNeighbour, from, to int, units geo.Units) (Stretch, bool) {
	own := ownCourse(col, from, to)
	length := col.rd[to].StationM - col.rd[from].StationM
	if own == nil || length < 3 {
		return Stretch{}, false
	}
	var sep, sigma []float64
	var signed, farthest float64
	for k := from; k <= to; k++ {
		q := own[k-from]
		v := q.at.Sub(col.rd[k].Pos)
		if q.farM > surelyM {
			continue
		}
		sep, sigma = append(sep, v.Norm()), append(sigma, at[k].sigmaM)
		signed += q.direction.Cross(v)
		farthest = max(farthest, v.Norm())
	}
	m, sg := median(sep), median(sigma)
	if m < max(0.35, 1.5*sg) {
		return Stretch{}, false
	}
	z := m / sg
	steps, seen := e.jumpSteps(col, from, to)
	if z < 2.5 && steps < 4 {
		return Stretch{}, false
	}
	odds := min(mostPositionOdds, z*z/2-2) + steps + col.phaseOdds(from, to) + logit(jumpPrior)
	if odds < 0 || seen && steps < 0 && z < 12 {
		return Stretch{}, false
	}
	s := Stretch{FromM: col.rd[from].StationM, ToM: col.rd[to].StationM, Grade: Strong,
		Score: 1 / (1 + math.Exp(-odds)), Neighbor: e.name, SeparationM: m, Jump: true, Side: sideOf(-signed)}
	if s.Score < 0.95 {
		s.Grade = Suspect
	}
	s.ShiftM, s.Shift95M = m, min(farWiden, 1.96*math.Hypot(sg, 0.02*length/2)+farthest-m)
	s.WidenRightM, s.WidenLeftM = m+s.Shift95M, max(0, s.Shift95M-m)
	if signed > 0 { // Cross is positive to the left
		s.WidenRightM, s.WidenLeftM = s.WidenLeftM, s.WidenRightM
	}
	s.Evidence = e.jumpWords(col, s, from, to, steps, units)
	return s, true
}

func (e exposure) jumpWords(col *columns, s Stretch, from, to int, steps float64, units geo.Units) []string {
	back := " and come back at " + units.Long(s.ToM)
	if to >= len(col.rd)-2 {
		back = " and do not come back"
	}
	out := []string{fmt.Sprintf("The marks leave the line at %s, lie on %s for %s%s.",
		units.Long(s.FromM), quoted(e.name), readings(to-from+1), back),
		fmt.Sprintf("The line's own course lies about %s to the %s of these marks.", units.Short(s.ShiftM), s.Side)}
	f := finding{from: from, to: to}
	if w := col.depthCurrentWords(f); w != "" && steps > 1 {
		out = append(out, w)
	}
	if w := col.phaseWords(f); w != "" {
		out = append(out, w)
	}
	return out
}

// farWiden is the most by which a jump's caution reaches past the line's likely
// course, in metres: beyond it the place where the marks left says more.
const farWiden = 3

// mostPositionOdds caps what positions alone may say: a line may bend.
const mostPositionOdds = 7

// jumpSteps is the log evidence that depth and current step where the marks go
// over and step back where they return, over the best story without. The
// steps' sizes are free: another line has its own depth and current.
func (e exposure) jumpSteps(c *columns, from, to int) (odds float64, seen bool) {
	if !c.hasD && !c.hasS {
		return 0, false
	}
	lo, hi := max(0, from-40), min(len(c.rd), to+41)
	if hi-lo > windowReadings {
		lo, hi = max(lo, from-25), min(hi, from+windowReadings-25)
	}
	n := hi - lo
	y := residual{ds: append(slices.Clone(c.lnD[lo:hi]), c.lnS[lo:hi]...), null: slices.Clone(c.null[lo:hi])}
	blunt := c.blunt(jumpNoise)
	e.ignoreEnds(blunt, from, to)
	st := &story{col: blunt, lo: lo, hi: hi}
	raw := depthSignalBlock(blunt, lo, hi, wanders[0], y.ds)
	without := st.explained(told{ds: raw})
	best := math.Inf(-1)
	for first := -1; first <= 1; first++ {
		for last := -1; last <= 1; last++ {
			t := told{ds: raw.copied()}
			current, depth := make([]float64, 2*n), make([]float64, 2*n)
			for k := max(lo, from+2*first); k <= min(hi-1, to+2*last); k++ {
				current[n+k-lo] = 1
				depth[k-lo], depth[n+k-lo] = 1, -1
			}
			t.ds.allow(current, jumpCurrentSD*jumpCurrentSD, math.Log(3))
			t.ds.allow(depth, jumpDepthSD*jumpDepthSD, 0)
			x := st.explained(t)
			best = max(best, x.ds.evidence())
		}
	}
	return max(-8, min(20, best-without.ds.evidence())), true
}

// ignoreEnds takes the readings about the ends of a run out: where two lines
// part, their fields mix.
func (e exposure) ignoreEnds(c *columns, from, to int) {
	c.varD = slices.Clone(c.varD)
	for k, r := range c.rd {
		out := math.Max(c.rd[from].StationM-r.StationM, r.StationM-c.rd[to].StationM) // past an end
		in := math.Min(r.StationM-c.rd[from].StationM, c.rd[to].StationM-r.StationM)
		mixed := out > 0 && out < 12 && math.Abs(e.at[k].asideM) < 1.2*c.depth[k]
		if mixed || math.Abs(out) < 2*c.depth[k] || math.Abs(in) < 2*c.depth[k] {
			c.varD[k], c.varS[k], c.covDS[k] = nothing, nothing, 0
		}
	}
}

// jumpNoise is the least noise of log signal while a jump is weighed: where two
// lines part, their fields mix over some metres.
const jumpNoise = 0.06

// The log current and depth of another line against the line's own, one sigma.
// Judgement.
const (
	jumpCurrentSD = 0.8
	jumpDepthSD   = 0.35
)

// phaseOdds is what the current's direction says for a jump: reversed on the
// run and not about it speaks for one.
func (c *columns) phaseOdds(from, to int) float64 {
	in, out, nIn, nOut := 0, 0, 0, 0
	for k, r := range c.rd {
		if r.Phase == 0 {
			continue
		}
		if k >= from && k <= to {
			nIn++
			if r.Phase < 0 {
				in++
			}
		} else if k > from-12 && k < to+12 {
			nOut++
			if r.Phase < 0 {
				out++
			}
		}
	}
	switch {
	case nIn < 2 || nOut < 2:
		return 0
	case 2*in > nIn != (2*out > nOut):
		return 3.5
	}
	return -0.6
}

// jumpPrior is how often a trace that meets a neighbour jumps onto it.
// Judgement.
const jumpPrior = 0.03

type course struct {
	at, direction geo.XY
	farM          float64 // from the nearest mark that it is carried on from
}

// surelyM is how far a line's own course is carried on with some trust.
// Judgement.
const surelyM = 15

// ownCourse carries the line on across a run from the marks on both sides, by
// a cubic through them (Hermite), or straight on from one side at an end.
func ownCourse(col *columns, from, to int) []course {
	a, okA := flank(col, from-1, -1)
	b, okB := flank(col, to+1, 1)
	if !okA && !okB {
		return nil
	}
	out := make([]course, 0, to-from+1)
	for k := from; k <= to; k++ {
		q := col.rd[k].Pos
		switch {
		case okA && okB:
			chord := b.at.Sub(a.at)
			l := chord.Norm()
			if l == 0 {
				return nil
			}
			t := max(0, min(1, q.Sub(a.at).Dot(chord)/(l*l)))
			h := func(c [4]float64) geo.XY {
				return a.at.Scale(c[0]).Add(a.direction.Scale(l * c[1])).Add(b.at.Scale(c[2])).Add(b.direction.Scale(l * c[3]))
			}
			at := h([4]float64{2*t*t*t - 3*t*t + 1, t*t*t - 2*t*t + t, -2*t*t*t + 3*t*t, t*t*t - t*t})
			out = append(out, course{at, chord.Scale(1 / l), min(t, 1-t) * l})
		case okA:
			out = append(out, a.on(q))
		default:
			out = append(out, b.on(q))
		}
	}
	return out
}

// on carries a course straight on to beside q.
func (c course) on(q geo.XY) course {
	along := q.Sub(c.at).Dot(c.direction)
	return course{c.at.Add(c.direction.Scale(along)), c.direction, math.Abs(along)}
}

// flank fits a parabola through up to nine marks from k outward; its place is
// beside the mark nearest to the run, its direction that of travel.
func flank(col *columns, k, step int) (course, bool) {
	var pts []geo.XY
	for i := k; i >= 0 && i < len(col.rd) && len(pts) < 9; i += step {
		if !col.rd[i].SetAside {
			pts = append(pts, col.rd[i].Pos)
		}
	}
	if len(pts) < 3 {
		return course{}, false
	}
	// Least squares in the distance walked from the nearest mark outward.
	order := 2
	if len(pts) < 6 {
		order = 1
	}
	var m [3][3]float64
	var vx, vy [3]float64
	t := 0.0
	for i, p := range pts {
		if i > 0 {
			t += p.Dist(pts[i-1])
		}
		w := [3]float64{1, t, t * t}
		for a := range order + 1 {
			for b := range order + 1 {
				m[a][b] += w[a] * w[b]
			}
			vx[a] += w[a] * (p.X - pts[0].X)
			vy[a] += w[a] * (p.Y - pts[0].Y)
		}
	}
	if order == 1 {
		m[2][2] = 1
	}
	x, ok := solve3(m, vx)
	y, _ := solve3(m, vy)
	d := geo.XY{X: -x[1], Y: -y[1]} // outward distance runs away from the run
	if !ok || d.Norm() == 0 {
		return course{}, false
	}
	d = d.Scale(1 / d.Norm())
	if step > 0 {
		d = d.Scale(-1)
	}
	return course{at: pts[0].Add(geo.XY{X: x[0], Y: y[0]}), direction: d}, true
}

// solve3 solves three equations by elimination; false where they have no one
// solution.
func solve3(m [3][3]float64, v [3]float64) ([3]float64, bool) {
	for i := range 3 {
		p := i
		for r := i + 1; r < 3; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[p][i]) {
				p = r
			}
		}
		if m[p][i] == 0 {
			return v, false
		}
		m[i], m[p], v[i], v[p] = m[p], m[i], v[p], v[i]
		for r := i + 1; r < 3; r++ {
			f := m[r][i] / m[i][i]
			for c := i; c < 3; c++ {
				m[r][c] -= f * m[i][c]
			}
			v[r] -= f * v[i]
		}
	}
	for i := 2; i >= 0; i-- {
		for c := i + 1; c < 3; c++ {
			v[i] -= m[i][c] * v[c]
		}
		v[i] /= m[i][i]
	}
	return v, true
}

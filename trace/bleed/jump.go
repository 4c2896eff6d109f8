package bleed

import (
	"fmt"
	"math"

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
			}
		}
	}
	var out []Stretch
	for k := 0; k < n; k++ {
		from := k
		for k < n && at[k].lies() {
			k++
		}
		if k-from >= 3 && k-from < n-3 {
			if s, ok := e.jump(col, at, from, k-1, units); ok {
				out = append(out, s)
			}
		}
	}
	return out
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
	return math.Hypot(s, 0.04)
}

func (o onNeighbour) lies() bool {
	return o.sigmaM < 0.75 && o.distM < 2.5*max(0.05, o.sigmaM)
}

// jump judges one run [from, to] on the neighbour.
func (e exposure) jump(col *columns, at []onNeighbour, from, to int, units geo.Units) (Stretch, bool) {
	own := ownCourse(col, from, to)
	if own == nil {
		return Stretch{}, false
	}
	var sep, sigma []float64
	var signed float64
	depthFor := 0.0
	before := flankDepth(col, from, to)
	for k := from; k <= to; k++ {
		q := own[k-from]
		sep, sigma = append(sep, q.at.Dist(col.rd[k].Pos)), append(sigma, at[k].sigmaM)
		signed += q.direction.Cross(q.at.Sub(col.rd[k].Pos))
		if d := col.rd[k].DepthM; d > 0 && at[k].depthM > 0 && before > 0 {
			on, off := math.Log(d/at[k].depthM)/0.12, math.Log(d/before)/0.12
			depthFor += 0.5 * (min(9, off*off) - min(9, on*on))
		}
	}
	length := col.rd[to].StationM - col.rd[from].StationM
	m, sg := median(sep), median(sigma)
	if m < max(0.35, 4*sg) && !(m > max(0.35, 2.5*sg) && depthFor > 4) || length < 3 {
		return Stretch{}, false
	}
	z := m / sg
	odds := min(14, z*z/2) + max(-6, min(6, depthFor)) + logit(jumpPrior)
	if odds < 0 {
		return Stretch{}, false
	}
	true95 := 1.96 * math.Hypot(sg, 0.02*length/2)
	right := -signed // Cross is positive to the left
	s := Stretch{FromM: col.rd[from].StationM, ToM: col.rd[to].StationM, Grade: Strong,
		Score: 1 / (1 + math.Exp(-odds)), Neighbor: e.name, SeparationM: m, Jump: true,
		ShiftM: m, Shift95M: true95, Side: sideOf(right)}
	if s.Score < 0.95 {
		s.Grade = Suspect
	}
	if right > 0 {
		s.WidenRightM, s.WidenLeftM = m+true95, max(0, true95-m)
	} else {
		s.WidenLeftM, s.WidenRightM = m+true95, max(0, true95-m)
	}
	s.Evidence = []string{fmt.Sprintf("The marks leave the line at %s, lie on %s for %s and come back at %s.",
		units.Long(s.FromM), quoted(e.name), readings(to-from+1), units.Long(s.ToM)),
		fmt.Sprintf("The line's own course lies about %s to the %s of these marks.", units.Short(m), s.Side)}
	if depthFor > 1 {
		s.Evidence = append(s.Evidence, fmt.Sprintf("Depth there is that of %s, not that of the line before and after.", quoted(e.name)))
	}
	return s, true
}

// jumpPrior is how often a trace that meets a neighbour jumps onto it.
// Judgement.
const jumpPrior = 0.03

type course struct{ at, direction geo.XY }

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
			out = append(out, course{at, chord.Scale(1 / l)})
		case okA:
			out = append(out, course{a.at.Add(a.direction.Scale(q.Sub(a.at).Dot(a.direction))), a.direction})
		default:
			out = append(out, course{b.at.Add(b.direction.Scale(q.Sub(b.at).Dot(b.direction))), b.direction})
		}
	}
	return out
}

// flank fits a straight course through up to six marks from k outward; its
// place is the mark nearest to the run, its direction that of travel.
func flank(col *columns, k, step int) (course, bool) {
	var pts []geo.XY
	for i := k; i >= 0 && i < len(col.rd) && len(pts) < 6; i += step {
		if !col.rd[i].SetAside {
			pts = append(pts, col.rd[i].Pos)
		}
	}
	if len(pts) < 3 {
		return course{}, false
	}
	half := len(pts) / 2
	nearer, farther := meanXY(pts[:half]), meanXY(pts[half:])
	d := nearer.Sub(farther)
	if d.Norm() == 0 {
		return course{}, false
	}
	d = d.Scale(1 / d.Norm())
	all := meanXY(pts)
	at := all.Add(d.Scale(pts[0].Sub(all).Dot(d)))
	if step > 0 {
		d = d.Scale(-1)
	}
	return course{at, d}, true
}

func meanXY(p []geo.XY) geo.XY {
	var s geo.XY
	for _, q := range p {
		s = s.Add(q)
	}
	return s.Scale(1 / float64(len(p)))
}

func flankDepth(col *columns, from, to int) float64 {
	var v []float64
	for k := max(0, from-6); k < min(len(col.rd), to+7); k++ {
		if (k < from || k > to) && col.rd[k].DepthM > 0 {
			v = append(v, col.rd[k].DepthM)
		}
	}
	if len(v) == 0 {
		return 0
	}
	return median(v)
}

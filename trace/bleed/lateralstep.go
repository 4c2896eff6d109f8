package bleed

import (
	"math"

	"loamline/geo"
)

// A lateral step is taken from the marks nearest to it on either side: at most so
// many, no farther off, and about ends that other columns show to so many readings;
// one of more than mostLateralM, farther than two lines in one street lie apart, is a
// bend. Judgement.
const (
	mostLateralM  = 3.5
	lateralMarks  = 5
	lateralReachM = 40
	lateralNear   = 2
)

// lateralStep is the clearest sideways step of the marks about the gap before
// reading edge, positive to the right of travel: two runs alike, straight or of one
// curvature, one beside the other. Marks up to one reading long in between may lie
// anywhere.
func (c *columns) lateralStep(edge int) (best amount, ok bool) {
	top := 0.0
	for at := edge - lateralNear; at <= edge+lateralNear; at++ {
		for skip := range 2 {
			s, is := c.stepBeside(at, at+skip)
			if z := math.Abs(s.by) / s.sd; is && z > top && math.Abs(s.by) < mostLateralM {
				best, top, ok = s, z, true
			}
		}
	}
	return best, ok
}

// stepBeside fits level, direction, curvature and a step to the marks before reading
// before and from reading after on.
func (c *columns) stepBeside(before, after int) (amount, bool) {
	var at []geo.XY
	var in []bool
	var noise float64
	gather := func(k, step int, inside bool) (n int) {
		for ; k >= 0 && k < len(c.rd) && n < lateralMarks && math.Abs(c.rd[k].StationM-c.rd[max(0, min(len(c.rd)-1, before))].StationM) < lateralReachM; k += step {
			if !c.rd[k].SetAside {
				at, in, n = append(at, c.rd[k].Pos), append(in, inside), n+1
				noise += math.Pow(positionSigma(c.rd[k]), 2)
			}
		}
		return n
	}
	if gather(before-1, -1, false) < 3 {
		return amount{}, false
	}
	first := len(at)
	if gather(after, 1, true) < 3 {
		return amount{}, false
	}
	noise = math.Sqrt(noise / float64(len(at)))
	dir := at[0].Sub(at[first-1]).Add(at[len(at)-1].Sub(at[first])) // along both runs
	if dir.Norm() == 0 {
		return amount{}, false
	}
	dir = dir.Scale(1 / dir.Norm())
	from := at[0].Lerp(at[first], 0.5)
	var m [4][4]float64
	var v [4]float64
	row := func(i int) ([4]float64, float64) {
		d := at[i].Sub(from)
		t := d.Dot(dir) / lateralReachM
		x := [4]float64{1, t, t * t, 0}
		if in[i] {
			x[3] = 1
		}
		return x, -dir.Cross(d)
	}
	for i := range at {
		x, y := row(i)
		for a := range x {
			for b := range x {
				m[a][b] += x[a] * x[b]
			}
			v[a] += x[a] * y
		}
	}
	x, variance, ok := solveFour(m, v)
	if !ok {
		return amount{}, false
	}
	var sum float64
	for i := range at {
		r, y := row(i)
		for a := range r {
			y -= r[a] * x[a]
		}
		sum += y * y
	}
	if free := len(at) - 4; free > 0 {
		noise = math.Max(noise, math.Sqrt(sum/float64(free)))
	}
	return amount{x[3], noise * math.Sqrt(variance)}, true
}

// solveFour solves four normal equations and returns the variance factor of the
// last unknown, by elimination.
func solveFour(m [4][4]float64, v [4]float64) (x [4]float64, variance float64, ok bool) {
	for k := range 4 {
		if m[k][k] < 1e-9 {
			return x, 0, false
		}
		for i := k + 1; i < 4; i++ {
			f := m[i][k] / m[k][k]
			for j := k; j < 4; j++ {
				m[i][j] -= f * m[k][j]
			}
			v[i] -= f * v[k]
		}
	}
	for k := 3; k >= 0; k-- {
		x[k] = v[k]
		for j := k + 1; j < 4; j++ {
			x[k] -= m[k][j] * x[j]
		}
		x[k] /= m[k][k]
	}
	return x, 1 / m[3][3], true
}

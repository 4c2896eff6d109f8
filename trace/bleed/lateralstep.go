package bleed

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/leastsquares"
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
			s, is := c.stepBeside(at, at+skip, 0)
			if z := math.Abs(s.by) / s.sd; is && z > top && math.Abs(s.by) < mostLateralM {
				best, top, ok = s, z, true
			}
		}
	}
	return best, ok
}

// stepBeside fits level, direction, curvature and a step to the marks before reading
// before and from reading after on: lateralMarks on either side, and those within overM.
func (c *columns) stepBeside(before, after int, overM float64) (amount, bool) {
	var at []geo.XY
	var in []bool
	var noise float64
	gather := func(k, step int, inside bool) (n int) {
		first := k
		for ; k >= 0 && k < len(c.rd) && (n < lateralMarks || math.Abs(c.rd[k].StationM-c.rd[first].StationM) < overM) && math.Abs(c.rd[k].StationM-c.rd[max(0, min(len(c.rd)-1, before))].StationM) < lateralReachM; k += step {
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
	rows, sides := make([][4]float64, len(at)), make([]float64, len(at))
	for i := range at {
		d := at[i].Sub(from)
		t := d.Dot(dir) / lateralReachM
		rows[i], sides[i] = [4]float64{0, 1, t, t * t}, -dir.Cross(d)
		if in[i] {
			rows[i][0] = 1
		}
	}
	fit, ok := leastsquares.FitFour(rows, sides)
	if !ok {
		return amount{}, false
	}
	if len(at) > len(fit.X) {
		noise = math.Max(noise, fit.Scatter())
	}
	return amount{fit.X[0], noise * fit.Unit}, true
}

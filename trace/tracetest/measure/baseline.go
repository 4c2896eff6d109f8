package measure

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// The baselines are what a GIS analyst scripts: they take the rows in order of
// time, or of the file where it has no times, and smooth easting, northing and
// depth each along the distance walked.

// track is a walk as columns: distance walked, east, north, depth.
type track struct{ t, x, y, d []float64 }

// walked lines the rows up. Raised readings are left out; whoever scripts this
// knows of them.
func walked(tr tracetest.Trace, l tracetest.Layout) track {
	rds := make([]tracetest.Reading, 0, len(tr.Readings))
	for _, r := range tr.Readings {
		if math.IsNaN(r.RaiseM) {
			rds = append(rds, r)
		}
	}
	if l.Has[tracetest.ColTime] {
		sort.SliceStable(rds, func(a, b int) bool { return rds[a].TimeS < rds[b].TimeS })
	}
	var k track
	for i, r := range rds {
		t := 0.0
		if i > 0 {
			t = k.t[i-1] + math.Max(1e-3, r.Pos.Dist(rds[i-1].Pos))
		}
		k.t, k.x, k.y, k.d = append(k.t, t), append(k.x, r.Pos.X), append(k.y, r.Pos.Y), append(k.d, r.DepthM)
	}
	k.d = bridged(k.t, k.d)
	return k
}

// bridged fills missing values in linearly.
func bridged(t, v []float64) []float64 {
	out := append([]float64(nil), v...)
	last := -1
	for i, x := range v {
		if math.IsNaN(x) {
			continue
		}
		for j := last + 1; j < i; j++ {
			out[j] = x
			if last >= 0 {
				out[j] = v[last] + (x-v[last])*(t[j]-t[last])/(t[i]-t[last])
			}
		}
		last = i
	}
	for j := last + 1; j < len(v) && last >= 0; j++ {
		out[j] = v[last]
	}
	return out
}

func (k track) curve(smooth func(t, v []float64) []float64) curve {
	x, y, d := smooth(k.t, k.x), smooth(k.t, k.y), smooth(k.t, k.d)
	ps := make([]point, len(x))
	for i := range ps {
		ps[i] = point{geo.XY{X: x[i], Y: y[i]}, d[i], math.NaN(), math.NaN()}
	}
	if len(ps) < 2 {
		return nil
	}
	return curve{ps}
}

func dots(_, v []float64) []float64 { return v }

// movingAverage is the mean of five, fewer at the ends.
func movingAverage(_, v []float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		a, b := max(0, i-2), min(len(v), i+3)
		for _, x := range v[a:b] {
			out[i] += x / float64(b-a)
		}
	}
	return out
}

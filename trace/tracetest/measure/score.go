package measure

import (
	"math"
	"sort"
)

// Score is what was found out about one method on some jobs. Errors are in
// metres across the line, at places half a metre apart.
type Score struct {
	out, back, corner   []float64 // absolute errors: drawn to true, true to drawn, near elbows
	depth               []float64
	wideIn, depthIn     int // places where the band holds the truth
	cornerIn, cornerAll int // of the horizontal band, near elbows
	wide, depthBand     []float64
	Traces, Empty       int
	LeapsFound, Leaps   int // positions more than four sigma off, set aside
	AllFound, AllLeaps  int // every injected leap
	GoodLost, Good      int
	SpikesFound, Spikes int
	DepthLost           int // good depths dropped
	Seconds             float64
	Readings            int
}

func (s *Score) add(o *Score) {
	s.out, s.back, s.corner = append(s.out, o.out...), append(s.back, o.back...), append(s.corner, o.corner...)
	s.depth, s.wide, s.depthBand = append(s.depth, o.depth...), append(s.wide, o.wide...), append(s.depthBand, o.depthBand...)
	s.wideIn += o.wideIn
	s.depthIn += o.depthIn
	s.cornerIn += o.cornerIn
	s.cornerAll += o.cornerAll
	s.Traces += o.Traces
	s.Empty += o.Empty
	s.LeapsFound += o.LeapsFound
	s.Leaps += o.Leaps
	s.AllFound += o.AllFound
	s.AllLeaps += o.AllLeaps
	s.GoodLost += o.GoodLost
	s.Good += o.Good
	s.SpikesFound += o.SpikesFound
	s.Spikes += o.Spikes
	s.DepthLost += o.DepthLost
	s.Seconds += o.Seconds
	s.Readings += o.Readings
}

// RMSE of the drawn line against the true one.
func (s *Score) RMSE() float64 { return rms(s.out) }

// CornerRMSE is RMSE within 3 m of a true elbow, true line to drawn.
func (s *Score) CornerRMSE() float64 { return rms(s.corner) }

// DepthRMSE in metres.
func (s *Score) DepthRMSE() float64 { return rms(s.depth) }

// Percentile95 of the errors, drawn to true and true to drawn.
func (s *Score) Percentile95() (out, back float64) {
	return quantile(s.out, 0.95), quantile(s.back, 0.95)
}

// Worst error each way.
func (s *Score) Worst() (out, back float64) { return quantile(s.out, 1), quantile(s.back, 1) }

// Coverage is the share of places where the horizontal band holds the true
// line, and where the depth band holds the true depth.
func (s *Score) Coverage() (horizontal, depth float64) {
	return float64(s.wideIn) / float64(len(s.wide)), float64(s.depthIn) / float64(len(s.depthBand))
}

// CornerCoverage is that of the horizontal band within 3 m of a true elbow.
func (s *Score) CornerCoverage() float64 { return float64(s.cornerIn) / float64(s.cornerAll) }

// Width is the median half-width of both bands.
func (s *Score) Width() (horizontal, depth float64) {
	return quantile(s.wide, 0.5), quantile(s.depthBand, 0.5)
}

func rms(v []float64) float64 {
	var sum float64
	for _, x := range v {
		sum += x * x
	}
	return math.Sqrt(sum / float64(len(v)))
}

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return s[int(math.Round(q*float64(len(s)-1)))]
}

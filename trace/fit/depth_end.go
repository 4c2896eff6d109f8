package fit

import "math"

// lineEnd is the doubt whether the line ends near an end of its readings, where
// less depth is shown, or goes on: ways in which it may end, with probabilities.
type lineEnd struct {
	at, depthM float64
	ways       []endWay
}

// endWay is an end of the current beyondM from the last reading.
type endWay struct{ beyondM, p float64 }

const (
	endPrior    = 0.3  // of a trace's ends are ends of the line (judged; no source)
	endReadings = 12   // depths that tell (judgement)
	endReach    = 8.0  // depths, at which an end takes 1 % of one (derived from cutOff)
	mostOdds    = 50.0 // ln of the odds of an end: a bound of the arithmetic, for the exponential
)

// endPlaces are where in the step beyond the last reading the line is tried to end.
// Judgement: near the middles of three equal parts, a little farther out.
var endPlaces = [...]float64{0.15, 0.5, 0.85}

// ends weighs for both ends of the readings whether the line ends there, by
// which makes the smoother profile of what is shown, and corrects the depths by
// the mean over that.
func (t *traced) ends(s []sounding, h float64) []lineEnd {
	var out []lineEnd
	for _, last := range [...]bool{false, true} {
		n := min(len(s), endReadings)
		near := s[:n]
		e := lineEnd{at: s[0].station()}
		if last {
			near = s[len(s)-n:]
			e.at = s[len(s)-1].station()
		}
		e.depthM = typicalDepth(near)
		e.weigh(near, t.w.stepM, h)
		out = append(out, e)
	}
	for i := range s {
		if s[i].at.exposed {
			continue
		}
		for _, e := range out {
			mean, _ := e.shallow(s[i].station())
			s[i].lnDepth += mean
		}
	}
	return out
}

// typicalDepth is the median of some depths.
func typicalDepth(s []sounding) float64 {
	v := make([]float64, len(s))
	for i := range s {
		v[i] = s[i].lnDepth
	}
	return math.Exp(median(v))
}

// weigh sets the probabilities of the ways to end; what is left of 1 is that the
// line goes on.
func (e *lineEnd) weigh(near []sounding, stepM, h float64) {
	d := soundingData(near)
	first, last := near[0].station()-h, near[len(near)-1].station()+h
	score := func(c func(float64) float64) float64 {
		d.point = func(i int) (station, y, wt float64) {
			q := near[i]
			if station, y = q.station(), q.lnDepth; !q.at.exposed {
				y += c(station)
			}
			return station, y, q.wt
		}
		return fitCurveOver(d, first, last, h, stepReaches[:], stepWanders[:]).score
	}
	goesOn := score(func(float64) float64 { return 0 })
	total := 1 - endPrior
	for _, u := range endPlaces {
		w := endWay{beyondM: u * stepM}
		l := score(func(x float64) float64 { return e.missing(w, x) })
		w.p = endPrior / 3 * math.Exp(clamp(0.5*(goesOn-l), -mostOdds, mostOdds))
		total += w.p
		e.ways = append(e.ways, w)
	}
	for i := range e.ways {
		e.ways[i].p /= total
	}
}

// missing is what ln of a depth that is shown lacks at a station.
func (e *lineEnd) missing(w endWay, x float64) float64 {
	away := math.Abs(x-e.at) / e.depthM
	if away > endReach {
		return 0
	}
	return -math.Log1p(-cutOff(away + w.beyondM/e.depthM))
}

// shallow is the mean of what ln of the depth lacks, and its variance.
func (e *lineEnd) shallow(x float64) (mean, variance float64) {
	for _, w := range e.ways {
		m := e.missing(w, x)
		mean += w.p * m
		variance += w.p * m * m
	}
	return mean, math.Max(0, variance-mean*mean)
}

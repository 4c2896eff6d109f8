package fit

import (
	"math"

	"loamline.example/trace/receiver"
)

// lineEnd is the doubt whether the line ends near an end of its readings, where
// less depth is shown, or goes on: ways in which it may end, with probabilities.
type lineEnd struct {
	at, depthM float64
	heard      bool // signals were weighed too, and not the smoothness of depths alone
	ways       []endWay
}

// endWay is an end of the current beyondM from the last reading.
type endWay struct{ beyondM, p float64 }

const (
	endPrior    = 0.3  // of a trace's ends are ends of the line (judged; no source)
	endReadings = 12   // depths that tell (judgement)
	endReach    = 8.0  // depths, at which an end takes 1 % of one (derived from receiver.EndLoss)
	endSignals  = 4    // signals that tell anything (judgement)
	endSignalSD = 0.15 // of ln of the signal times the depth, about what the line makes of it (judgement)
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
		e.depthM = math.Exp(middleOf(near, depthOf))
		e.heard = len(onSignals(near)) >= endSignals
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

// risen is by how much ln of the depth was corrected for ends of which depths alone tell, and
// the variance that has. A line that rises to where its readings begin looks like one that ends
// there, and which of two profiles is the smoother says little of which lies in the ground: the
// band holds the depths as they were read.
func risen(ends []lineEnd, x float64) (mean, variance float64) {
	for i := range ends {
		if !ends[i].heard {
			m, v := ends[i].shallow(x)
			mean, variance = mean+m, variance+v
		}
	}
	return mean, variance
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
		return curveScore(d, first, last, h)
	}
	goesOn := score(func(float64) float64 { return 0 }) + e.signalScore(near, nil)
	total := 1 - endPrior
	for _, u := range endPlaces {
		w := endWay{beyondM: u * stepM}
		l := score(func(x float64) float64 { return e.missing(w, x) }) + e.signalScore(near, &w)
		w.p = endPrior / 3 * math.Exp(clamp(0.5*(goesOn-l), -mostOdds, mostOdds))
		total += w.p
		e.ways = append(e.ways, w)
	}
	for i := range e.ways {
		e.ways[i].p /= total
	}
}

// signalScore is -2 ln of the likelihood of the signals where the line ends in a way, or goes
// on (nil). Over a line that goes on the signal times the depth that is shown stays (Ampère's
// law); before an end of it, u depths away, the field is (1+u/√(1+u²))/2 of that, by the law
// of Biot and Savart, and the depth shown lacks what it lacks.
func (e *lineEnd) signalScore(near []sounding, w *endWay) float64 {
	var r, x []float64
	for _, q := range onSignals(near) {
		v := math.Log(q.signal) + q.lnDepth
		if w != nil {
			u := (math.Abs(q.station()-e.at) + w.beyondM) / e.depthM
			v += e.missing(*w, q.station()) - math.Log(receiver.HalfLine(u, 1))
		}
		r, x = append(r, v), append(x, q.station())
	}
	if len(r) < endSignals {
		return 0
	}
	meanR, meanX := meanValue(r), meanValue(x)
	var rr, rx, xx float64
	for i := range r {
		rr += sq(r[i] - meanR)
		rx += (r[i] - meanR) * (x[i] - meanX)
		xx += sq(x[i] - meanX)
	}
	misfit := (rr - sq(rx)/(xx+sq(endSignalSD/receiver.LeakPerM))) / sq(endSignalSD)
	return (priorDegrees + float64(len(r))) * math.Log1p(misfit/priorDegrees)
}

// onSignals are the depths beside which a signal was read.
func onSignals(near []sounding) []sounding {
	var out []sounding
	for _, q := range near {
		if q.signal > 0 && !q.at.exposed {
			out = append(out, q)
		}
	}
	return out
}

// missing is what ln of a depth that is shown lacks at a station.
func (e *lineEnd) missing(w endWay, x float64) float64 {
	away := math.Abs(x-e.at) / e.depthM
	if away > endReach {
		return 0
	}
	return -math.Log1p(-receiver.EndLoss(away + w.beyondM/e.depthM))
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

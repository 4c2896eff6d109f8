package tracetest

import "math"

// stop is a place where the locator takes a reading.
type stop struct {
	stationM float64
	timeS    float64
	reverse  bool
	pass     int
	fix      int
	sigmaM   float64
}

// stops lays out the walk over a line: passes, turns, gaps and times.
func (rc *recipe) stops(l Line, startS float64) []stop {
	r := rc.r
	var out []stop
	at := startS
	pace := r.between(7, 20)
	gapAt := l.FromM + (l.ToM-l.FromM)*r.between(0.25, 0.6)
	for pass := range rc.passes {
		back := rc.reverse && pass%2 == 1
		for _, s := range rc.stations(l, back) {
			at += math.Max(4, math.Min(40, pace*math.Exp(r.norm(0.35))))
			if rc.gapM > 0 && s.stationM > gapAt && s.stationM < gapAt+rc.gapM {
				continue
			}
			s.timeS, s.pass = at, pass
			out = append(out, s)
		}
		at += r.between(60, 600)
	}
	rc.assignFix(out)
	return out
}

// stations returns one pass in the order walked.
func (rc *recipe) stations(l Line, back bool) []stop {
	r := rc.r
	length := l.ToM - l.FromM
	var out []stop
	step := func() float64 { return rc.spacingM * math.Max(0.4, 1+r.norm(0.15)) }
	forward := true
	turnAfter := 8 + r.IntN(8)
	for x := r.between(0, 0.3) * rc.spacingM; x <= length; {
		s := l.FromM + x
		if back {
			s = l.ToM - x
		}
		out = append(out, stop{stationM: s, reverse: back == forward})
		if turnAfter--; rc.backForth && turnAfter <= 0 {
			forward = !forward
			turnAfter = 8 + r.IntN(8)
			if !forward {
				turnAfter = 3 + r.IntN(3)
			}
		}
		if forward {
			x += step()
		} else {
			x = math.Max(0, x-step())
		}
	}
	return out
}

// assignFix hands the walk's stretches to the fixes in turn.
func (rc *recipe) assignFix(stops []stop) {
	sigma := map[int]float64{}
	for _, f := range rc.fix {
		if _, ok := sigma[f]; !ok {
			sigma[f] = rc.r.ratio(sigmaRange(f))
		}
	}
	for i := range stops {
		k := i * len(rc.fix) / len(stops)
		stops[i].fix = rc.fix[k]
		stops[i].sigmaM = sigma[stops[i].fix]
	}
}

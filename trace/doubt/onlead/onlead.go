package onlead

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// What makes readings at an end of a line doubtful. All judgement.
const (
	// leadM is how deep a lead seems to lie at the most that lies on the ground, or in
	// grass: the error of so small a depth is as large.
	leadM = 0.15
	// The line is leapTimes as deep at once, and by the median of besideOn readings.
	leapTimes = 4.0
	besideOn  = 3
	// A lead is mostM long, and read leastOn times; leastTurned times where the course
	// turns by leastTurnRad at the end of it.
	mostM        = 15.0
	leastOn      = 3
	leastTurned  = 2
	leastTurnRad = 20 * math.Pi / 180
	// mostShare is the part of the readings that lies on it at the most.
	mostShare = 1.0 / 3
)

// Doubts are the ends of a drawn line that may be the transmitter's lead.
func Doubts(l *trace.Line) (found []trace.Finding) {
	if l.Centerline == nil {
		return nil
	}
	var on []*trace.Reading
	for i := range l.Readings {
		r := &l.Readings[i]
		if r.Status == trace.StatusUsed && r.Placed() && trace.Known(r.StationM) && r.DepthM > 0 {
			on = append(on, r)
		}
	}
	slices.SortStableFunc(on, func(a, b *trace.Reading) int { return cmp.Compare(a.StationM, b.StationM) })
	for _, end := range []bool{false, true} {
		if n, deepM := lead(on); n > 0 {
			from, to, path := l.Centerline.Stretch(math.Min(on[0].StationM, on[n].StationM), math.Max(on[0].StationM, on[n].StationM))
			found = append(found, finding.Doubt{Line: l.Setup.Name, FromM: from, ToM: to, Path: path,
				Why: remark.OnLead{N: n, AtEnd: end, MostM: deepM, ThenM: on[n].DepthM}})
		}
		slices.Reverse(on)
	}
	return found
}

// lead is how many readings from the first on are as over a lead, 0 for none, and their
// greatest depth.
func lead(on []*trace.Reading) (n int, deepM float64) {
	for n < len(on) && on[n].DepthM < leadM {
		deepM = math.Max(deepM, on[n].DepthM)
		n++
	}
	if n+besideOn > len(on) || n < leastTurned || float64(n) > mostShare*float64(len(on)) ||
		on[0].Pos.Dist(on[n].Pos) > mostM || !(on[n].DepthM >= leapTimes*deepM) {
		return 0, 0
	}
	var beside []float64
	for _, r := range on[n : n+besideOn] {
		beside = append(beside, r.DepthM)
	}
	if ranked.Median(beside) < leapTimes*deepM || n < leastOn && turn(on[0].Pos, on[n].Pos, on[n+besideOn-1].Pos) < leastTurnRad {
		return 0, 0
	}
	return n, deepM
}

// turn is by how much a course turns from one place over another to a third.
func turn(a, b, c geo.XY) float64 {
	p, q := b.Sub(a), c.Sub(b)
	return math.Abs(math.Atan2(p.Cross(q), p.Dot(q)))
}

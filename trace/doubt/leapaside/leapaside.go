// Package leapaside finds where a walk leaped aside within one stride and went on there, and
// the fit set aside the readings next to it ([Doubts]): what is left is a bend, as a line
// has it. Leaps between readings that are all used are told by the steps of the guard.
package leapaside

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/remark"
	"loamline.example/trace/walkorder"
)

// What is told of a leap. Judgement.
const (
	// reachM is how far on either side the places may be wrong.
	reachM = 12.0
	// overStatedTimes is how many times the accuracy stated of either place a leap is wide.
	overStatedTimes = 8.0
)

// Doubts are the leaps of a drawn line.
func Doubts(l *trace.Line) (found []trace.Finding) {
	order, walked := walkorder.Travel(l.Readings)
	if l.Centerline == nil || !walked {
		return nil
	}
	var on []*trace.Reading
	var at []geo.XY
	for _, i := range order {
		if r := &l.Readings[i]; r.Placed() && (r.Status == trace.StatusUsed || r.Outlier()) {
			on, at = append(on, r), append(at, r.Pos)
		}
	}
	for k := range on {
		s, ok := sidestep.Leap(at, k)
		if !ok || !besideAside(on, k) || math.Abs(s.LateralM) < overStatedTimes*statedM(on[k], on[k+1]) {
			continue
		}
		from, to := station(on, k, -1), station(on, k+1, 1)
		if !trace.Known(from) || !trace.Known(to) || to < from {
			continue
		}
		why := remark.StrideOvershoots{AsideM: math.Abs(s.LateralM), StationM: from}
		from, to, path := l.Centerline.Stretch(math.Max(0, from-reachM), math.Min(l.Centerline.Polyline().Length(), to+reachM))
		found = append(found, finding.Doubt{Line: l.Setup.Name, FromM: from, ToM: to, Path: path, Why: why})
	}
	return found
}

// besideAside reports whether a reading of the runs that a leap parts was set aside.
func besideAside(on []*trace.Reading, k int) bool {
	aside := 0
	for i := k + 1 - sidestep.RunPlaces; i < k+1+sidestep.RunPlaces; i++ {
		if on[i].Outlier() {
			aside++
		}
	}
	return aside > 0
}

// statedM is the larger accuracy that is stated of two readings, 0 where none is.
func statedM(a, b *trace.Reading) float64 {
	most := 0.0
	for _, r := range []*trace.Reading{a, b} {
		if r.HAccM > most {
			most = r.HAccM
		}
	}
	return most
}

// station is that of the first used reading from one on, to one side.
func station(on []*trace.Reading, from, step int) float64 {
	for i := from; i >= 0 && i < len(on); i += step {
		if on[i].Status == trace.StatusUsed && trace.Known(on[i].StationM) {
			return on[i].StationM
		}
	}
	return trace.Unknown
}

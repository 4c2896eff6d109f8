package bleed

import (
	"fmt"
	"math"

	"loamline/geo"
	"loamline/trace"
)

// closeDepths is the distance in depths below which a neighbour is reported
// even without a sign: some arrangements fool every check.
const closeDepths = 2

// closeDisplaced is how often mark or depth is displaced beside a close neighbour
// without any sign, for how often such a one may couple: 18 of 103 such stretches of
// simulated lines were, where 0.33 was the mean of the latter.
const closeDisplaced = 0.55

// closeRuns reports where a neighbour runs close and nothing was found.
func closeRuns(col *columns, e exposure, found []Stretch, units geo.Units) []Stretch {
	var out []Stretch
	for k := 0; k < len(col.rd); k++ {
		if !e.closeAt(k, col) || covered(found, col.rd[k].StationM, e.name) {
			continue
		}
		from := k
		for k+1 < len(col.rd) && e.closeAt(k+1, col) && !covered(found, col.rd[k+1].StationM, e.name) {
			k++
		}
		if s, ok := e.closeRun(col, from, k, units); ok {
			e.join(&s, col, from, k, found)
			out = append(out, s)
		}
	}
	return out
}

// join lets a run begin where a stretch found before it ends, and end where the
// next begins, where the neighbour runs close in between as well.
func (e exposure) join(s *Stretch, col *columns, from, to int, found []Stretch) {
	if from > 0 && e.closeAt(from-1, col) {
		for _, o := range found {
			if o.ToM >= col.rd[from-1].StationM && o.ToM < s.FromM {
				s.FromM = o.ToM
			}
		}
	}
	if to+1 < len(col.rd) && e.closeAt(to+1, col) {
		for _, o := range found {
			if o.FromM <= col.rd[to+1].StationM && o.FromM > s.ToM {
				s.ToM = o.FromM
			}
		}
	}
}

func (e exposure) closeAt(k int, col *columns) bool {
	a := e.at[k]
	return !math.IsNaN(a.asideM) && !a.crossing && math.Abs(a.asideM) < closeDepths*col.depth[k]
}

func covered(found []Stretch, stationM float64, neighbour string) bool {
	for _, s := range found {
		if s.Jump && s.Grade == trace.GradeWatch {
			continue // only possible: the neighbour is as close as ever
		}
		if stationM >= s.FromM && stationM <= s.ToM && (s.Neighbor == neighbour || s.Grade != trace.GradeWatch) {
			return true
		}
	}
	return false
}

func (e exposure) closeRun(col *columns, from, to int, units geo.Units) (Stretch, bool) {
	length := col.rd[to].StationM - col.rd[from].StationM
	if to-from < 2 || length < 3 {
		return Stretch{}, false
	}
	var u, aside []float64
	var may unseen
	shares := col.unseenShares(from, to)
	for k := from; k <= to; k++ {
		a := e.at[k]
		u, aside = append(u, math.Abs(a.asideM)/col.depth[k]), append(aside, math.Abs(a.asideM))
		may.hold(col.unseenAt(k, e, shares))
	}
	m := median(aside)
	why := fmt.Sprintf("Runs %.1f depths (%s) from %s for %s. No sign of bleed-over found, but lines this close can fool every check.",
		median(u), units.Short(m), quoted(e.name), units.Long(length))
	if !col.hasN && !col.hasS {
		why = fmt.Sprintf("Runs %.1f depths (%s) from %s for %s; these columns cannot show whether signal coupled.",
			median(u), units.Short(m), quoted(e.name), units.Long(length))
	}
	would := "How much signal could couple here unseen is not known, and nothing is added for it."
	if may.share > 0 {
		would = fmt.Sprintf("Assumed, not measured: up to %.0f %% of the line's current could flow on the neighbour unseen. The true line would then lie up to %s from the mark, and a depth would be wrong by up to %.0f %%. With more, both could be off further.",
			100*may.share, upToShort(units, max(may.leftM, may.rightM)), 100*math.Expm1(may.lnDepth))
	}
	why, m = e.doubted(why, m, units)
	return Stretch{FromM: col.rd[from].StationM, ToM: col.rd[to].StationM, Grade: trace.GradeWatch,
		Score: closeDisplaced * min(0.45, col.prior(e, from, to+1)), Neighbor: e.name, SeparationM: m,
		Evidence: []string{why, would}, ShiftM: math.NaN(), Shift95M: math.NaN(), LnDepth95: math.NaN(),
		WidenLeftM: may.leftM, WidenRightM: may.rightM}, true
}

// doubted words the closeness of a record whose frame leaves its place open, and
// gives no distance where the frame alone explains it: the record may lie anywhere
// so far about, and may be the line's own.
func (e exposure) doubted(why string, asideM float64, units geo.Units) (string, float64) {
	switch {
	case e.doubtM <= 0:
		return why, asideM
	case asideM > e.doubtM:
		return fmt.Sprintf("%s The record may lie %s off, because %s.", why, units.Short(e.doubtM), e.doubtWhy), asideM
	}
	return fmt.Sprintf("The record %s may run anywhere within %s of where it is drawn, because %s: it may be this line's own record, or a line close by.",
		quoted(e.name), units.Short(e.doubtM), e.doubtWhy), math.NaN()
}

// upToShort words a limit, rounded up: one that rounds to nothing would claim
// that everything shows.
func upToShort(u geo.Units, m float64) string {
	stepM := 0.01
	switch {
	case u == geo.US && m >= geo.FootM:
		stepM = geo.FootM / 10
	case u == geo.US || u == geo.FeetInches:
		stepM = geo.InchM
	}
	return u.Short(max(1, math.Ceil(m/stepM-1e-6)) * stepM)
}

func quoted(name string) string { return "'" + name + "'" }

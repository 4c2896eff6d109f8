package bleed

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// closeDepths is the distance in depths below which a neighbour is reported
// even without a sign: some arrangements fool every check. Judgement: farther off, a
// line of the same depth and current moves the mark by less than a tenth of a depth (by
// superposition).
const closeDepths = 2

// closeDisplaced is how often mark or depth is displaced beside a close neighbour
// without any sign, for how often such a one may couple: 18 of 103 such stretches of
// simulated lines were, where 0.33 was the mean of the latter, taken for no more than
// neighbourPrior whatever the hookup. Judgement, for that count is by no command that is kept.
const closeDisplaced = 0.55

// closeRuns reports where a neighbour runs close and nothing was found.
func closeRuns(col *columns, e neighbour, found []Stretch) []Stretch {
	var out []Stretch
	for k := 0; k < len(col.rd); k++ {
		if !e.closeAt(k, col) || covered(found, col.rd[k].StationM, e.name) {
			continue
		}
		from := k
		for k+1 < len(col.rd) && e.closeAt(k+1, col) && !covered(found, col.rd[k+1].StationM, e.name) {
			k++
		}
		if s, ok := e.closeRun(col, from, k); ok {
			e.join(&s, col, from, k, found)
			out = append(out, s)
		}
	}
	return out
}

// join lets a run begin where a stretch found before it ends, and end where the
// next begins, where the neighbour runs close in between as well.
func (e neighbour) join(s *Stretch, col *columns, from, to int, found []Stretch) {
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

func (e neighbour) closeAt(k int, col *columns) bool {
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

func (e neighbour) closeRun(col *columns, from, to int) (Stretch, bool) {
	length := col.rd[to].StationM - col.rd[from].StationM
	if to-from < 2 || length < 3 {
		return Stretch{}, false
	}
	var u, aside []float64
	var may unseen
	left, right := false, false
	shares := col.unseenShares(from, to)
	for k := from; k <= to; k++ {
		a := e.at[k]
		u, aside = append(u, math.Abs(a.asideM)/col.depth[k]), append(aside, math.Abs(a.asideM))
		left, right = left || a.asideM < 0, right || a.asideM > 0
		may.hold(col.unseenAt(k, e, shares))
	}
	m := median(aside)
	near, m := e.doubted(remark.CloseRun{Depths: median(u), AsideM: m, LengthM: length, Neighbor: e.name, Crosses: left && right, Blind: !col.hasN && !col.hasS}, m)
	return Stretch{FromM: col.rd[from].StationM, ToM: col.rd[to].StationM, Grade: trace.GradeWatch,
		Score: closeDisplaced * min(neighbourPrior, col.prior(e, from, to+1)), Neighbor: e.name, SeparationM: m,
		Evidence: []trace.Remark{near, remark.CoupledUnseen{Share: may.share, ShiftM: max(may.leftM, may.rightM), LnDepth: may.lnDepth}},
		ShiftM:   math.NaN(), Shift95M: math.NaN(), LnDepth95: may.lnDepth,
		WidenLeftM: may.leftM, WidenRightM: may.rightM}, true
}

// doubted tells of a record how far off it may lie for its frame alone, and
// gives no distance where the frame alone explains it: the record may lie anywhere
// so far about, and may be the line's own.
func (e neighbour) doubted(near remark.CloseRun, asideM float64) (trace.Remark, float64) {
	doubt := remark.RecordDoubt{OffM: e.doubtM, Why: e.doubtWhy}
	switch {
	case e.doubtM <= 0:
		return near, asideM
	case asideM > e.doubtM:
		near.Doubt = doubt
		return near, asideM
	}
	return remark.RecordAnywhere{Record: e.name, Doubt: doubt}, math.NaN()
}

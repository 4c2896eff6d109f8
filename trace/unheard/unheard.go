package unheard

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/walkorder"
)

// run is a row of readings, from one on and up to another without it, in the order of the
// walk.
type run struct {
	from, to int
	how      remark.Unheard
}

const (
	// leastRun is how many readings in a row are no slip. Judgement.
	leastRun = 3
	// runChance is how seldom such a row comes about by readings as they are strewn over
	// the rest of a walk. Judgement.
	runChance = 0.01
)

// NoChance reports whether a row of n readings that lack something is none, where so many
// of all do: of the others, with one that lacks it and one more that does not, so that none
// is sure.
func NoChance(n, lacking, all int) bool {
	rate := float64(lacking-n+1) / float64(all-n+2)
	return n >= leastRun && n < all && float64(all)*math.Pow(rate, float64(n)) < runChance
}

// Doubts are the stretches of a line on which nothing shows that it was heard, and those
// behind them on which another line was perhaps found. A reading's own error, one sigma per
// axis in metres, is ownM; NaN where nothing tells it.
func Doubts(l *trace.Line, ownM func(*trace.Reading) float64) []trace.Finding {
	if l.Centerline == nil {
		return nil
	}
	rs := walkorder.Taken(l.Readings, func(r *trace.Reading) bool {
		return r.Placed() && !r.Exposed && r.Status != trace.StatusCheck && !r.Repeated()
	})
	var out []trace.Finding
	all := runs(rs)
	for _, found := range all {
		if off := asideM(rs, found, ownM); off != 0 {
			found.how.AsideM = off
			found.to = len(rs)
			for _, next := range all {
				if next.from > found.from {
					found.to = min(found.to, next.from)
				}
			}
		}
		out = append(out, doubt(l, rs, found))
	}
	return out
}

// runs finds them: by what was shown, and by what the notes say, which one reading does.
func runs(rs []*trace.Reading) []run {
	of := usual(rs)
	blank, same, said := make([]bool, len(rs)), make([]bool, len(rs)), make([]bool, len(rs))
	for i, r := range rs {
		blank[i] = nothing(r, of)
		same[i] = i > 0 && !blank[i] && held(r, rs[i-1], of)
		said[i] = saysSo(r.Note)
	}
	var out []run
	for _, k := range []struct {
		is      []bool
		how     remark.Unheard
		enough  func(n, lacking int) bool
		another []bool // what is told already
	}{
		{said, remark.Unheard{Noted: true}, func(n, _ int) bool { return true }, make([]bool, len(rs))},
		{blank, remark.Unheard{}, func(n, lacking int) bool { return NoChance(n, lacking, len(rs)) }, said},
		// Where next to all show the same, nothing else shows what a reading would.
		{same, remark.Unheard{Held: true}, func(n, lacking int) bool {
			return len(rs)-lacking >= leastRun && NoChance(n, lacking, len(rs))
		}, said},
	} {
		lacking := 0
		for _, is := range k.is {
			if is {
				lacking++
			}
		}
		for from := 0; from < len(rs); from++ {
			to, told := from, 0
			for ; to < len(rs) && k.is[to]; to++ {
				if k.another[to] {
					told++
				}
			}
			if n := to - from; n > told && k.enough(n, lacking) {
				how := k.how
				how.N, how.FromRow, how.ToRow = n, rs[from].Row, rs[to-1].Row
				if how.Noted {
					how.Note = rs[from].Note
				}
				out = append(out, run{from, to, how})
			}
			from = max(from, to)
		}
	}
	return out
}

// doubt is told from the last reading before that shows something to the first one behind.
func doubt(l *trace.Line, rs []*trace.Reading, found run) trace.Finding {
	from, to := math.Inf(1), math.Inf(-1)
	var places []geo.XY
	for i := max(0, found.from-1); i <= min(found.to, len(rs)-1); i++ {
		if i >= found.from && i < found.to {
			places = append(places, rs[i].Pos)
		}
		if s := rs[i].StationM; trace.Known(s) {
			from, to = math.Min(from, s), math.Max(to, s)
		}
	}
	d := finding.Doubt{Line: l.Setup.Name, FromM: trace.Unknown, ToM: trace.Unknown, Path: places, Why: found.how}
	if from < to {
		d.FromM, d.ToM, d.Path = l.Centerline.Stretch(from, to)
	}
	return d
}

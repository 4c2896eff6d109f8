package unheard

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/doubt"
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
	// notedApart is how many readings without a note may lie between two with one that are
	// of one stretch: who notes a lost signal writes it at some of the places. Judgement.
	notedApart = 3
	// reportedApart is how many stretches of a line are told one by one; more are one item,
	// as with what the readings contradict. Judgement: nobody looks at each place of a longer
	// list. Of more than mostNoted, of which the notes tell, the line is in doubt from the
	// first one to the last (judgement).
	reportedApart = 4
	mostNoted     = 50
)

// NoChance reports whether a row of n readings that lack something is none, where so many
// of all do: of the others, with one that lacks it and one more that does not, so that none
// is sure.
func NoChance(n, lacking, all int) bool {
	rate := float64(lacking-n+1) / float64(all-n+2)
	return n >= leastRun && n < all && float64(all)*math.Pow(rate, float64(n)) < runChance
}

// Doubts are the stretches of a line on which nothing shows that it was heard, or that were
// read beside it as their notes say, and those behind them on which another line was
// perhaps found. A reading's own error, one sigma per
// axis in metres, is ownM; NaN where nothing tells it.
func Doubts(l *trace.Line, ownM func(*trace.Reading) float64) []trace.Finding {
	if l.Centerline == nil {
		return nil
	}
	rs := walkorder.Taken(l.Readings, func(r *trace.Reading) bool {
		return r.Placed() && !r.Exposed && r.Status != trace.StatusCheck && !r.Repeated()
	})
	all := runs(rs)
	slices.SortStableFunc(all, func(a, b run) int { return cmp.Compare(a.from, b.from) })
	next := len(rs) // the first reading of the run behind
	for k := len(all) - 1; k >= 0; k-- {
		if k+1 < len(all) && all[k+1].from > all[k].from {
			next = all[k+1].from
		}
		if off := asideM(rs, all[k], ownM); off != 0 && !all[k].how.Beside {
			all[k].how.AsideM, all[k].to = off, next
		}
	}
	var among trace.Remark
	if len(all) > reportedApart {
		among = worst(all).how
	}
	var out []trace.Finding
	for _, found := range all {
		d := doubtOf(l, rs, found)
		d.Among = among
		out = append(out, d)
	}
	return out
}

// worst is the run that says most: that another line was perhaps found behind it, or else
// the longest.
func worst(all []run) run {
	return slices.MaxFunc(all, func(a, b run) int {
		return cmp.Or(cmp.Compare(math.Abs(a.how.AsideM), math.Abs(b.how.AsideM)), cmp.Compare(a.how.N, b.how.N))
	})
}

// runs finds them: by what was shown, and by what the notes say, which one reading does.
func runs(rs []*trace.Reading) []run {
	of := usual(rs)
	blank, same, said, beside := make([]bool, len(rs)), make([]bool, len(rs)), make([]bool, len(rs)), make([]bool, len(rs))
	for i, r := range rs {
		blank[i] = nothing(r, of)
		same[i] = i > 0 && !blank[i] && held(r, rs[i-1], of)
		said[i] = saysSo(r.Note)
		beside[i] = !said[i] && saysBeside(r.Note)
	}
	var out []run
	for _, k := range []struct {
		is      []bool
		how     remark.Unheard
		enough  func(n, lacking int) bool
		another []bool // what is told already
	}{
		{said, remark.Unheard{Noted: true}, func(n, _ int) bool { return true }, make([]bool, len(rs))},
		{beside, remark.Unheard{Noted: true, Beside: true}, func(n, _ int) bool { return true }, said},
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
		var found []run
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
				found = append(found, run{from, to, how})
			}
			from = max(from, to)
		}
		if k.how.Noted {
			found = joinedNotes(found)
		}
		out = append(out, found...)
	}
	return out
}

// joinedNotes joins runs that the notes tell, in their order, where few readings lie between
// them; all where there are too many to tell apart.
func joinedNotes(noted []run) (out []run) {
	join := func(a *run, b run) {
		a.to, a.how.ToRow, a.how.N = b.to, b.how.ToRow, a.how.N+b.how.N
	}
	for _, r := range noted {
		if n := len(out) - 1; n >= 0 && r.from-out[n].to <= notedApart {
			join(&out[n], r)
			continue
		}
		out = append(out, r)
	}
	if len(out) > mostNoted {
		for _, r := range out[1:] {
			join(&out[0], r)
		}
		out = out[:1]
	}
	return out
}

// doubtOf is told from the last reading before that shows something to the first one behind.
func doubtOf(l *trace.Line, rs []*trace.Reading, found run) finding.Doubt {
	return doubt.Over(l, rs[max(0, found.from-1):min(found.to+1, len(rs))], rs[found.from:found.to], found.how)
}

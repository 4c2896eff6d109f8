package locate

import (
	"cmp"
	"math"
	"slices"
	"time"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// shownError is what the exposed depths of a line showed of its receiver's.
type shownError struct {
	n              int     // exposed depths that one factor explains; 0 where none does
	lnScale, sigma float64 // that factor, read over true, and its error
	wrong          remark.ExposedDeeper
	lnWrong        float64 // of the depth that no receiver's error explains, where n is 0; else 0
}

// half95 is the ln of the factor by which depths of the same receiver may be off.
func (e shownError) half95() float64 {
	if e.n == 0 {
		return math.Abs(e.lnWrong)
	}
	return math.Abs(e.lnScale) + 1.96*e.sigma
}

// oneDay is how far apart in time two lines may have been read with the receiver, the
// ground and the setting the same: between the end of one and the beginning of the other.
// Judgement.
const oneDay = 12 * time.Hour

// shareShownErrors puts into the bands of lines without an exposed depth what those of
// others read on the same day showed: receiver.DepthScaleRel is one error for all depths
// of a receiver and a day, so what one line shows of it holds for all. The depths
// themselves stay: nothing says that one receiver read all lines. What no receiver's
// error explains on one line makes the depths of the others doubtful, in words too.
func shareShownErrors(lines []trace.Line, errs []lineErrors) {
	var shows []int
	for j := range errs {
		if errs[j].shown.half95() > 0 {
			shows = append(shows, j)
		}
	}
	if len(shows) == 0 {
		return
	}
	// The first of the same day is the worst.
	slices.SortStableFunc(shows, func(a, b int) int { return cmp.Compare(errs[b].shown.half95(), errs[a].shown.half95()) })
	read := make([]span, len(lines))
	for i := range lines {
		read[i] = readBetween(&lines[i])
	}
	for i := range lines {
		l, k := &lines[i], &errs[i]
		if k.depthScale > 0 || !hasDepth(l.Centerline) {
			continue
		}
		first := slices.IndexFunc(shows, func(j int) bool { return sameDay(read[i], read[j]) })
		if first < 0 {
			continue
		}
		worst := shows[first]
		e, other := errs[worst].shown, lines[worst].Setup.Name
		rel := math.Min(mostLnDepth95, e.half95()) / 1.96
		if rel <= k.depthScaleRel {
			continue
		}
		k.depthScaleRel = rel
		if e.n > 0 {
			l.Centerline.Notes = append(l.Centerline.Notes, remark.DepthsAsOn{Other: other, LnScale: e.lnScale, Sigma: e.sigma})
			continue
		}
		k.depthsDoubted = true
		k.tell(l, trace.Unknown, trace.AdviseExposed, remark.DepthsWrongOn{Other: other, MeasuredM: e.wrong.MeasuredM, ReadM: e.wrong.ReadM})
	}
}

func hasDepth(c *trace.Centerline) bool {
	if c == nil {
		return false
	}
	for _, p := range c.Parts {
		for _, v := range p.Vertices {
			if v.DepthM > 0 {
				return true
			}
		}
	}
	return false
}

// span is when a line was read; an exposure may be of another day.
type span struct {
	from, to time.Time
	told     bool
}

// sameDay reports whether two lines may have been read on one day: also where nothing
// says when one was.
func sameDay(a, b span) bool {
	return !a.told || !b.told || a.from.Sub(b.to) < oneDay && b.from.Sub(a.to) < oneDay
}

func readBetween(l *trace.Line) (out span) {
	for i := range l.Readings {
		r := &l.Readings[i]
		if r.Time.IsZero() || r.Exposed {
			continue
		}
		if !out.told || r.Time.Before(out.from) {
			out.from = r.Time
		}
		if !out.told || r.Time.After(out.to) {
			out.to = r.Time
		}
		out.told = true
	}
	return out
}

// showErrors notes what the exposed depths of a line show of its receiver's.
func (k *lineErrors) showErrors(places []exposedPlace, n int, lnScale, variance float64, odd []bool) {
	k.shown = shownError{n: n, lnScale: lnScale, sigma: math.Sqrt(variance)}
	if n > 0 {
		return
	}
	for i, p := range places {
		if !odd[i] && trace.Known(p.lnDepth) && math.Abs(p.lnDepth) > math.Abs(k.shown.lnWrong) {
			k.shown.lnWrong, k.shown.wrong = p.lnDepth, remark.ExposedDeeper{MeasuredM: p.r.DepthM, ReadM: p.e.DepthM}
		}
	}
}

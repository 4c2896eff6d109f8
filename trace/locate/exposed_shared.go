package locate

import (
	"math"
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
	for i := range lines {
		l, k := &lines[i], &errs[i]
		if k.depthScale > 0 || len(shows) == 0 || !hasDepth(l.Centerline) {
			continue
		}
		worst := -1
		for _, j := range shows {
			if sameDay(l, &lines[j]) && (worst < 0 || errs[j].shown.half95() > errs[worst].shown.half95()) {
				worst = j
			}
		}
		if worst < 0 {
			continue
		}
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

// sameDay reports whether two lines may have been read on one day: also where nothing
// says when one was.
func sameDay(a, b *trace.Line) bool {
	fromA, toA, okA := readBetween(a)
	fromB, toB, okB := readBetween(b)
	return !okA || !okB || fromA.Sub(toB) < oneDay && fromB.Sub(toA) < oneDay
}

// readBetween is when a line was read; an exposure may be of another day.
func readBetween(l *trace.Line) (from, to time.Time, ok bool) {
	for i := range l.Readings {
		r := &l.Readings[i]
		if r.Time.IsZero() || r.Exposed {
			continue
		}
		if !ok || r.Time.Before(from) {
			from = r.Time
		}
		if !ok || r.Time.After(to) {
			to = r.Time
		}
		ok = true
	}
	return from, to, ok
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

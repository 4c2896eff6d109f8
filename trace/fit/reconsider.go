package fit

import (
	"context"
	"math"
	"sort"

	"loamline.example/geo"
)

// Bounds of what is reconsidered. Judgement: time, but for clearlyBetter.
const (
	mostReconsidered = 1500
	mostRivals       = 3
	mostTwice        = 200  // readings up to which all others are tried, and judged anew without a burst
	clearlyBetter    = 1.0  // so that what is settled by a hair stays
	atEndM           = 0.01 // stations of readings beyond an end are at it, to rounding
)

// reconsidered asks of each group of readings that a burst of leaping positions
// would leave behind whether the line is likelier without it. Where that is nearly
// as likely, the other shape becomes a rival that the band allows for.
func (t *traced) reconsidered(ctx context.Context) (*traced, error) {
	if len(t.w.obs) > mostReconsidered {
		return t, nil
	}
	tried := map[verdict]bool{}
	t, err := t.regained(ctx)
	if err != nil {
		return nil, err
	}
	for range mostJudged {
		best := t
		var all []*traced
		_, scale, known := t.usualOffset()
		for _, g := range t.bursts() {
			if tried[g] || known && len(t.w.obs) > mostTwice && t.settled(g, scale) {
				continue
			}
			tried[g] = true
			next, err := t.without(ctx, []verdict{g})
			if err != nil {
				return nil, err
			}
			if next == nil {
				continue
			}
			if g.to-g.from >= mostEnd && len(t.w.obs) <= mostTwice {
				if next, err = next.judged(ctx); err != nil {
					return nil, err
				}
			}
			if next.score < t.score+mostBehind { // others can be no rivals
				all = append(all, next)
			}
			if next.score < math.Min(best.score, t.score-clearlyBetter) {
				best = next
			}
		}
		best.noteRivals(append(all, t))
		if best == t {
			return t, nil
		}
		t = best
	}
	return t, nil
}

// regained tries again to hold readings that lie beyond an end of the line. Their
// stations are all at that end, so that no other shape of the same stations could
// hold them: they are placed anew, along a backbone of all that is not set aside.
func (t *traced) regained(ctx context.Context) (*traced, error) {
	own := t.w.copied()
	beyond := 0
	reach := own.stepM + 4*math.Hypot(own.scaleM, own.floorM)
	for i := range own.obs {
		o := &own.obs[i]
		if o.fate = Blunder; !o.out {
			o.fate = Used
		}
		if end := t.sh.line.Length(); !o.out && t.w.obs[i].piece < 0 && math.Abs(o.offsetM) > reach && (o.stationM < atEndM || o.stationM > end-atEndM) {
			beyond++
		}
	}
	if beyond < fewReadings-1 {
		return t, nil
	}
	path := own.backbone()
	if len(path) < 2 {
		return t, nil
	}
	own.place(geo.NewPolyline(path))
	next, err := own.attempt(ctx, t.scale)
	if err != nil || next == nil || next.score > t.score-clearlyBetter {
		return t, err
	}
	next.rivals = t.rivals
	return next.judged(ctx)
}

// noteRivals notes the likeliest of other shapes as rivals. One that scores the same as
// another is the same shape, found again.
func (t *traced) noteRivals(others []*traced) {
	all := append(t.rivals, others...)
	sort.SliceStable(all, func(a, b int) bool { return all[a].score < all[b].score })
	t.rivals = nil
	last := t.score
	for _, o := range all {
		if len(t.rivals) == mostRivals || o.score >= t.score+mostBehind {
			break
		}
		if o != t && math.Abs(o.score-t.score) > sameScore && math.Abs(o.score-last) > sameScore {
			t.rivals, last = append(t.rivals, o), o.score
		}
	}
}

// sameScore is the difference up to which two shapes are one. A bound of the arithmetic.
const sameScore = 1e-6

package fit

import (
	"context"
	"math"
	"sort"
)

// Bounds of what is reconsidered. Judgement: time, but for clearlyBetter.
const (
	mostReconsidered = 1500
	mostRivals       = 3
	mostTwice        = 200 // readings up to which all others are tried, and judged anew without a burst
	clearlyBetter    = 1.0 // so that what is settled by a hair stays
)

// reconsidered asks of each group of readings that a burst of leaping positions
// would leave behind whether the line is likelier without it. Where that is nearly
// as likely, the other shape becomes a rival that the band allows for.
func (t *traced) reconsidered(ctx context.Context) (*traced, error) {
	if len(t.w.obs) > mostReconsidered {
		return t, nil
	}
	tried := map[verdict]bool{}
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

package fit

import (
	"context"
	"math"
	"sort"

	"loamline/geo"
)

// Bounds of what is reconsidered.
const (
	fewReadings      = 4 // of a run that may be a burst of leaps
	mostEnd          = 3 // readings at an end, or beside a joint, that may be one
	mostReconsidered = 1500
	mostRivals       = 3
	mostTwice        = 200 // readings up to which others are judged anew without a burst
	clearlyBetter    = 4.0 // odds of 7 to 1
)

// reconsidered asks of each group of readings that a burst of leaping positions
// would leave behind whether the line is likelier without it: short runs, the
// ends, and the readings on both sides of a joint. Where that is nearly as
// likely, the other shape becomes a rival that the band heeds.
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
		for _, g := range t.bursts() {
			if tried[g] {
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
		best.heed(append(all, t))
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
		if end := t.sh.line.Length(); !o.out && t.w.obs[i].piece < 0 && math.Abs(o.offsetM) > reach && (o.stationM < 0.01 || o.stationM > end-0.01) {
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

// heed notes the likeliest of other shapes as rivals.
func (t *traced) heed(others []*traced) {
	for _, o := range others {
		if o != t {
			t.rivals = append(t.rivals, o)
		}
	}
	sort.SliceStable(t.rivals, func(a, b int) bool { return t.rivals[a].score < t.rivals[b].score })
	n := 0
	for n < min(mostRivals, len(t.rivals)) && t.rivals[n].score < t.score+mostBehind {
		n++
	}
	t.rivals = t.rivals[:n]
}

// bursts lists the groups of readings in use that may be bursts.
func (t *traced) bursts() []verdict {
	var out []verdict
	seen := map[verdict]bool{}
	add := func(from, to int) {
		for i := from; i < to; i++ {
			if t.w.obs[i].exposed {
				return
			}
		}
		if g := (verdict{from: from, to: to}); from < to && !seen[g] {
			seen[g] = true
			out = append(out, g)
		}
	}
	var used []int
	for i := range t.w.obs {
		if t.w.obs[i].piece >= 0 {
			used = append(used, i)
		}
	}
	if len(used) < 2*mostEnd {
		return nil
	}
	last := len(used) - 1
	rel, scale, ok := t.usualOffset()
	for k := 0; k < mostEnd; k++ {
		if !ok || !t.plainEnd(used[:k+1], rel, scale) {
			add(used[0], used[k]+1)
		}
		if !ok || !t.plainEnd(used[last-k:], rel, scale) {
			add(used[last-k], used[last]+1)
		}
	}
	for k := 1; k <= last; k++ {
		if t.w.obs[used[k]].piece == t.w.obs[used[k-1]].piece {
			continue
		}
		for m := 1; m <= mostEnd; m++ { // readings before and after the change
			if a := k - m; a >= 0 && t.w.obs[used[a]].piece == t.w.obs[used[k-1]].piece {
				add(used[a], used[k-1]+1)
			}
			if b := k + m - 1; b <= last && t.w.obs[used[b]].piece == t.w.obs[used[k]].piece {
				add(used[k], used[b]+1)
			}
		}
		for m := k + 1; m <= min(k+fewReadings, last); m++ { // a whole short run
			if t.w.obs[used[m]].piece != t.w.obs[used[m-1]].piece {
				add(used[k], used[m-1]+1)
				break
			}
		}
	}
	return out
}

// plainEnd reports whether readings at an end lie on a long straight run like
// its others: leaving them out saves neither misfit nor parameters.
func (t *traced) plainEnd(used []int, rel func(*observation) float64, scale float64) bool {
	for _, i := range used {
		o := &t.w.obs[i]
		r := &t.sh.runs[o.piece]
		if !r.straight || len(r.part) < 3*mostEnd || rel(o) > plainOffset*scale {
			return false
		}
	}
	return true
}

// plainOffset is an offset, in units of what is usual, that is no sign of a leap.
const plainOffset = 2.0

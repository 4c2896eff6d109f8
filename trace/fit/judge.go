package fit

import (
	"context"
	"math"
	"slices"
	"sort"
)

// Offsets, in units of what is usual, at which a reading is thought to be no
// reading of this line, and below which one that was thought so is tried again.
// Judgement: of good readings 0.5 % are farther off by chance than the former, if normal.
const (
	doubtedAt = 2.8
	trustedAt = 2.5
)

// mostJudged is the number of times that readings are judged, and of groups of
// them that are tried each time. Judgement: time.
const (
	mostJudged = 4
	mostGroups = 6
)

// verdict changes a group of neighbouring readings: out of the shape or back in.
type verdict struct {
	from, to int // readings of the walk
	z        float64
}

// judged sets readings aside that are farther from the line than their fellows
// let them be, takes back those that are not any more, and fits again: first all
// at once, and where that makes the whole no likelier, group by group. What makes
// nothing likelier stays undone, for it is as often the line that is wrong.
func (t *traced) judged(ctx context.Context) (*traced, error) {
	if len(t.w.obs) > maxCompeting {
		return t.refitted(ctx)
	}
	for range mostJudged {
		groups := t.doubted(doubtedAt)
		if len(groups) == 0 {
			return t, nil
		}
		next, err := t.without(ctx, groups)
		if err != nil {
			return nil, err
		}
		if next == nil || !(next.score < t.score) {
			if next, err = t.withoutOne(ctx, groups); err != nil {
				return nil, err
			}
		}
		if next == nil {
			return t, nil
		}
		t = next
	}
	return t, nil
}

// withoutOne tries the groups one by one, the strangest first, and returns the
// first shape that is likelier. What shapes nothing as it is changes nothing.
func (t *traced) withoutOne(ctx context.Context, groups []verdict) (*traced, error) {
	if len(groups) < 2 {
		return nil, nil
	}
	sort.SliceStable(groups, func(a, b int) bool { return groups[a].z > groups[b].z })
	for _, g := range groups[:min(len(groups), mostGroups)] {
		if t.idle(g) {
			continue
		}
		next, err := t.without(ctx, []verdict{g})
		if err != nil {
			return nil, err
		}
		if next != nil && next.score < t.score {
			return next, nil
		}
	}
	return nil, nil
}

// idle reports whether a group shapes nothing although it is not set aside: its
// shape left all of its readings out by itself.
func (t *traced) idle(g verdict) bool {
	return !slices.ContainsFunc(t.w.obs[g.from:g.to], func(o observation) bool { return o.out || o.fate == Used })
}

// without fits again with some groups changed.
func (t *traced) without(ctx context.Context, groups []verdict) (*traced, error) {
	own := t.w.copied()
	own.turn(groups)
	next, err := own.attempt(ctx, t.scale)
	if next != nil {
		next.rivals = t.rivals
	}
	return next, err
}

// doubted groups the readings whose offset asks for a change: beyond what is
// doubted out of the shape, below what is trusted back in.
func (t *traced) doubted(beyond float64) []verdict {
	rel, scale, ok := t.usualOffset()
	if !ok {
		return nil
	}
	var out []verdict
	for i := range t.w.obs {
		o := &t.w.obs[i]
		z := rel(o) / scale
		if o.exposed || (!o.out && z <= beyond) || (o.out && z >= trustedAt) {
			continue
		}
		if o.fate != Used && math.Abs(o.offsetM) > mostLeapM { // it shapes nothing and never will
			continue
		}
		if o.out {
			z = 0
		}
		if n := len(out); n > 0 && out[n-1].to == i && t.w.obs[i-1].out == o.out {
			out[n-1].to, out[n-1].z = i+1, math.Max(out[n-1].z, z)
			continue
		}
		out = append(out, verdict{i, i + 1, z})
	}
	return out
}

package fit

import (
	"context"
	"math"
	"slices"
	"sort"
)

// runs fits each span and joins neighbours, up to four at a time, wherever one
// run scores better than several: the best joins first, and again until none
// pays.
func (b *builder) runs(ctx context.Context, spans []span) ([]run, error) {
	parts := make([]run, 0, len(spans))
	for i, sp := range spans {
		from, to := sp.from, sp.to
		if i == 0 {
			from = 0
		}
		if i+1 == len(spans) {
			to = len(b.s)
		}
		if r, ok := b.best(from, to); ok {
			parts = append(parts, r)
		}
	}
	scores := map[[2]int]float64{} // of one run over a window of samples
	for {
		joins, err := b.joins(ctx, parts, scores)
		if err != nil || len(joins) == 0 {
			return parts, err
		}
		parts = b.joined(parts, joins)
	}
}

// mostJoined is the number of parts that may become one at a time: judgement, as in a
// prototype study of the method.
const mostJoined = 4

// join is that parts [from, to) become one, and by how much they score better so.
type join struct {
	from, to int
	gain     float64
}

// joins are those that pay, best first.
func (b *builder) joins(ctx context.Context, parts []run, scores map[[2]int]float64) ([]join, error) {
	var all []join
	for i := range parts {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		sum := parts[i].score(b.price)
		for to := i + 2; to <= min(i+mostJoined, len(parts)); to++ {
			last := &parts[to-1]
			sum += last.score(b.price)
			if elbowInside(parts[i:to]) {
				continue
			}
			window := [2]int{parts[i].from, last.to}
			score, known := scores[window]
			if !known {
				score = math.Inf(1)
				if r, ok := b.best(window[0], window[1]); ok {
					score = r.score(b.price)
				}
				scores[window] = score
			}
			if gain := sum - score; gain > 1e-9 {
				all = append(all, join{i, to, gain})
			}
		}
	}
	sort.SliceStable(all, func(a, c int) bool { return all[a].gain > all[c].gain })
	return all, nil
}

// joined makes of the joins those that share no part with a better one.
func (b *builder) joined(parts []run, joins []join) []run {
	taken, width := make([]bool, len(parts)), make([]int, len(parts))
	for _, j := range joins {
		if slices.Contains(taken[j.from:j.to], true) {
			continue
		}
		width[j.from] = j.to - j.from
		for i := j.from; i < j.to; i++ {
			taken[i] = true
		}
	}
	out := parts[:0:0]
	for i := 0; i < len(parts); i += max(1, width[i]) {
		r := parts[i]
		if w := width[i]; w > 0 {
			r, _ = b.best(r.from, parts[i+w-1].to)
		}
		out = append(out, r)
	}
	return out
}

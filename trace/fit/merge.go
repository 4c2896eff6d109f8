package fit

import (
	"context"
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
	gains := make([]joinGains, len(parts))
	for {
		if err := b.weighJoins(ctx, parts, gains); err != nil {
			return nil, err
		}
		width := chooseJoins(parts, gains)
		if width == nil {
			return parts, nil
		}
		parts, gains = b.join(parts, gains, width)
	}
}

// mostJoined is the number of parts that may become one at a time: judgement, as in a
// prototype study of the method.
const mostJoined = 4

// joinGains is what the score gains where a part is joined with the next one,
// two, three; known tells which have been worked out.
type joinGains struct {
	gain  [mostJoined - 1]float64
	known [mostJoined - 1]bool
}

// weighJoins works out the gains that are not known yet.
func (b *builder) weighJoins(ctx context.Context, parts []run, gains []joinGains) error {
	for i := range parts {
		if err := ctx.Err(); err != nil {
			return err
		}
		sum := parts[i].score(b.price)
		for k := 0; k+2 <= mostJoined && i+k+1 < len(parts); k++ {
			last := &parts[i+k+1]
			sum += last.score(b.price)
			if gains[i].known[k] {
				continue
			}
			gains[i].known[k], gains[i].gain[k] = true, -1
			if elbowInside(parts[i : i+k+2]) {
				continue
			}
			if r, ok := b.best(parts[i].from, last.to); ok {
				gains[i].gain[k] = sum - r.score(b.price)
			}
		}
	}
	return nil
}

// chooseJoins picks joins that don't share a part, best first, and returns for
// each part how many from it on become one; nil where none pays.
func chooseJoins(parts []run, gains []joinGains) []int {
	type join struct{ at, width int }
	var all []join
	for i := range gains {
		for k, g := range gains[i].gain {
			if gains[i].known[k] && g > 1e-9 {
				all = append(all, join{i, k + 2})
			}
		}
	}
	if len(all) == 0 {
		return nil
	}
	sort.SliceStable(all, func(a, c int) bool {
		return gains[all[a].at].gain[all[a].width-2] > gains[all[c].at].gain[all[c].width-2]
	})
	taken := make([]bool, len(parts))
	width := make([]int, len(parts))
	for _, j := range all {
		free := true
		for i := j.at; i < j.at+j.width; i++ {
			free = free && !taken[i]
		}
		if !free {
			continue
		}
		width[j.at] = j.width
		for i := j.at; i < j.at+j.width; i++ {
			taken[i] = true
		}
	}
	return width
}

// join makes the chosen joins and keeps the gains of windows that they leave
// alone.
func (b *builder) join(parts []run, gains []joinGains, width []int) ([]run, []joinGains) {
	out, left := parts[:0:0], gains[:0:0]
	for i := 0; i < len(parts); i++ {
		if w := width[i]; w > 0 {
			r, _ := b.best(parts[i].from, parts[i+w-1].to)
			out, left = append(out, r), append(left, joinGains{})
			i += w - 1
			continue
		}
		g := gains[i]
		for k := range g.known {
			for j := i + 1; j <= min(i+k+1, len(parts)-1); j++ {
				g.known[k] = g.known[k] && width[j] == 0
			}
		}
		out, left = append(out, parts[i]), append(left, g)
	}
	return out, left
}

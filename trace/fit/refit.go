package fit

import "context"

// plainlyOff is the offset, in units of what is usual, at which a reading is set
// aside without asking whether the whole is likelier. Judgement: of normal errors one in
// 150,000 is farther off.
const plainlyOff = 4.5

// refitted judges the readings of a long walk once and fits again. The former
// shape gives way at once, in the same walk: two of either would take twice the
// memory, and on a long walk the new shape is taken in any case. Without readings
// enough for one it returns none.
func (t *traced) refitted(ctx context.Context) (*traced, error) {
	groups := t.doubted(plainlyOff)
	if len(groups) == 0 {
		return t, nil
	}
	t.w.turn(groups)
	t.sh = nil
	next, err := t.w.attempt(ctx, t.scale)
	if next != nil {
		next.rivals = t.rivals
	}
	return next, err
}

// turn takes groups of readings out of the shape, or back in.
func (w *walk) turn(groups []verdict) {
	for _, g := range groups {
		out := !w.obs[g.from].out
		for i := g.from; i < g.to; i++ {
			w.obs[i].out = out
		}
	}
}

package bleed

import "cmp"

// model is one wander's model of the columns of a window.
type model struct{ ds, null, pos *gaussian }

func (t model) log() (l float64) {
	if t.ds != nil {
		l += t.ds.evidence()
	}
	if t.null != nil {
		l += t.null.evidence()
	}
	if t.pos != nil {
		l += t.pos.evidence()
	}
	return l
}

// cost is the price of all explanations in it.
func (t model) cost() (c float64) {
	for _, b := range []*gaussian{t.ds, t.null, t.pos} {
		if b != nil {
			c += b.cost
		}
	}
	return c
}

// copied returns a model that can be changed without changing t.
func (t model) copied() model {
	return model{t.ds.copied(), t.null.copied(), t.pos.copied()}
}

// copiedInto is copied, in the place of what nobody needs any more: a gaussian of a window is
// some 300 kB.
func (t model) copiedInto(spent *model) model {
	into := model{t.ds.copiedInto(spent.ds), t.null.copiedInto(spent.null), t.pos.copiedInto(spent.pos)}
	spent.ds, spent.null, spent.pos = cmp.Or(into.ds, spent.ds), cmp.Or(into.null, spent.null), cmp.Or(into.pos, spent.pos)
	return into
}

// turnTo gives each gaussian other data.
func (t model) turnTo(y partialResidual) {
	t.ds.turnTo(y.ds)
	t.null.turnTo(y.null)
	t.pos.turnTo(y.pos)
}

// data are those of the Gaussians.
func (t model) data() (y partialResidual) {
	if t.ds != nil {
		y.ds = t.ds.y
	}
	if t.null != nil {
		y.null = t.null.y
	}
	if t.pos != nil {
		y.pos = t.pos.y
	}
	return y
}

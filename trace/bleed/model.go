package bleed

import "slices"

// model is one wander's model of the columns of a window.
type model struct{ ds, null, pos *block }

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
	for _, b := range []*block{t.ds, t.null, t.pos} {
		if b != nil {
			c += b.cost
		}
	}
	return c
}

// about returns a block like b about other data; nil for none.
func (b *block) about(y []float64) *block {
	if b == nil {
		return nil
	}
	c := b.copied()
	c.y = slices.Clone(y)
	c.refresh()
	return c
}

// data is the block's data; nil for none.
func (b *block) data() []float64 {
	if b == nil {
		return nil
	}
	return b.y
}

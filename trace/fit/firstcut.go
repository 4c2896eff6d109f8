package fit

// firstCuts are those of a walk, by the scale of the noise.
type firstCuts map[float64]*firstCut

// at is that of a scale.
func (c firstCuts) at(scale float64) *firstCut {
	if c[scale] == nil {
		c[scale] = &firstCut{}
	}
	return c[scale]
}

// firstCut is where the first search for pieces of a walk broke it, at one scale of the noise.
// Readings left out take breaks away and move them by a few readings: the searches after it
// look for breaks there, and where the readings are not those of then.
type firstCut struct {
	places map[int32]int // of the samples then, by index; nil before
	near   []bool        // a break, by place
}

const (
	// nearBreak is how many samples from where a break was another is looked for. Judgement: one
	// more than the readings in a row that a piece loses before it ends.
	nearBreak = maxOutliersInARow + 2
	// fewestRecut samples are searched so. Judgement: fewer take no time, and of loose ones
	// a shape far from the first may be the best: on 16 jobs bands held 90.6 instead of 92.6 %.
	fewestRecut = 200
)

// note remembers the breaks of the first search.
func (c *firstCut) note(s []sample, spans []span) {
	if c.places != nil || len(s) < fewestRecut {
		return
	}
	c.places, c.near = make(map[int32]int, len(s)), make([]bool, len(s))
	for i, q := range s {
		c.places[q.index] = i
	}
	for _, sp := range spans {
		markAbout(c.near, sp.from)
	}
}

// begins tells of each sample whether pieces are let grow from it; nil where from all.
func (c *firstCut) begins(s []sample) []bool {
	if c.places == nil || len(s) < fewestRecut {
		return nil
	}
	out, last := make([]bool, len(s)), -1
	for i, q := range s {
		place, was := c.places[q.index]
		if !was || place != last+1 {
			markAbout(out, i)
		}
		if last = place; was && c.near[place] {
			out[i] = true
		}
	}
	return out
}

// markAbout marks what is near a place.
func markAbout(v []bool, at int) {
	for i := max(0, at-nearBreak); i < min(len(v), at+nearBreak+1); i++ {
		v[i] = true
	}
}

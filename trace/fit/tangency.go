package fit

// tangentGain is -2 ln of how much likelier a bend is that leaves a run in its
// direction than one that sets out anywhere: 2 ln(freeTurn/cornerRad), 5.5, and some
// more (judged) since most bends are laid so (common practice, no source).
const tangentGain = 8.0

// tangents counts the places where a bend and the run before or after it meet
// without a corner.
func (sh *shape) tangents() int {
	n := 0
	for i := 0; i+1 < len(sh.runs); i++ {
		a, b := &sh.runs[i], &sh.runs[i+1]
		if a.straight && b.straight {
			continue
		}
		end, start := a.nodes[len(a.nodes)-2:], b.nodes[:2]
		if turnBetween(end[1].Sub(end[0]), start[1].Sub(start[0])) < cornerRad {
			n++
		}
	}
	return n
}

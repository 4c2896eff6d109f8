package bleed

import "math"

// Within one window a level that is the same all along shows nothing. A stretch that
// reaches the end of its window and over all of its overlap with the next, which sees
// no end of it, goes on through that one; one that begins with its window, and fills
// the overlap, went on through those before it, if they saw no beginning.

// carryForward carries stretches that end with reading from-1 on to reading to-1, the
// last of a window that begins with reading lo.
func carryForward(found []finding, moves []jointShift, lo, from, to int) {
	for i := range found {
		if f := &found[i]; f.from <= lo && f.to == from-1 && f.goesOn(1) {
			for f.to+1 < to && f.runsBeside(f.to+1) {
				f.to++
			}
		}
	}
	for i := range moves {
		if g := &moves[i]; math.IsInf(g.toM, 0) && g.lo+g.from <= lo && g.lo+g.to == from-1 {
			g.to, g.hi = to-1-g.lo, to
		}
	}
}

// carryBack carries stretches that begin with reading from back to the first, where the
// window before ended with reading end-1.
func carryBack(found []finding, moves []jointShift, from, end int) {
	if from == 0 {
		return
	}
	for i := range found {
		if f := &found[i]; f.from == from && f.to >= end-1 && f.goesOn(-1) {
			for f.from > 0 && f.runsBeside(f.from-1) {
				f.from--
			}
		}
	}
	for i := range moves {
		if g := &moves[i]; math.IsInf(g.fromM, 0) && g.from == 0 && g.lo+g.to >= end-1 {
			g.from, g.to, g.lo = 0, g.to+g.lo, 0
		}
	}
}

// goesOn reports whether a fit puts an end of its stretch beyond its window, or has
// been carried beyond it.
func (f finding) goesOn(way int) bool {
	rd := f.c.col.rd
	if way > 0 {
		return f.to >= f.lo+len(f.effects) || f.p[pTo] > rd[f.to].StationM
	}
	return f.p[pFrom] < rd[f.from].StationM
}

// runsBeside reports whether the neighbour, if it is a known one, lies beside reading
// k.
func (f finding) runsBeside(k int) bool { return f.c.e.at == nil || f.c.e.parallelAt(k, f.c.col) }

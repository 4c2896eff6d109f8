package fit

import (
	"math"

	"loamline.example/geo"
)

// bendFits remembers the bends that were fitted to stretches of a walk. What is
// tried against a shape changes a few readings of it, and the stretches elsewhere
// are fitted to the same readings, weights and stations as before: to the same
// numbers, so that the fit is the same.
type bendFits struct {
	found  map[uint64][]*bendFit
	stored int // numbers that all of it takes, about
}

// bendFit is the arc and the smooth run through one stretch, each as far as
// somebody has asked for it.
type bendFit struct {
	of          []known
	hM          float64
	arc, smooth *run // settled on, and sane; without readings
	knowsArc    bool
	knowsSmooth bool
}

// known is all of a reading that a fit sees, where the walk is the same.
type known struct {
	index        int32
	wt, stationM float64
	guide        geo.XY
}

// mostHeld bounds what is remembered, in numbers of eight bytes; beyond it everything is
// forgotten. Judgement: memory.
const mostHeld = 4 << 20

// About how many numbers of eight bytes a reading, a node and a foot take: derived from their
// types, for a bound of memory alone.
const (
	numbersKnown = 5 // of known
	numbersNode  = 9 // place, normal, and the factor's row, with its room
	numbersFoot  = 2
)

// of returns what is known of a stretch.
func (m *bendFits) of(part []sample, guide []geo.XY, hM float64) *bendFit {
	key := uint64(len(part))
	// Fibonacci hashing (Knuth 1998, The Art of Computer Programming 3, section 6.4), high
	// bits folded into the low ones; what is found is compared whole.
	mix := func(x uint64) { key = (key ^ x) * 0x9E3779B97F4A7C15; key ^= key >> 29 }
	mix(math.Float64bits(hM))
	for i, q := range part {
		mix(uint64(q.index))
		mix(math.Float64bits(q.stationM))
		mix(math.Float64bits(q.wt))
		mix(math.Float64bits(guide[i].X))
	}
	for _, f := range m.found[key] {
		if f.hM == hM && f.isOf(part, guide) {
			return f
		}
	}
	f := &bendFit{of: make([]known, len(part)), hM: hM}
	for i, q := range part {
		f.of[i] = known{q.index, q.wt, q.stationM, guide[i]}
	}
	if m.stored += numbersKnown * len(part); m.stored > mostHeld || m.found == nil {
		m.found, m.stored = map[uint64][]*bendFit{}, numbersKnown*len(part)
	}
	m.found[key] = append(m.found[key], f)
	return f
}

func (f *bendFit) isOf(part []sample, guide []geo.XY) bool {
	if len(f.of) != len(part) {
		return false
	}
	for i, q := range part {
		if f.of[i] != (known{q.index, q.wt, q.stationM, guide[i]}) {
			return false
		}
	}
	return true
}

// arcThrough returns the arc through a stretch, false where none settles.
func (m *bendFits) arcThrough(f *bendFit, part []sample) (run, bool) {
	if !f.knowsArc {
		r, ok := fitArc(part)
		f.knowsArc, f.arc = true, m.keep(r, ok)
	}
	return f.arc.through(part)
}

// smoothThrough is the same for a smooth run.
func (m *bendFits) smoothThrough(f *bendFit, part []sample, guide []geo.XY) (run, bool) {
	if !f.knowsSmooth {
		r, ok := fitSmooth(part, guide, f.hM)
		f.knowsSmooth, f.smooth = true, m.keep(r, ok)
	}
	return f.smooth.through(part)
}

// keep returns a run as it is remembered, nil for one that is of no use.
func (m *bendFits) keep(r run, ok bool) *run {
	if !ok || !r.sane() {
		return nil
	}
	r.part = nil
	m.stored += numbersNode*len(r.nodes) + numbersFoot*len(r.foot)
	return &r
}

// through is a remembered run through the readings as they now are.
func (r *run) through(part []sample) (run, bool) {
	if r == nil {
		return run{}, false
	}
	own := *r
	own.part = part
	return own, true
}

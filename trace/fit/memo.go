package fit

import (
	"encoding/binary"
	"math"

	"loamline.example/geo"
)

// bendFits remembers the bends that were fitted to stretches of a walk. What is
// tried against a shape changes a few readings of it, and the stretches elsewhere
// are fitted to the same readings, weights and stations as before: to the same
// numbers, so that the fit is the same.
type bendFits struct {
	found  map[string]*bendFit // by all of its readings that a fit sees, as bytes
	key    []byte              // room for one
	stored int                 // numbers that all of it takes, about
}

// bendFit is the arc and the smooth run through one stretch, each as far as
// somebody has asked for it.
type bendFit struct {
	hM          float64
	arc, smooth *run // settled on, and sane; without readings
	knowsArc    bool
	knowsSmooth bool
}

// mostHeld bounds what is remembered, in numbers of eight bytes; beyond it everything is
// forgotten. Judgement: memory.
const mostHeld = 4 << 20

// About how many numbers of eight bytes a reading, a node and a foot take: derived from their
// types, for a bound of memory alone.
const (
	numbersKnown = 5 // of a reading
	numbersNode  = 9 // place, normal, and the factor's row, with its room
	numbersFoot  = 2
)

// of returns what is known of a stretch.
func (m *bendFits) of(part []sample, guide []geo.XY, hM float64) *bendFit {
	m.key = m.key[:0]
	put := func(v float64) { m.key = binary.NativeEndian.AppendUint64(m.key, math.Float64bits(v)) }
	put(hM)
	for i, q := range part {
		put(float64(q.index))
		put(q.wt)
		put(q.stationM)
		put(guide[i].X)
		put(guide[i].Y)
	}
	if f := m.found[string(m.key)]; f != nil {
		return f
	}
	f := &bendFit{hM: hM}
	if m.stored += numbersKnown * len(part); m.stored > mostHeld || m.found == nil {
		m.found, m.stored = map[string]*bendFit{}, numbersKnown*len(part)
	}
	m.found[string(m.key)] = f
	return f
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

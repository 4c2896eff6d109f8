package otherworld

import (
	"math"
	"math/cmplx"

	"loamline.example/trace/tracetest"
)

func coupled(name, shows string, about func(*world)) family {
	return family{tracetest.Family{Name: name, Shows: shows, CarriesBleed: true}, about}
}

// apart is how far a neighbour lies off, in depths of the line as much as in
// metres.
func (w *world) apart(lo, hi float64) float64 {
	return math.Max(0.25, w.r.scale(lo, hi)*math.Sqrt(w.trench.meanM))
}

// denser keeps readings so near each other that a stretch has some.
func (w *world) denser() {
	w.gait.spacingM, w.gait.loose = math.Min(w.gait.spacingM, 6), math.Min(w.gait.loose, 0.5)
	w.lengthM = math.Max(40, math.Min(w.lengthM, 250))
}

// shared is a current in a neighbour: the same way or back, in step or, where
// it is induced or leaks over, late.
func (w *world) shared(lo, hi float64) complex128 {
	phase := pick(w.r, 0, math.Pi, 0, math.Pi, w.r.in(-math.Pi, math.Pi), w.r.in(2, 3.6))
	return cmplx.Rect(w.r.scale(lo, hi), phase+w.r.gauss(0.1))
}

// stretch is a part of the line, or all of it.
func (w *world) stretch() (from, to float64) {
	if w.r.yes(0.3) {
		return 0, 1
	}
	from = w.r.in(0.1, 0.55)
	to = from + w.r.in(0.2, 0.6)
	if to > 0.95 || w.r.yes(0.25) {
		to = 1
	}
	return from, to
}

func (w *world) coupleTo(n *neighbor, lo, hi float64) *neighbor {
	from, to := w.stretch()
	return n.carries(w.shared(lo, hi), from, to, pick(w.r, 0, w.r.scale(2, 15)))
}

var neighborFamilies = []family{
	quiet("near-quiet", "one or two lines close beside that carry nothing", func(w *world) {
		w.denser()
		for range 1 + w.r.IntN(2) {
			w.parallel(w.apart(0.4, 2.5))
		}
	}),
	quiet("near-converging", "a line comes near that carries nothing", func(w *world) {
		w.denser()
		w.converging(w.apart(0.3, 1), w.r.in(4, 12))
	}),
	quiet("near-crossing", "one to three lines across that carry nothing", func(w *world) {
		w.denser()
		for range 1 + w.r.IntN(3) {
			w.crossing()
		}
	}),
	quiet("trench-quiet", "two to four lines in one trench, and signal in one alone", func(w *world) {
		w.denser()
		w.trenchMates()
	}),
}

// trenchMates are lines beside at 0.3 to 0.8 m, to the right, to the left and
// again to the right.
func (w *world) trenchMates() []*neighbor {
	var out []*neighbor
	for i := range 1 + w.r.IntN(3) {
		side := float64(1 - 2*(i%2))
		sep := w.r.in(0.3, 0.8) * float64(1+i/2)
		n := w.parallel(sep)
		n.offsetM = func(float64) float64 { return side * sep }
		n.depthBy = w.r.in(0.85, 1.2)
		out = append(out, n)
	}
	return out
}

var bleedFamilies = []family{
	coupled("coupled-known", "a neighbour on record or traced carries part of the signal", func(w *world) {
		w.denser()
		w.coupleTo(w.parallel(w.apart(0.5, 2.2)), 0.15, 0.9).onRecord(w.r)
	}),
	coupled("coupled-unknown", "a neighbour that nobody knows of carries part of the signal", func(w *world) {
		w.denser()
		w.coupleTo(w.parallel(w.apart(0.5, 2.2)), 0.15, 0.9).unknown()
	}),
	coupled("coupled-converging", "a neighbour with part of the signal comes near", func(w *world) {
		w.denser()
		n := w.converging(w.apart(0.3, 1), w.r.in(4, 12))
		n.carries(w.shared(0.2, 0.9), 0, 1, 0)
	}),
	coupled("coupled-deep", "a shallow neighbour over a deep line", func(w *world) {
		w.denser()
		w.trench.meanM = w.r.in(1.3, 2.6)
		n := w.coupleTo(w.parallel(w.apart(0.2, 1)), 0.1, 0.6)
		n.depthBy = w.r.in(0.25, 0.6)
	}),
	coupled("bonded", "bonds make a neighbour carry the current back, or part of it along", func(w *world) {
		w.denser()
		n := w.parallel(w.apart(0.5, 2.2))
		if w.r.yes(0.6) { // back from a far bond to the stake
			n.carries(cmplx.Rect(w.r.in(0.15, 0.9), math.Pi+w.r.gauss(0.2)), 0, w.r.in(0.5, 1.2), 0)
		} else { // along, from one bond to another
			from := w.r.in(-0.2, 0.5)
			n.carries(cmplx.Rect(w.r.scale(0.15, 1.5), w.r.gauss(0.2)), from, from+w.r.in(0.35, 0.9), 0)
		}
		n.couple.bond = true
	}),
	coupled("crossing", "a line across carries part of the signal", func(w *world) {
		w.denser()
		w.gait.spacingM, w.lengthM = math.Min(w.gait.spacingM, w.r.in(0.5, 1.5)), math.Min(w.lengthM, 90)
		n := w.crossing()
		n.crossRd *= w.r.in(0.4, 1)
		n.carries(w.shared(0.3, 1.5), 0, 1, 0)
	}),
	coupled("parallel-trench", "two to four lines in one trench share the signal", func(w *world) {
		w.denser()
		from, to := w.stretch()
		for i, n := range w.trenchMates() {
			if i == 0 || w.r.yes(0.6) {
				n.carries(w.shared(0.15, 0.9), from, to, 0)
			}
		}
	}),
}

// jumps makes a locator follow the neighbour, which carries the more signal,
// over a stretch.
func (w *world) jumps(n *neighbor, from, to float64) *neighbor {
	n.carries(cmplx.Rect(w.r.scale(0.7, 4), pick(w.r, 0, 0, math.Pi, w.r.in(-0.6, 0.6))), from, to, w.r.scale(0.5, 6))
	n.jump = true
	return n
}

func (w *world) jumpSpan() (from, to float64) {
	from = w.r.in(0.15, 0.55)
	return from, math.Min(0.9, from+w.r.in(0.15, 0.5))
}

// jumpBeside is a neighbour beside, or one that changes sides where the jump
// begins.
func (w *world) jumpBeside(at float64) *neighbor {
	if w.r.yes(0.4) {
		return w.crossOver(w.apart(0.8, 2.5), at)
	}
	return w.parallel(w.apart(0.8, 2.5))
}

var jumpFamilies = []family{
	coupled("jump-known", "follows a neighbour on record or traced, to the end", func(w *world) {
		w.denser()
		w.fixed(4)
		from, _ := w.jumpSpan()
		w.jumps(w.jumpBeside(from), from, 1).onRecord(w.r)
	}),
	coupled("jump-return", "follows a neighbour for a stretch and comes back", func(w *world) {
		w.denser()
		w.fixed(4)
		from, to := w.jumpSpan()
		w.jumps(w.parallel(w.apart(0.8, 2.5)), from, to)
	}),
	coupled("jump-unknown", "follows a neighbour that nobody knows of", func(w *world) {
		w.denser()
		from, to := w.jumpSpan()
		if w.r.yes(0.5) {
			to = 1
		}
		w.jumps(w.jumpBeside(from), from, to).unknown()
	}),
}

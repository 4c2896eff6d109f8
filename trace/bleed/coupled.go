package bleed

import (
	"context"
	"math"
	"slices"
)

// partialResidual is what is left of the columns of a window once coupling already
// found is taken out: log depth over log signal, the null, and the marks
// across.
type partialResidual struct{ ds, null, pos []float64 }

// Window sizes in readings: beyond pieceReadings, a line is tested for coupling
// in pieces that overlap.
// Judgement: time grows with the cube of a window, and a shorter one holds no long stretch
// with its surroundings.
const (
	pieceReadings   = 100
	overlapReadings = 40
)

// plainEnough is the log odds beyond which a known neighbour needs no rival that
// nobody drew. Judgement: odds of twenty to one.
const plainEnough = 3

// besidePosition reports whether more than the course of the marks speaks for a
// fit: a line may turn aside for reasons of its own. Marks that step aside
// towards or away from a known neighbour and step back are enough.
func (f coupledFit) besidePosition() bool {
	rd := f.c.col.rd
	inside := f.p[pFrom] > rd[f.c.lo].StationM+clearOfEndsM && f.p[pTo] < rd[f.c.hi-1].StationM-clearOfEndsM
	if f.c.e.at == nil && !inside && math.Abs(f.p[pShare]) < leastShareSigmas*math.Sqrt(f.cov[pShare][pShare]) {
		return false // what changes is the line's own current, which does not come back
	}
	if f.ds+f.n >= leastBesidePosition {
		return true
	}
	return f.c.e.at != nil && inside && f.pos >= plainPosition && f.ds+f.n > -leastBesidePosition
}

// clearOfEndsM is how far from both ends of a window a stretch must begin and end, for
// the marks to be seen to step aside and back. Judgement.
const clearOfEndsM = 5

// leastShareSigmas is by how much the share on a neighbour that nobody drew must differ
// from none: the fit lets the line's own current change with it, as it does at a tee.
// Derived: the 95 % band of a normal error.
const leastShareSigmas = 1.96

// Log likelihoods that depth, signal and null must bring between them, or the
// marks' positions alone. Judgement.
const (
	leastBesidePosition = 3
	plainPosition       = 15
)

// mostStretches is how many coupled segments are sought in one window, to
// bound the time. Judgement.
const mostStretches = 4

// coupled finds coupled stretches of a line: window by window, the neighbour
// with the best evidence first, each taken out before the next is sought.
func coupled(ctx context.Context, col *columns, near []neighbour) ([]finding, []jointShift, error) {
	all := append(slices.Clone(near), neighbour{name: Unknown, path: -1})
	var out []finding
	var more []jointShift
	n, from := len(col.rd), 0
	for lo := 0; ; lo += pieceReadings - overlapReadings {
		hi := min(n, lo+pieceReadings)
		if n-hi < overlapReadings/2 {
			hi = n
		}
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		found, moves := col.inWindow(all, lo, hi)
		if len(found)+len(moves) == 0 {
			carryForward(out, more, lo, from, hi)
		} else if len(out)+len(more) == 0 {
			carryBack(found, moves, lo, from)
		}
		out, more, from = merge(out, found), append(more, moves...), hi
		if hi == n {
			return out, more, nil
		}
	}
}

func (c *columns) inWindow(all []neighbour, lo, hi int) ([]finding, []jointShift) {
	known := slices.ContainsFunc(all, func(e neighbour) bool { return e.at != nil && e.near(c, lo, hi) })
	plain := screenUnknown.sign(c, lo, hi)
	bare := !c.hasN && !c.hasS // no column but depth: what moves together is all that can be asked
	if !plain && (!known && !bare || !screenKnown.sign(c, lo, hi)) {
		return nil, nil
	}
	n := hi - lo
	y := partialResidual{ds: append(slices.Clone(c.lnD[lo:hi]), c.lnS[lo:hi]...), null: slices.Clone(c.null[lo:hi]), pos: slices.Clone(c.course.acrossM[lo:hi])}
	sigs := make([][]signature, len(all))
	var out []finding
	var moves []jointShift
	for pass := range mostStretches {
		st := newUncoupled(c, lo, hi, y)
		best := st.bestOf(all, sigs, plain)
		if best.c != nil && best.c.e.at == nil {
			best.logOdds = st.lessAlone(best)
		}
		best.coupled = probability(best.calibrated(pass == 0))
		var f finding
		ok := best.coupled >= leastCoupled
		if ok {
			f, ok = newFinding(best, lo)
			ok = ok && best.besidePosition()
		}
		if pass == 0 && (plain || bare) && (!ok || best.coupled < SuspectCoupled) {
			moves = st.likelyJointShifts()
		}
		if !ok {
			return out, moves
		}
		out = append(out, f.named(all))
		for i, x := range best.effects {
			y.ds[i] -= x.lnDepth
			y.ds[n+i] -= x.lnField + best.p[pOwn]*x.edge
			y.null[i] -= x.nullM
			y.pos[i] -= x.shiftM
		}
	}
	return out, moves
}

// bestOf is the coupling to one of the neighbours with the best odds; plain tells
// whether one that nobody drew is worth asking for. sigs keeps the signatures.
func (st *uncoupled) bestOf(all []neighbour, sigs [][]signature, plain bool) coupledFit {
	c, lo, hi := st.col, st.lo, st.hi
	best := coupledFit{logOdds: math.Inf(-1)}
	for i, e := range all {
		if e.at == nil && (!plain || !c.hasN && !c.hasS || best.logOdds > plainEnough) {
			continue
		}
		if e.at != nil && !e.near(c, lo, hi) || st.most() < e.floor() {
			continue
		}
		if sigs[i] == nil {
			sigs[i] = e.signatures(c, lo, hi, 0)
			if e.at != nil && st.promises(sigs[i], e.floor()) {
				sigs[i] = append(sigs[i], e.signatures(c, lo, hi, -1, 1)...)
			}
		}
		l, f := st.couple(e, sigs[i])
		f.logOdds = l + logit(c.priorAmong(e, all, lo, hi))
		if e.mayBeOwn {
			f.logOdds += ownRecordNats
		}
		if f.logOdds > best.logOdds && (e.at != nil || f.logOdds > 0) {
			best = f
		}
	}
	return best
}

// near reports whether the neighbour matters to the window at all.
func (e neighbour) near(c *columns, lo, hi int) bool {
	for k := lo; k < hi; k++ {
		if e.parallelAt(k, c) {
			return true
		}
	}
	return false
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }

// finding is a coupled stretch before it is worded.
type finding struct {
	coupledFit
	lo       int     // of its window
	from, to int     // readings of the line, inclusive
	name     string  // of the neighbour, Unknown where nobody drew it
	asideM   float64 // of that neighbour from the mark

	fittedAsideM float64 // where the fit puts a neighbour that it was not told of
	mirrored     bool    // the fit chose a side that nothing told, and the drawn line lies on the other
	nearName     string  // the nearest drawn line beside the stretch, which the fit does not match
	nearAsideM   float64
}

// leastSide is the log likelihood that null and position must bring between them
// to tell the side of a line that nobody drew: on the other side depth and
// signal read the same. Judgement.
const leastSide = 2

// sideKnown reports whether it is known on which side of the mark the neighbour
// lies.
func (f finding) sideKnown() bool { return f.name != Unknown || f.n+f.pos >= leastSide }

// newFinding bounds a fit's stretch by its edges.
func newFinding(f coupledFit, lo int) (finding, bool) {
	from, to := -1, -1
	var aside []float64
	for i, x := range f.effects {
		st := f.c.col.rd[lo+i].StationM
		if st < f.p[pFrom] || st > f.p[pTo] || x.share == 0 {
			continue
		}
		if from < 0 {
			from = lo + i
		}
		to = lo + i
		aside = append(aside, f.c.asideM(lo+i, f.p))
	}
	if to-from < 2 {
		return finding{}, false
	}
	if l := f.c.col.rd[to].StationM - f.c.col.rd[from].StationM; l < 3 || l < 2*f.c.col.depth[from] {
		return finding{}, false
	}
	at := median(aside)
	return finding{coupledFit: f, lo: lo, from: from, to: to, name: f.c.e.name, asideM: at, fittedAsideM: at}, true
}

// asideM is the neighbour's distance from the mark at a reading.
func (c *coupler) asideM(k int, p params) float64 {
	if c.e.at == nil {
		return c.sideU * math.Exp(p[pAside]) * c.col.depth[k]
	}
	return c.e.at[k].asideM
}

// samePlace is by what factor the fitted distance of a line that the fit was
// not told of may differ from that of a drawn line to be that line. Judgement:
// the mark that both are seen from is itself drawn aside.
const samePlace = 2.5

// named gives a finding of an undrawn neighbour the name of the drawn line that
// lies where the fit puts it, if one does: two lines cannot lie in one place.
// Where null and position do not tell the side, a drawn line does.
func (f finding) named(all []neighbour) finding {
	if f.c.e.at != nil {
		return f
	}
	f.nearAsideM = math.Inf(1)
	nearest, known := math.Inf(1), f.sideKnown()
	for _, e := range all {
		at, ok := f.beside(e)
		if !ok {
			continue
		}
		if math.Abs(at) < math.Abs(f.nearAsideM) {
			f.nearName, f.nearAsideM = e.name, at
		}
		ratio := at / f.fittedAsideM
		if !known {
			ratio = math.Abs(ratio)
		}
		if off := math.Abs(math.Log(ratio)); off <= math.Log(samePlace) && off < nearest { // NaN on the other side
			nearest, f.name, f.asideM, f.mirrored = off, e.name, at, at*f.fittedAsideM < 0
		}
	}
	return f
}

// beside returns the median signed distance of a drawn line from the marks of the
// stretch, if it runs beside most of it.
func (f finding) beside(e neighbour) (asideM float64, ok bool) {
	if e.at == nil {
		return 0, false
	}
	var aside []float64
	for k := f.from; k <= f.to; k++ {
		if e.parallelAt(k, f.c.col) {
			aside = append(aside, e.at[k].asideM)
		}
	}
	if 2*len(aside) <= f.to-f.from {
		return 0, false
	}
	return median(aside), true
}

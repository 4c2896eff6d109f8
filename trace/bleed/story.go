package bleed

import (
	"math"
	"slices"
)

// story is the best account of a window without coupling, under every wander.
type story struct {
	col     *columns
	lo, hi  int
	raw     []told // no explanations yet
	without []told // with explanations
	log     float64
}

// told is one wander's account: its blocks and where the current steps.
type told struct{ ds, null *block }

func (t told) log() (l float64) {
	if t.ds != nil {
		l += t.ds.evidence()
	}
	if t.null != nil {
		l += t.null.evidence()
	}
	return l
}

// tell builds the account of readings [lo, hi) of the columns y (log depth,
// log signal, null).
func tell(col *columns, lo, hi int, y residual) *story {
	st := &story{col: col, lo: lo, hi: hi}
	var null *block
	if col.hasN {
		null = nullBlock(col, lo, hi, y.null)
	}
	for _, w := range wanders {
		var ds *block
		if col.hasD || col.hasS {
			ds = depthSignalBlock(col, lo, hi, w, y.ds)
		}
		st.raw = append(st.raw, told{ds, null})
		st.without = append(st.without, st.explained(ds, null))
		if ds == nil {
			break
		}
	}
	var l []float64
	for _, t := range st.without {
		l = append(l, t.log())
	}
	st.log = logSum(l) - math.Log(float64(len(l)))
	return st
}

func (st *story) explained(ds, null *block) told {
	var t told
	var tees []tee
	if ds != nil {
		t.ds = ds.copied()
		tees = explainDepthSignal(t.ds, st.col, st.lo, st.hi)
	}
	if null != nil {
		t.null = null.copied()
		explainNull(t.null, st.col, st.lo, st.hi, tees)
	}
	return t
}

// against returns the log evidence of the story with coupling over the one
// without, and the scan that carries it.
func (st *story) against(sigs []signature) (float64, scanned) {
	var logs []float64
	var best scanned
	bestLog := math.Inf(-1)
	sc := scanner{col: st.col, lo: st.lo, hi: st.hi}
	for i, t := range st.without {
		sc.ds, sc.null = t.ds, t.null
		got := sc.scan(sigs)
		l := t.log() + got.logMean
		if u, other, ok := st.reselected(&sc, st.raw[i], sigs); ok && u > l {
			l, got = u, other
		}
		if l > bestLog {
			bestLog, best = l, got
		}
		logs = append(logs, l)
	}
	return logSum(logs) - math.Log(float64(len(logs))) - st.log, best
}

// reselected takes the best coupled segment out of the data before it looks
// for other explanations, so that these do not eat what coupling explains.
func (st *story) reselected(sc *scanner, raw told, sigs []signature) (float64, scanned, bool) {
	sc.ds, sc.null = raw.ds, raw.null
	first := sc.scan(sigs)
	if math.IsInf(first.best.logRatio, -1) || first.best.logRatio < 2 {
		return 0, first, false
	}
	g, f := sigs[first.best.sig], first.best
	var ds, null *block
	if raw.ds != nil {
		ds = raw.ds.copied()
		subtract(ds, g, f, true)
	}
	if raw.null != nil {
		null = raw.null.copied()
		subtract(null, g, f, false)
	}
	t := st.explained(ds, null)
	if t.ds != nil {
		t.ds.y = slices.Clone(raw.ds.y)
		t.ds.refresh()
	}
	if t.null != nil {
		t.null.y = slices.Clone(raw.null.y)
		t.null.refresh()
	}
	sc.ds, sc.null = t.ds, t.null
	got := sc.scan(sigs)
	return t.log() + got.logMean, got, true
}

// subtract takes a coupled segment's signature out of a block's data.
func subtract(b *block, g signature, f segmentFit, depthSignal bool) {
	n := len(g.ok)
	for k := f.from; k <= f.to; k++ {
		if depthSignal {
			b.y[k] -= g.d[k]
			b.y[n+k] -= g.s[k]
		} else {
			b.y[k] -= g.n[k]
		}
	}
	b.refresh()
}

func logSum(l []float64) float64 {
	top := slices.Max(l)
	if math.IsInf(top, -1) {
		return top
	}
	var s float64
	for _, v := range l {
		s += math.Exp(v - top)
	}
	return top + math.Log(s)
}

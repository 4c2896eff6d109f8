package bleed

import (
	"context"
	"math"
	"slices"
)

// residual is what is left of the columns of a window once coupling already
// found is taken out: log depth over log signal, and the null.
type residual struct{ ds, null []float64 }

// window sizes in readings: beyond the longest, a line is tested in pieces
// that overlap.
const (
	windowReadings  = 140
	overlapReadings = 50
)

// mostStretches is how many coupled segments are sought in one window.
const mostStretches = 4

// coupled finds coupled stretches of a line: window by window, the exposure
// with the best evidence first, each taken out before the next is sought.
func coupled(ctx context.Context, col *columns, near []exposure) ([]finding, error) {
	all := append(slices.Clone(near), exposure{name: Unknown, path: -1})
	var out []finding
	n := len(col.rd)
	for lo := 0; ; lo += windowReadings - overlapReadings {
		hi := min(n, lo+windowReadings)
		if n-hi < overlapReadings/2 {
			hi = n
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		out = merge(out, col.inWindow(all, lo, hi))
		if hi == n {
			return out, nil
		}
	}
}

func (c *columns) inWindow(all []exposure, lo, hi int) []finding {
	n := hi - lo
	y := residual{ds: append(slices.Clone(c.lnD[lo:hi]), c.lnS[lo:hi]...), null: slices.Clone(c.null[lo:hi])}
	sigs := make([][]signature, len(all))
	for i, e := range all {
		if e.near(c, lo, hi) {
			sigs[i] = e.signatures(c, lo, hi)
		}
	}
	var out []finding
	for range mostStretches {
		st := tell(c, lo, hi, y)
		best := finding{logOdds: math.Inf(-1)}
		var sg signature
		for i, e := range all {
			if len(sigs[i]) == 0 {
				continue
			}
			l, sc := st.against(sigs[i])
			l += logit(c.prior(e, lo, hi))
			if l > best.logOdds {
				best = finding{e: e, logOdds: l, scanned: sc, lo: lo}
				sg = sigs[i][sc.best.sig]
			}
		}
		if best.logOdds < 0 || !best.bound() {
			return out
		}
		best.asideM, best.depthEffect = sg.asideM, sg.d[(best.from+best.to)/2-lo]
		out = append(out, best)
		for k := best.from; k <= best.to; k++ {
			i := k - lo
			y.ds[i] -= sg.d[i]
			y.ds[n+i] -= sg.s[i]
			y.null[i] -= sg.n[i]
		}
	}
	return out
}

// near reports whether the neighbour matters to the window at all.
func (e exposure) near(c *columns, lo, hi int) bool {
	if e.at == nil {
		return c.hasN || c.hasS
	}
	for k := lo; k < hi; k++ {
		if e.exposedAt(k, c) {
			return true
		}
	}
	return false
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }

// finding is a coupled stretch before it is worded.
type finding struct {
	scanned
	e        exposure
	lo       int // of its window
	from, to int // readings of the line, inclusive
	logOdds  float64
	asideM   float64
	// depthEffect is the log error of depth that the best signature implies.
	depthEffect float64
}

func (f finding) score() float64 { return 1 / (1 + math.Exp(-f.logOdds)) }

// bound sets the readings that are more likely coupled than not, about the
// best segment.
func (f *finding) bound() bool {
	i, j := f.best.from, f.best.to
	for i < j && f.on[i] < 0.5 {
		i++
	}
	for j > i && f.on[j] < 0.5 {
		j--
	}
	for i > 0 && f.on[i-1] >= 0.5 {
		i--
	}
	for j+1 < len(f.on) && f.on[j+1] >= 0.5 {
		j++
	}
	f.from, f.to = f.lo+i, f.lo+j
	return j-i >= 1
}

// merge joins the findings of overlapping windows: of two that overlap with
// the same neighbour, the better one's figures stand for both.
func merge(out, more []finding) []finding {
	for _, f := range more {
		i := slices.IndexFunc(out, func(o finding) bool {
			return o.e.path == f.e.path && o.from <= f.to && f.from <= o.to
		})
		if i < 0 {
			out = append(out, f)
			continue
		}
		from, to := min(out[i].from, f.from), max(out[i].to, f.to)
		if f.logOdds > out[i].logOdds {
			out[i] = f
		}
		out[i].from, out[i].to = from, to
	}
	return out
}

package bleed

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"

	"loamline.example/trace/receiver"
)

// kernelPair is how a line's own depth and current change along it without any
// coupling: log depth and log current as Gaussian processes about a free level
// (and, for the current, a free slope: attenuation). Judgement; lengths and
// sizes span what tried traces show.
type kernelPair struct {
	depthSD, depthLenM     float64
	currentSD, currentLenM float64
	rough                  bool // exponential correlation, else Matérn 3/2
	prior                  float64
}

// kernelPairs are those that are tried, each with its prior. Judgement, as of kernelPair.
var kernelPairs = []kernelPair{
	{0.06, 30, 0.04, 40, true, 0.3},
	{0.15, 25, 0.05, 40, false, 0.3},
	{0.05, 40, 0.03, 60, false, 0.3},
	{0.4, 12, 0.05, 40, false, 0.1}, // dives and humps
}

func (w kernelPair) correlation(distM, lenM float64) float64 {
	t := distM / lenM
	if w.rough {
		return math.Exp(-t)
	}
	t *= math.Sqrt(3)
	return (1 + t) * math.Exp(-t)
}

// gaussian is a Gaussian model of some columns over a window, ready for evidence:
// precision, data, and their product.
type gaussian struct {
	n      int       // rows
	prec   []float64 // n×n precision
	y      []float64
	py     []float64 // precision times y
	logDet float64   // of the covariance
	cost   float64   // log price of the explanations allowed

	asked *asked
}

// evidence returns the log density of the data, the price of explanations
// taken off, up to a constant that is the same for all models of a window.
func (b *gaussian) evidence() float64 {
	var q float64
	for i, v := range b.y {
		q += v * b.py[i]
	}
	return -0.5*(b.logDet+q) - b.cost
}

// newGaussian inverts a covariance (destroyed) about y.
func newGaussian(cov, y []float64) *gaussian {
	n := len(y)
	sym := blas64.Symmetric{Uplo: blas.Upper, N: n, Stride: n, Data: cov}
	tri, ok := lapack64.Potrf(sym)
	if !ok {
		return nil
	}
	b := &gaussian{n: n, prec: cov, y: append([]float64(nil), y...), py: make([]float64, n), asked: &asked{}}
	for i := range n {
		b.logDet += 2 * math.Log(cov[i*n+i])
	}
	lapack64.Potri(tri)
	for i := range n {
		for j := range i {
			cov[i*n+j] = cov[j*n+i]
		}
	}
	b.refresh()
	return b
}

// refresh recomputes precision times y.
func (b *gaussian) refresh() {
	for i := range b.n {
		row := b.prec[i*b.n : (i+1)*b.n]
		var sum float64
		for j, v := range row {
			sum += v * b.y[j]
		}
		b.py[i] = sum
	}
}

// turnTo gives a gaussian other data.
func (b *gaussian) turnTo(y []float64) {
	if b == nil {
		return
	}
	copy(b.y, y)
	b.refresh()
}

// copied returns a gaussian that can be changed without changing b; nil for none.
func (b *gaussian) copied() *gaussian { return b.copiedInto(nil) }

// copiedInto is copied, in the place of a gaussian that nobody needs any more.
func (b *gaussian) copiedInto(spent *gaussian) *gaussian {
	if b == nil {
		return nil
	}
	if spent == nil {
		spent = &gaussian{}
	}
	c := *b
	c.prec = append(spent.prec[:0], b.prec...)
	c.y = append(spent.y[:0], b.y...)
	c.py = append(spent.py[:0], b.py...)
	*spent = c
	return spent
}

// allow adds an unknown amplitude of the given variance along column v, a
// rank-one change of the covariance (Sherman and Morrison, 1950), at a price.
func (b *gaussian) allow(v []float64, variance, cost float64) {
	b.cost += cost
	pv := make([]float64, b.n)
	var vpv, vpy float64
	for i := range b.n {
		row := b.prec[i*b.n : (i+1)*b.n]
		var sum float64
		for j, x := range v {
			if x != 0 {
				sum += row[j] * x
			}
		}
		pv[i] = sum
	}
	for i, x := range v {
		vpv += x * pv[i]
		vpy += x * b.py[i]
	}
	f := variance / (1 + variance*vpv)
	b.logDet += math.Log1p(variance * vpv)
	b.asked = b.asked.then(pv, f)
	for i := range b.n {
		if pv[i] == 0 {
			continue
		}
		c := f * pv[i]
		floats.AddScaled(b.prec[i*b.n:(i+1)*b.n], -c, pv)
		b.py[i] -= c * vpy
	}
}

// followSD is by what part of its changes the log depth shown may fall out of step
// with the log signal along a line that dives, one sigma: the lower antenna stands
// some centimetres above the ground that depth is shown from, the receiver's scale
// of depth is off, and conductive ground makes a deep line read shallow (field
// over a half-space, Wait and Spies, 1971, Radio Sci. 6:781). Judgement.
const followSD = 0.08

// freeLevelSD is how far the level of the log current may lie, which is free: the scale of
// signals is anybody's. leakSD is its slope, one sigma, in nepers a metre, so that it is
// free too: nine times receiver.LeakPerM, by which the fit goes. Judgement.
const (
	freeLevelSD = 3
	leakSD      = 0.02
)

// depthSignalGaussian models log depth (rows 0…n−1) and log signal (n…2n−1): the
// depth's wander enters the signal with the opposite sign.
func depthSignalGaussian(col *columns, lo, hi int, w kernelPair, y []float64) *gaussian {
	n := hi - lo
	m := 2 * n
	cov := make([]float64, m*m)
	mid := (col.rd[lo].StationM + col.rd[hi-1].StationM) / 2
	dives := col.localDepth(lo, hi, 1)
	floats.AddConst(-floats.Sum(dives)/float64(n), dives)
	ends := make([][2]float64, n)
	for i := range n {
		ends[i] = col.endEffect(lo + i)
	}
	for i := range n {
		si := col.rd[lo+i].StationM
		for j := i; j < n; j++ {
			end := ends[i][0]*ends[j][0] + ends[i][1]*ends[j][1]
			sj := col.rd[lo+j].StationM
			dist := math.Abs(si - sj)
			kd := 1 + w.depthSD*w.depthSD*w.correlation(dist, w.depthLenM)
			ki := freeLevelSD*freeLevelSD + leakSD*leakSD*(si-mid)*(sj-mid) + w.currentSD*w.currentSD*w.correlation(dist, w.currentLenM) + followSD*followSD*dives[i]*dives[j]
			r := col.round.between(lo+i, lo+j)
			cov[i*m+j] = kd + r.dd + end
			cov[i*m+n+j] = -kd + r.ds
			cov[j*m+n+i] = -kd + r.sd
			cov[(n+i)*m+n+j] = kd + ki + r.ss + end
		}
		k := lo + i
		cov[i*m+i] += col.varD[k]
		cov[(n+i)*m+n+i] += col.varS[k]
		cov[i*m+n+i] += col.covDS[k]
	}
	return newGaussian(cov, y)
}

// nullGaussian models the null offset: a small bias of the instrument and a slow
// drift, the pull of the transmitter's lead, and noise.
func nullGaussian(col *columns, lo, hi int, y []float64) *gaussian {
	n := hi - lo
	cov := make([]float64, n*n)
	for i := range n {
		for j := i; j < n; j++ {
			dist := math.Abs(col.rd[lo+i].StationM - col.rd[lo+j].StationM)
			cov[i*n+j] = receiver.NullBiasM*receiver.NullBiasM + receiver.NullDriftM*receiver.NullDriftM*math.Exp(-dist/receiver.NullDriftLastsM) + col.round.nullBetween(lo+i, lo+j)
			for _, lead := range col.leadNull {
				cov[i*n+j] += lead[lo+i] * lead[lo+j]
			}
		}
		cov[i*n+i] += col.varN[lo+i]
	}
	return newGaussian(cov, y)
}

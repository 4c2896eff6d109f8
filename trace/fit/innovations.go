package fit

import "math"

// innovations is a pass over the residuals under one noise, which gives what -2 ln of their
// restricted likelihood is made of, at factor 1. The innovations of the scalar Gauss-Markov
// state serve all columns at once; a run's columns are forgotten where the walk leaves the run.
type innovations struct {
	common, alone, pin        float64 // root of the share in common, share not in common, variance of pinpointing
	varG, logDet, product, yy float64
	mean, v                   [maxColumns + 1]float64
	sums                      [][]float64 // cross products of each run's columns and the residual, by its first column
	block                     []float64   // of the run that the walk is on
}

// newInnovations is room for so many passes.
func (d design) newInnovations(n int) []innovations {
	out := make([]innovations, n)
	for k := range out {
		out[k].sums = make([][]float64, d.count)
		for first, n := range d.sizes {
			out[k].sums[first] = make([]float64, n*n)
		}
	}
	return out
}

// under begins the pass anew.
func (in *innovations) under(m noiseModel) {
	in.common, in.alone, in.pin = math.Sqrt(m.share), 1-m.share, sq(m.pinM)
	in.varG, in.logDet, in.product, in.yy, in.mean[0] = 1, 0, 1, 0, 0
	for _, s := range in.sums {
		clear(s)
	}
}

// enter takes the pass on to another run.
func (in *innovations) enter(first, columns int) {
	clear(in.mean[1 : columns+1])
	in.block = in.sums[first]
}

// take takes the pass over the next residual.
func (in *innovations) take(r *residual, phi float64, row []float64) {
	p := len(row)
	mean, v := in.mean[:p+1], in.v[:p+1]
	for c := range mean {
		mean[c] *= phi
	}
	varG := phi*phi*in.varG + 1 - phi*phi
	h := r.sigma * in.common
	s := h*h*varG + sq(r.sigma)*in.alone + in.pin
	if in.product *= s; in.product > 1e100 || in.product < 1e-100 {
		in.logDet, in.product = in.logDet+math.Log(in.product), 1
	}
	v[0] = r.e - h*mean[0]
	for c, x := range row {
		v[c+1] = x - h*mean[c+1]
	}
	per := 1 / s
	gain := varG * h * per
	in.yy += v[0] * v[0] * per
	for a := range mean {
		mean[a] += gain * v[a]
		w := v[a] * per
		for b := max(a, 1); b <= p; b++ {
			in.block[a*(p+1)+b] += w * v[b]
		}
	}
	in.varG = varG - gain*h*varG
}

// walkAll takes passes over all residuals side by side: each waits for its own division at
// every residual, and not for the others'.
func walkAll(passes []innovations, res []residual, d design, phis []float64) {
	at := -1
	for i := range res {
		var row []float64
		if d.count > 0 {
			row = d.row[i]
		}
		if len(row) > 0 && d.first[i] != at {
			at = d.first[i]
			for k := range passes {
				passes[k].enter(at, len(row))
			}
		}
		for k := range passes {
			passes[k].take(&res[i], phis[i], row)
		}
	}
}

// restricted gives, of n residuals, the quadratic form with the design projected out, the
// logarithms of the determinants, and the degrees of freedom left. The sums are used up.
func (in *innovations) restricted(n int, d design) (q, logDets float64, free int) {
	yy, logDet := in.yy, in.logDet+math.Log(in.product)
	free = n
	for first, n := range d.sizes {
		if n == 0 {
			continue
		}
		explained, ld := projectOut(in.sums[first], n)
		yy -= explained
		logDet += ld
		free -= n - 1
	}
	return math.Max(0, yy), logDet, free
}

// projectOut eliminates the columns 1… from the cross products and returns how
// much of column 0 they explain, and ln of their determinant.
func projectOut(a []float64, n int) (explained, logDet float64) {
	for i := 0; i < n; i++ {
		for j := 0; j < i; j++ {
			a[i*n+j] = a[j*n+i]
		}
	}
	for k := n - 1; k >= 1; k-- {
		d := a[k*n+k]
		if !(d > 1e-12) {
			continue
		}
		logDet += math.Log(d)
		explained += a[k] * a[k] / d
		for i := 0; i < k; i++ {
			f := a[i*n+k] / d
			for j := 0; j < k; j++ {
				a[i*n+j] -= f * a[k*n+j]
			}
		}
	}
	return explained, logDet
}

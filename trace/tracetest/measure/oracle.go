package measure

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// The oracle is generalised least squares by one who knows the model. It knows
//
//   - the true station of every reading (so the ordering and the topology),
//   - which positions leap and which depths are spikes, and leaves them out,
//   - each reading's true sigma, the time constant and common share of the
//     positioning error, and the pinpointing error,
//   - the family of shapes: where straight runs, arcs and elbows begin and end
//     to first order, and the law by which a cable wanders; where the depth
//     profile breaks and the size and length of its waves,
//   - how peak and depth fall before bends, ends and in air coupling, without
//     noise.
//
// It does not know where the line lies: each run may lie anywhere (5 m), at any
// heading (0.3) and with arcs of any curvature (0.1 /m). Its bands are 1.96
// times its own standard deviation. It is linear about the truth.
type oracle struct {
	job    tracetest.Job
	line   tracetest.Line
	rds    []tracetest.Reading
	noise  tracetest.Noise
	places []float64 // stations at which it is asked
}

const (
	priorOffsetM   = 5.0
	priorSlope     = 0.3
	priorCurvature = 0.1
)

// estimate is the oracle's answer at a station: errors are its own, in metres.
type estimate struct{ stationM, errorM, sdM float64 }

// across estimates the line's place.
func (o oracle) across() []estimate {
	var st, y []float64
	var n []geo.XY
	for _, r := range o.rds {
		s := r.Truth.StationM
		nr := rightOf(o.line.Path.Direction(s))
		st, n = append(st, s), append(n, nr)
		y = append(y, r.Pos.Sub(o.line.Path.At(s)).Dot(nr)-when(!r.Exposed, r.Truth.PeakShiftM))
	}
	cov := mat.NewSymDense(len(st), nil)
	for i, a := range o.rds {
		for k := i; k < len(o.rds); k++ {
			b := o.rds[k]
			alike := o.noise.FixedShare + o.noise.CommonShare*math.Exp(-math.Abs(a.TimeS-b.TimeS)/o.noise.TauS)
			c := a.Truth.SigmaM * b.Truth.SigmaM * alike * n[i].Dot(n[k])
			if i == k {
				c += (1-o.noise.FixedShare-o.noise.CommonShare)*a.Truth.SigmaM*a.Truth.SigmaM + a.Truth.RoundM*a.Truth.RoundM
				if !a.Exposed {
					c += a.Truth.PinpointM * a.Truth.PinpointM
				}
			}
			cov.SetSym(i, k, c)
		}
	}
	return predict(st, y, cov, o.places, shapeBasis(o.line))
}

// predict returns the conditional mean and spread of a field with independent
// unit-variance coefficients on a basis, given noisy values of it.
func predict(st, y []float64, cov *mat.SymDense, places []float64, basis func(float64) []float64) []estimate {
	n := len(st)
	rows := make([][]float64, n)
	for i, s := range st {
		rows[i] = basis(s)
	}
	k := mat.NewSymDense(max(n, 1), nil)
	for i := range n {
		for j := i; j < n; j++ {
			k.SetSym(i, j, cov.At(i, j)+dot(rows[i], rows[j]))
		}
	}
	var chol mat.Cholesky
	if n == 0 || !chol.Factorize(k) {
		return nil
	}
	var w mat.VecDense
	chol.SolveVecTo(&w, mat.NewVecDense(n, y))
	if len(places) == 0 {
		return nil
	}
	// All places are solved for at once: one place at a time takes four times as long.
	bases := make([][]float64, len(places))
	c, kc := mat.NewDense(n, len(places), nil), new(mat.Dense)
	for p, s := range places {
		bases[p] = basis(s)
		for i := range n {
			c.Set(i, p, dot(bases[p], rows[i]))
		}
	}
	chol.SolveTo(kc, c)
	out := make([]estimate, len(places))
	for p, s := range places {
		at := c.ColView(p)
		out[p] = estimate{s, mat.Dot(at, &w), math.Sqrt(math.Max(0, dot(bases[p], bases[p])-mat.Dot(at, kc.ColView(p))))}
	}
	return out
}

func dot(a, b []float64) float64 {
	var s float64
	for i, x := range a {
		s += x * b[i]
	}
	return s
}

// rightOf is the unit vector to the right of a direction.
func rightOf(d geo.XY) geo.XY { return geo.XY{X: d.Y, Y: -d.X} }

// depth estimates the true depth: readings are corrected for what the field
// alone does to them, weighted by what two antennas' noise does to depth.
//
// What all traced depths share, their scale, is one unknown of known spread.
func (o oracle) depth(tr tracetest.Trace) []estimate {
	var st, y, v, scale []float64
	for _, r := range o.rds {
		if math.IsNaN(r.DepthM) || r.Truth.DepthSpike || math.IsNaN(r.Truth.CleanDepthM) {
			continue
		}
		t := r.Truth
		st = append(st, t.StationM)
		if r.Exposed {
			y, v, scale = append(y, r.DepthM-t.DepthM), append(v, 0.01*0.01), append(scale, 0)
			continue
		}
		gap := o.job.AntennaGapM
		amplify := (t.CleanDepthM + gap) / gap * math.Sqrt2 * tr.AntennaRel
		sd := t.DepthM * math.Hypot(tr.DepthRel, amplify)
		y, v = append(y, r.DepthM*t.DepthM/t.CleanDepthM-t.DepthM), append(v, sd*sd+tr.DepthStepM*tr.DepthStepM/12)
		scale = append(scale, t.DepthM*tr.DepthScaleRel)
	}
	cov := mat.NewSymDense(max(len(st), 1), nil)
	for i := range st {
		for k := i; k < len(st); k++ {
			cov.SetSym(i, k, scale[i]*scale[k]+when(i == k, v[i]))
		}
	}
	return predict(st, y, cov, o.places, depthBasis(o.line))
}

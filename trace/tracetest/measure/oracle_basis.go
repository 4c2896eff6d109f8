package measure

import (
	"math"

	"loamline.example/trace/tracetest"
)

// shapeBasis returns the ways in which a line of the family of its shape may
// differ from the truth, as offsets to its right at a station, each scaled to
// its prior spread. Between elbows a run has an offset and a heading; an arc
// adds its curvature and where it begins and ends; wandering adds what the
// law of its curvature allows; slow sideways waves may have any phase.
func shapeBasis(l tracetest.Line) func(float64) []float64 {
	var ways []func(float64) float64
	from := 0.0
	for _, to := range runEnds(l) {
		a, b := from, to
		inside := func(s float64) bool { return s >= a && s < b }
		ways = append(ways,
			func(s float64) float64 { return when(inside(s), priorOffsetM) },
			func(s float64) float64 { return when(inside(s), priorSlope*(s-(a+b)/2)) })
		for _, e := range l.Elements {
			if e.FromM < a-1e-6 || e.FromM >= b {
				continue
			}
			for _, w := range elementWays(e) {
				ways = append(ways, func(s float64) float64 { return when(inside(s), w(s)) })
			}
		}
		from = to
	}
	for _, v := range l.Sways {
		a := 2 * math.Pi / v.LengthM
		ways = append(ways,
			func(s float64) float64 { return v.AmplitudeM / math.Sqrt2 * math.Sin(a*s) },
			func(s float64) float64 { return v.AmplitudeM / math.Sqrt2 * math.Cos(a*s) })
	}
	return func(s float64) []float64 {
		out := make([]float64, len(ways))
		for i, w := range ways {
			out[i] = w(s)
		}
		return out
	}
}

func when(yes bool, v float64) float64 {
	if yes {
		return v
	}
	return 0
}

func runEnds(l tracetest.Line) []float64 {
	var out []float64
	for _, k := range l.Corners {
		out = append(out, k.StationM)
	}
	return append(out, l.Path.Length()+100)
}

// ramp is the offset that a kink at a station makes.
func ramp(s, at float64) float64 { return math.Max(0, s-at) }

func elementWays(e tracetest.Element) []func(float64) float64 {
	switch e.Kind {
	case tracetest.Arc:
		return []func(float64) float64{
			func(s float64) float64 {
				in := ramp(s, e.FromM)
				over := ramp(s, e.ToM)
				return priorCurvature * (in*in - over*over) / 2
			},
			func(s float64) float64 { return priorSlope * ramp(s, e.FromM) },
			func(s float64) float64 { return priorSlope * ramp(s, e.ToM) },
		}
	case tracetest.Wander:
		return wanderWays(e)
	}
	return nil
}

// wanderWays is the response of the line to each of the independent shocks
// that the wander of a cable is made of; see [tracetest.WanderResponse].
func wanderWays(e tracetest.Element) []func(float64) float64 {
	stepM, responses := tracetest.WanderResponse(e.ToM - e.FromM)
	ways := make([]func(float64) float64, len(responses))
	for i, off := range responses {
		ways[i] = func(s float64) float64 {
			x := (s - e.FromM) / stepM
			last := len(off) - 1
			switch {
			case x <= 0:
				return 0
			case x >= float64(last): // straight on from the end
				return off[last] + (x-float64(last))*(off[last]-off[last-1])
			}
			k := int(x)
			return off[k] + (x-float64(k))*(off[k+1]-off[k])
		}
	}
	return ways
}

// priorDepthM is how far a knot of the depth profile may be from the truth.
const priorDepthM = 1.0

// depthBasis is the same for depth: levels at the profile's knots, straight
// between, and its waves at any phase.
func depthBasis(l tracetest.Line) func(float64) []float64 {
	k, w := l.Profile.Knots, l.Profile.Waves
	return func(s float64) []float64 {
		out := make([]float64, 0, len(k)+2*len(w))
		for i := range k {
			out = append(out, priorDepthM*hat(k, i, s))
		}
		for _, v := range w {
			a := 2 * math.Pi * s / v.LengthM
			out = append(out, v.AmplitudeM/math.Sqrt2*math.Sin(a), v.AmplitudeM/math.Sqrt2*math.Cos(a))
		}
		return out
	}
}

// hat is 1 at knot i and falls to 0 at its neighbours.
func hat(k []tracetest.Knot, i int, s float64) float64 {
	at := k[i].StationM
	switch {
	case s < at && i > 0:
		return math.Max(0, 1-(at-s)/(at-k[i-1].StationM))
	case s > at && i+1 < len(k):
		return math.Max(0, 1-(s-at)/(k[i+1].StationM-at))
	}
	return 1
}

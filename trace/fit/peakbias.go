package fit

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// Where the line comes back beside itself the peak stands off the line it is
// over, for the other leg's field adds a slope to its own. Judgement: the slope's own step
// and the rounds are of the arithmetic, farther off the readings shape the line, and what
// is less shows in no position.
const (
	biasRounds     = 4
	biasStepM      = 0.02 // of the slope, to both sides
	mostBiasDepths = 0.3  // depths
	leastBiasM     = 0.002
)

// biasM returns by how much the peak over the line stands to the right of it at a
// station: where the slope of the own leg's field k·I·h/(x²+h²) and that of the
// legs beside it cancel.
func (b *ownField) biasM(stationM, depthM float64) float64 {
	o := b.lookFrom(stationM)
	w := b.within(o, fieldReach*(depthM+receiver.UsualGapM))
	right := geo.XY{X: o.t.Y, Y: -o.t.X}
	slope := func(x float64) float64 {
		at := func(x float64) float64 {
			low, _ := b.beside(o, w, o.p.Add(right.Scale(x)), depthM)
			return low
		}
		return (at(x+biasStepM) - at(x-biasStepM)) / (2 * biasStepM)
	}
	x := 0.0
	for range biasRounds {
		s := slope(x) / b.amp(o.leg)
		if s == 0 {
			return 0
		}
		x = clamp(receiver.PeakOffM(s, x, depthM), -mostBiasDepths*depthM, mostBiasDepths*depthM)
	}
	return x
}

// removeBias moves the line from where its peak stands to where it lies, and widens
// the band by the doubt of that. It tells whether anything moved.
func (t *traced) removeBias(vs []trace.Vertex, own *ownField) (moved bool) {
	off := make([]float64, len(vs))
	for i, v := range vs {
		d := v.DepthM
		if math.IsNaN(d) {
			d = t.w.depthM
		}
		if x := own.biasM(v.StationM, d); math.Abs(x) > leastBiasM {
			off[i], moved = x, true
			vs[i].Horizontal95M = math.Hypot(v.Horizontal95M, 1.96*biasShare*x)
		}
	}
	if !moved {
		return false
	}
	for i := len(vs) - 1; i >= 0; i-- { // from behind: the leg to a vertex is to lie as it did
		dir := own.dir(own.leg(vs[i].StationM))
		vs[i].Pos = vs[i].Pos.Add(geo.XY{X: -dir.Y, Y: dir.X}.Scale(off[i]))
	}
	for i := range t.w.places {
		o := &t.w.places[i]
		o.offsetM += valueBetween(vs, off, o.stationM)
	}
	return true
}

// remeasure sets the stations anew, along the vertices as they lie.
func (t *traced) remeasure(vs []trace.Vertex) {
	at := make([]float64, len(vs))
	for i := 1; i < len(vs); i++ {
		at[i] = at[i-1] + vs[i].Pos.Dist(vs[i-1].Pos)
	}
	for i := range t.w.places {
		o := &t.w.places[i]
		o.stationM = valueBetween(vs, at, o.stationM)
	}
	for i := range vs {
		vs[i].StationM = at[i]
	}
}

// valueBetween takes what is known at the vertices to a station between them.
func valueBetween(vs []trace.Vertex, v []float64, at float64) float64 {
	return between(len(vs), func(k int) float64 { return vs[k].StationM }, v, at)
}

// between takes what is known at n stations, in their order, to one between two of them; what
// lies before the first or past the last is as there.
func between(n int, station func(k int) float64, v []float64, at float64) float64 {
	i := sort.Search(n, func(k int) bool { return station(k) >= at })
	switch i {
	case 0:
		return v[0]
	case n:
		return v[n-1]
	}
	u := (at - station(i-1)) / math.Max(station(i)-station(i-1), 1e-9)
	return v[i-1] + u*(v[i]-v[i-1])
}

// Package pinned carries an error that is known at single places of a line, where it was
// exposed, along it: what is expected of it elsewhere, and what is left open ([Pins.At]).
// By that it moves a line across and widens its bands. It knows nothing of readings beyond
// their places.
package pinned

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Pin is a place at which something about the line is known to be off by a
// value: an offset in metres, or the ln of a depth.
type Pin struct{ StationM, Value float64 }

// reachM is over what length along the line an error that an exposure shows
// is taken to go on: judged, no source.
const reachM = 10.0

// Pins are sorted by station. Between and beyond them the error is a
// first-order Gauss-Markov process in the station (Gelb 1974, Applied Optimal
// Estimation), which makes a bridge from each to the next.
type Pins []Pin

// New sorts pins.
func New(ps []Pin) Pins {
	sort.SliceStable(ps, func(a, b int) bool { return ps[a].StationM < ps[b].StationM })
	return ps
}

// At is the error expected at a station, and the share of the process's
// variance that is left there: 0 at a pin, 1 far from all of them.
func (ps Pins) At(stationM float64) (mean, left float64) {
	i := sort.Search(len(ps), func(i int) bool { return ps[i].StationM >= stationM })
	keep := func(k int) float64 {
		if k < 0 || k >= len(ps) {
			return 0
		}
		return math.Exp(-math.Abs(ps[k].StationM-stationM) / reachM)
	}
	a, b := keep(i-1), keep(i)
	if a == 1 || b == 1 { // on a pin, or between two of one place
		if b == 1 {
			return ps[i].Value, 0
		}
		return ps[i-1].Value, 0
	}
	free := 1 - a*a*b*b
	if a > 0 {
		mean += ps[i-1].Value * a * (1 - b*b) / free
	}
	if b > 0 {
		mean += ps[i].Value * b * (1 - a*a) / free
	}
	return mean, (1 - a*a) * (1 - b*b) / free
}

// margin is the quarter more (judged; no source).
const margin = 1.25

// Wrong95 is by how much the trace may be off where no pin is near, from how far
// off it was at the pins: a quarter more than that at root mean square.
func (ps Pins) Wrong95() float64 {
	sum := 0.0
	for _, p := range ps {
		sum += p.Value * p.Value
	}
	return margin * math.Sqrt(sum/math.Max(1, float64(len(ps))))
}

// wrongNear95 is the same as the pins next to a station show it: those at which the trace was
// right do not make it better where it was wrong at the next one, and it goes on as wrong
// beyond the last. Between two it is taken to change evenly.
func (ps Pins) wrongNear95(stationM float64) float64 {
	if len(ps) == 0 {
		return 0
	}
	i := sort.Search(len(ps), func(i int) bool { return ps[i].StationM >= stationM })
	a, b := ps[max(0, i-1)], ps[min(i, len(ps)-1)]
	u := 0.0
	if b.StationM > a.StationM {
		u = math.Min(1, math.Max(0, (stationM-a.StationM)/(b.StationM-a.StationM)))
	}
	return margin * ((1-u)*math.Abs(a.Value) + u*math.Abs(b.Value))
}

// WidenApart widens a line that was fitted through its exposed places by what the rest of
// the trace was off there: where none of them is near, and behind a bend that is not
// exposed, it is off by as much, and nothing moves it.
func (ps Pins) WidenApart(c *trace.Centerline) {
	wrong := ps.Wrong95()
	for k := range c.Parts {
		vs := c.Parts[k].Vertices
		for i := range vs {
			_, left := ps.At(vs[i].StationM)
			vs[i].Horizontal95M = math.Max(vs[i].Horizontal95M, math.Max(wrong, ps.wrongNear95(vs[i].StationM))*math.Sqrt(left))
		}
	}
}

// spotsM are the distances from a pin at which a line gets vertices, so that
// it can leave it as the process does. Judgement.
var spotsM = []float64{0, 0.5, 1, 2, 4, 7, 11, 17, 25}

// apartM is how far two vertices lie apart at the least: a band changes by nothing within
// it. Judgement.
const apartM = 0.05

// AddVertices gives the parts vertices about the pins.
func (ps Pins) AddVertices(c *trace.Centerline) {
	for k := range c.Parts {
		part := &c.Parts[k]
		var at []float64
		for _, p := range ps {
			for _, d := range spotsM {
				for _, s := range [...]float64{p.StationM - d, p.StationM + d} {
					if s > part.FromM()+apartM && s < part.ToM()-apartM {
						at = append(at, s)
					}
				}
			}
		}
		sort.Float64s(at)
		var out []trace.Vertex
		for i, v := range part.Vertices {
			out = append(out, v)
			if i+1 == len(part.Vertices) {
				break
			}
			next := part.Vertices[i+1]
			for len(at) > 0 && at[0] < next.StationM-apartM {
				if at[0] > out[len(out)-1].StationM+apartM {
					out = append(out, v.Lerp(next, (at[0]-v.StationM)/(next.StationM-v.StationM)))
				}
				at = at[1:]
			}
			for len(at) > 0 && at[0] <= next.StationM+apartM {
				at = at[1:]
			}
		}
		part.Vertices = out
	}
}

// MoveAcross moves a line across its direction by what the pins say, widens it
// by what they leave open, and gives it and its readings their stations anew.
// exposed95M is the error of the pinned places themselves, and shared what they do not show.
// It tells how wide that is across the line at the most.
func (ps Pins) MoveAcross(c *trace.Centerline, rs []trace.Reading, exposed95M float64, shared Shared) (unseenM float64) {
	wrong := ps.Wrong95()
	var was []float64
	for k := range c.Parts {
		vs := c.Parts[k].Vertices
		path := geo.NewPolyline(c.Parts[k].Path())
		to := make([]geo.XY, len(vs))
		for i := range vs {
			v := &vs[i]
			mean, left := ps.At(v.StationM)
			right := rightOf(path, i)
			unseen := shared.AcrossM(right)
			unseenM = math.Max(unseenM, unseen)
			to[i] = v.Pos.Add(right.Scale(mean))
			v.Horizontal95M = math.Sqrt((v.Horizontal95M*v.Horizontal95M+wrong*wrong)*left + exposed95M*exposed95M*(1-left) + unseen*unseen)
			v.Horizontal95M = math.Max(v.Horizontal95M, ps.wrongNear95(v.StationM)*math.Sqrt(left))
			v.Common95M = math.Min(v.Common95M, v.Horizontal95M)
			was = append(was, v.StationM)
		}
		for i := range vs {
			vs[i].Pos = to[i]
		}
	}
	pl := c.Polyline()
	n := 0
	for k := range c.Parts {
		for i := range c.Parts[k].Vertices {
			c.Parts[k].Vertices[i].StationM = pl.Station(n)
			n++
		}
	}
	for i := range rs {
		r := &rs[i]
		if trace.Known(r.StationM) {
			mean, _ := ps.At(r.StationM)
			r.OffsetM -= mean
			r.StationM = remap(was, pl, r.StationM)
		}
	}
	return unseenM
}

// MoveJoined is MoveAcross for a line that was joined from reading to reading. Its readings
// are off each by itself too, so that no pin makes its band narrower; and it turns within
// strides of a pin, where an error seen across it is one along it and the move a mistake:
// its band holds the line as it was read, with what was seen, and as it was moved.
func (ps Pins) MoveJoined(c *trace.Centerline, rs []trace.Reading, exposed95M float64, shared Shared) (unseenM float64) {
	wrong := ps.Wrong95()
	var least []float64
	for _, p := range c.Parts {
		for _, v := range p.Vertices {
			mean, _ := ps.At(v.StationM)
			least = append(least, math.Abs(mean)+math.Hypot(v.Horizontal95M, wrong))
		}
	}
	unseenM = ps.MoveAcross(c, rs, exposed95M, shared)
	for k := range c.Parts {
		vs := c.Parts[k].Vertices
		for i := range vs {
			vs[i].Horizontal95M = math.Max(vs[i].Horizontal95M, math.Hypot(least[i], unseenM))
		}
		least = least[len(vs):]
	}
	return unseenM
}

// rightOf is the unit vector to the right of a path at one of its points, over
// both legs that meet there.
func rightOf(path geo.Polyline, i int) geo.XY {
	s := path.Station(i)
	d := path.Direction(s - 1e-6).Add(path.Direction(s + 1e-6))
	if n := d.Norm(); n > 0 {
		d = d.Scale(1 / n)
	}
	return geo.XY{X: d.Y, Y: -d.X}
}

// remap carries a station from the stations that the vertices had to those that
// they have.
func remap(was []float64, pl geo.Polyline, stationM float64) float64 {
	i := sort.SearchFloat64s(was, stationM)
	switch {
	case i == 0:
		return stationM - was[0] + pl.Station(0)
	case i == len(was):
		return stationM - was[i-1] + pl.Station(i-1)
	}
	u := (stationM - was[i-1]) / math.Max(was[i]-was[i-1], 1e-9)
	return pl.Station(i-1) + u*(pl.Station(i)-pl.Station(i-1))
}

package compare

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Overlay is a second locate of a line laid over the first. Stations are the
// first one's.
type Overlay struct {
	Line      string
	Other     string // the second map's line, where the two were paired
	Places    []OverlayPlace
	Disagree  []OverlayStretch
	FirstOnly bool // the second map has no line of this name
	OtherOnly bool // the first map has none

	// Of either map, the first's before the second's.
	Kinds   [2]trace.Utility          // where both know what the line is, and differ; else empty
	AloneM  [2]float64                // how much of it has nothing of the other beside it
	LengthM [2]float64                // of how much
	Doubted [2][]trace.LocatedStretch // where the map itself does not trust it
}

// aloneM is from how much of a line on that has nothing of the other map beside it that is
// told: two walks of one line begin and end a few strides apart. Judgement.
const aloneM = 5.0

// Lacks reports whether a good part of the map's line has nothing of the other beside it.
func (o Overlay) Lacks(which int) bool { return o.AloneM[which] > aloneM }

// Disagrees reports whether there is anything in which the maps contradict each other: that
// one has what the other has not, too.
func (o Overlay) Disagrees() bool {
	return len(o.Disagree) > 0 || o.FirstOnly || o.OtherOnly || o.Kinds[0] != "" || o.Lacks(0) || o.Lacks(1)
}

// OverlayPlace compares the two locates at one station.
type OverlayPlace struct {
	StationM         float64
	OffsetM          float64 // second from first, positive to the right of the first's travel
	AllowedM         float64 // the two bands end to end: beyond this they do not overlap
	DepthDifferenceM float64 // second minus first; Unknown without both
	DepthAllowedM    float64
}

// OverlayStretch is where the two locates disagree beyond both bands.
type OverlayStretch struct {
	FromM, ToM float64
	Depth      bool    // in depth; else in position
	LargestM   float64 // signed as in OverlayPlace
	AllowedM   float64 // both bands at that place
}

// MeanOffsetM is the mean of the offsets, Unknown without a shared place.
func (o Overlay) MeanOffsetM() float64 {
	sum := 0.0
	for _, p := range o.Places {
		sum += p.OffsetM
	}
	return sum / float64(len(o.Places))
}

// DepthsCompared is at how many places both locates have a depth with its band: at the
// others nothing is known of a difference.
func (o Overlay) DepthsCompared() int {
	n := 0
	for _, p := range o.Places {
		if trace.Known(p.DepthDifferenceM) && trace.Known(p.DepthAllowedM) {
			n++
		}
	}
	return n
}

// maxKink is the least cosine between two locates where they are taken to run side by
// side and not to cross. Judgement.
const maxKink = 0.7

// overlayReachM is how far two locates of one line may lie apart to be compared
// at all; farther off, the other map's line has ended or is another line. Judgement.
const overlayReachM = 10.0

// OverlayLocates lays the second map's lines over the first's, line by line by
// name: the first's lines in their order, then those that only the second has.
func OverlayLocates(first, second trace.Located) []Overlay {
	var out []Overlay
	for _, a := range first.Lines {
		o := Overlay{Line: a.Name, FirstOnly: true}
		for _, b := range second.Lines {
			if b.Name == a.Name && len(a.Parts) > 0 && len(b.Parts) > 0 {
				o = overlayLine(a, b)
			}
		}
		out = append(out, o)
	}
	for _, b := range second.Lines {
		known := false
		for _, a := range first.Lines {
			known = known || a.Name == b.Name
		}
		if !known {
			out = append(out, Overlay{Line: b.Name, OtherOnly: true})
		}
	}
	return out
}

// planePart is a part in a common plane.
type planePart struct {
	path geo.Polyline
	vs   []trace.LocatedVertex
}

func planeParts(l trace.LocatedLine, plane geo.Plane) []planePart {
	out := make([]planePart, len(l.Parts))
	for i, p := range l.Parts {
		pts := make([]geo.XY, len(p))
		for k, v := range p {
			pts[k] = plane.XY(v.At)
		}
		out[i] = planePart{geo.NewPolyline(pts), p}
	}
	return out
}

func overlayLine(a, b trace.LocatedLine) Overlay {
	o := placesOf(a, b)
	o.Doubted = [2][]trace.LocatedStretch{a.Doubted, b.Doubted}
	o.LengthM[0], o.AloneM[0] = aloneOf(a, b)
	o.LengthM[1], o.AloneM[1] = aloneOf(b, a)
	if a.Utility.Known() && b.Utility.Known() && a.Utility != b.Utility {
		o.Kinds = [2]trace.Utility{a.Utility, b.Utility}
	}
	return o
}

// placesOf compares at the vertices of the first line.
func placesOf(a, b trace.LocatedLine) Overlay {
	plane := geo.NewPlane(a.Parts[0][0].At)
	others := planeParts(b, plane)
	o := Overlay{Line: a.Name}
	for _, p := range planeParts(a, plane) {
		from := len(o.Places)
		for i, v := range p.vs {
			if place, ok := overlayAt(p, i, v, others); ok {
				o.Places = append(o.Places, place)
			}
		}
		o.Disagree = append(o.Disagree, disagreements(o.Places[from:])...)
	}
	return o
}

// aloneStepM is the step in which a line is asked whether the other lies beside it.
// Judgement.
const aloneStepM = 0.5

// aloneOf is how long a line is, and how much of it has nothing of another beside it.
func aloneOf(a, b trace.LocatedLine) (lengthM, aloneM float64) {
	plane := geo.NewPlane(a.Parts[0][0].At)
	var others []*geo.PolylineIndex
	var lengths []float64
	for _, q := range planeParts(b, plane) {
		others, lengths = append(others, q.path.Index()), append(lengths, q.path.Length())
	}
	for _, p := range planeParts(a, plane) {
		length := p.path.Length()
		lengthM += length
		steps := math.Ceil(length / aloneStepM)
		for k := 0.0; k < steps; k++ {
			here, beside := p.path.At((k+0.5)*length/steps), false
			for n, q := range others {
				f := q.Nearest(here)
				beside = beside || f.StationM > 0 && f.StationM < lengths[n] && math.Abs(f.OffsetM) <= overlayReachM
			}
			if !beside {
				aloneM += length / steps
			}
		}
	}
	return lengthM, aloneM
}

// overlayAt compares at one vertex of the first line with the nearest place of
// the second.
func overlayAt(p planePart, i int, v trace.LocatedVertex, others []planePart) (OverlayPlace, bool) {
	at, dir := p.path.Points[i], p.path.Direction(p.path.Station(i))
	best := OverlayPlace{OffsetM: math.Inf(1)}
	for _, q := range others {
		f := q.path.Nearest(at)
		if f.StationM <= 0 || f.StationM >= q.path.Length() || math.Abs(f.OffsetM) > overlayReachM {
			continue
		}
		if math.Abs(dir.Dot(q.path.Direction(f.StationM))) < maxKink || math.Abs(f.OffsetM) >= math.Abs(best.OffsetM) {
			continue
		}
		off := math.Abs(f.OffsetM)
		if dir.Cross(f.At.Sub(at)) > 0 {
			off = -off
		}
		w := q.between(f)
		best = OverlayPlace{StationM: v.StationM, OffsetM: off, AllowedM: known0(v.Horizontal95M) + known0(w.Horizontal95M),
			DepthDifferenceM: w.DepthM - v.DepthM, DepthAllowedM: v.Depth95M + w.Depth95M}
	}
	return best, !math.IsInf(best.OffsetM, 1)
}

// between interpolates a part's values at a foot.
func (p planePart) between(f geo.Foot) trace.LocatedVertex {
	a, b := p.vs[f.Segment], p.vs[f.Segment+1]
	t := 0.0
	if l := p.path.Station(f.Segment+1) - p.path.Station(f.Segment); l > 0 {
		t = (f.StationM - p.path.Station(f.Segment)) / l
	}
	mix := func(x, y float64) float64 { return x + t*(y-x) }
	return trace.LocatedVertex{DepthM: mix(a.DepthM, b.DepthM), Depth95M: mix(a.Depth95M, b.Depth95M),
		Horizontal95M: mix(known0(a.Horizontal95M), known0(b.Horizontal95M))}
}

func known0(v float64) float64 {
	if !trace.Known(v) {
		return 0
	}
	return v
}

// disagreements are the runs of places where the bands do not overlap, first
// in position, then in depth.
func disagreements(places []OverlayPlace) []OverlayStretch {
	var out []OverlayStretch
	for _, depth := range []bool{false, true} {
		for i := 0; i < len(places); {
			j := i
			s := OverlayStretch{FromM: places[i].StationM, Depth: depth}
			for j < len(places) && places[j].apart(depth) {
				d, allowed := places[j].OffsetM, places[j].AllowedM
				if depth {
					d, allowed = places[j].DepthDifferenceM, places[j].DepthAllowedM
				}
				if math.Abs(d) > math.Abs(s.LargestM) {
					s.LargestM, s.AllowedM = d, allowed
				}
				s.ToM = places[j].StationM
				j++
			}
			if j > i {
				out = append(out, s)
			}
			i = max(j, i+1)
		}
	}
	return out
}

// apart reports whether the two bands do not overlap here; unknown depths
// contradict nothing.
func (p OverlayPlace) apart(depth bool) bool {
	if depth {
		return math.Abs(p.DepthDifferenceM) > p.DepthAllowedM
	}
	return math.Abs(p.OffsetM) > p.AllowedM
}

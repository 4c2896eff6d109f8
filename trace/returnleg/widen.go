package returnleg

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
)

// Where a leg counts as one that comes back beside another. Judgement: within some 25 degrees
// of straight against it; more than legDepths away, in depths shown and the gap of the
// antennas, where its peak is drawn is near enough to where it lies for the fit to reckon
// with; readingsBeside depths tell what is shown at a place, none farther than readWithinM;
// along the line the leg is farther away than back times straight across, so that the line
// came back and did not only step aside; and straight across counts what leans by inWedge,
// lest a place opposite a slight bend have no leg beside it.
const (
	against        = -0.9
	legDepths      = 3.0
	readingsBeside = 5
	readWithinM    = 15.0
	back           = 2
	inWedge        = 0.3
	mostLegs       = 1500 // time: the legs of a line are held against each other
)

// leg is a straight piece of the line as drawn.
type leg struct {
	from, to *trace.Vertex
	dir      geo.XY
	longM    float64
}

type view struct {
	legs []leg
	on   []*trace.Reading // whose depths count, by station
	gapM float64
	ownM func(*trace.Reading) float64 // one sigma per axis
}

// Widen has the bands of a line hold its legs where they come back beside each other.
func Widen(l *trace.Line, gapM float64, ownM func(*trace.Reading) float64) {
	v := newView(l, gapM)
	if v == nil {
		return
	}
	v.ownM = ownM
	type hold struct{ bandM, depthM float64 }
	var holds [][]hold
	found := false
	for _, p := range l.Centerline.Parts {
		of := make([]hold, len(p.Vertices))
		for i := range p.Vertices {
			x := &p.Vertices[i]
			pairs, readM := v.at(x, direction(p.Vertices, i))
			if len(pairs) == 0 {
				continue
			}
			found = true
			of[i].bandM = math.Hypot(x.Horizontal95M, holds95(pairs, func(p pair) float64 { return readM + p.in }))
			of[i].depthM = holds95(pairs, func(p pair) float64 { return p.depth - x.DepthM })
		}
		holds = append(holds, of)
	}
	if !found {
		return
	}
	for k := range l.Centerline.Parts {
		p := &l.Centerline.Parts[k]
		p.Vertices = slices.Clone(p.Vertices)
		for i, h := range holds[k] {
			x := &p.Vertices[i]
			x.Horizontal95M = math.Max(x.Horizontal95M, h.bandM)
			x.Depth95M = math.Max(x.Depth95M, h.depthM)
		}
	}
}

func newView(l *trace.Line, gapM float64) *view {
	v := &view{gapM: gapM}
	if !(gapM > 0) {
		v.gapM = receiver.UsualGapM
	}
	turned := 0.0
	for _, p := range l.Centerline.Parts {
		for i := 1; i < len(p.Vertices); i++ {
			x := leg{from: &p.Vertices[i-1], to: &p.Vertices[i]}
			d := x.to.Pos.Sub(x.from.Pos)
			if x.longM = d.Norm(); x.longM == 0 {
				continue
			}
			x.dir = d.Scale(1 / x.longM)
			if n := len(v.legs); n > 0 {
				turned += math.Abs(math.Atan2(v.legs[n-1].dir.Cross(x.dir), v.legs[n-1].dir.Dot(x.dir)))
			}
			v.legs = append(v.legs, x)
		}
	}
	if turned < math.Pi/2 || len(v.legs) > mostLegs {
		return nil
	}
	for i := range l.Readings {
		r := &l.Readings[i]
		if r.Status == trace.StatusUsed && trace.Known(r.StationM) && (r.Exposed || r.DepthM > 0 && !r.DepthDropped) {
			v.on = append(v.on, r)
		}
	}
	slices.SortStableFunc(v.on, func(a, b *trace.Reading) int { return cmp.Compare(a.StationM, b.StationM) })
	return v
}

func direction(vs []trace.Vertex, i int) geo.XY {
	d := vs[min(i+1, len(vs)-1)].Pos.Sub(vs[max(i-1, 0)].Pos)
	return d.Scale(1 / math.Max(d.Norm(), 1e-9))
}

// at is what the line may be at a vertex, and how far the readings lie off it toward the
// other leg.
func (v *view) at(x *trace.Vertex, dir geo.XY) (pairs []pair, readM float64) {
	own, ok := v.read(x.StationM)
	if !ok || !trace.Known(x.DepthM) || !trace.Known(x.Horizontal95M) {
		return nil, 0
	}
	b, ok := v.beside(x, dir, legDepths*(own.shownM+v.gapM))
	if !ok {
		return nil, 0
	}
	other, ok := v.read(b.stationM)
	if !ok {
		return nil, 0
	}
	readM, otherM := own.rightM, other.rightM
	if b.left { // of both, for they run against each other
		readM, otherM = -readM, -otherM
	}
	apart, bandM := b.apartM-readM-otherM, sigmas*math.Hypot(own.sigmaM, other.sigmaM)
	if !(bandM < apart/2) {
		return nil, 0 // nothing tells the legs apart
	}
	for _, off := range [...]float64{-1, 0, 1} {
		if s := (seen{apart + off*bandM, own.shownM, other.shownM, v.gapM}); s.peaksM > leastLegsM {
			pairs = s.pairs(pairs)
		}
	}
	return pairs, readM
}

// sigmas is a 95 % bound of a normal error (derived).
const sigmas = 1.96

// read is what is shown about a station, how far to the right of the line, and the error of
// that place.
type read struct{ shownM, rightM, sigmaM float64 }

// read is false where nothing was read, or where the line was exposed.
func (v *view) read(stationM float64) (about read, ok bool) {
	i := sort.Search(len(v.on), func(i int) bool { return v.on[i].StationM >= stationM })
	from := max(0, min(i-(readingsBeside+1)/2, len(v.on)-readingsBeside))
	var room [3][readingsBeside]float64
	depth, off, own := room[0][:0], room[1][:0], room[2][:0]
	for _, r := range v.on[from:min(len(v.on), from+readingsBeside)] {
		if math.Abs(r.StationM-stationM) > readWithinM {
			continue
		}
		if r.Exposed {
			return read{}, false
		}
		depth, off, own = append(depth, r.DepthM), append(off, r.OffsetM), append(own, v.ownM(r))
	}
	if len(depth) == 0 || slices.ContainsFunc(own, math.IsNaN) {
		return read{}, false
	}
	return read{ranked.Median(depth), ranked.Median(off), ranked.Median(own)}, true
}

// beside is the nearest leg that runs back beside a vertex.
type beside struct {
	apartM, stationM float64
	left             bool
}

func (v *view) beside(x *trace.Vertex, dir geo.XY, reachM float64) (b beside, ok bool) {
	const rounding = 1e-6 // metres: a bound of the arithmetic
	b.apartM = reachM
	for i := range v.legs {
		g := &v.legs[i]
		long := g.longM
		if g.dir.Dot(dir) > against || x.Pos.Dist(g.from.Pos) > b.apartM+long+rounding {
			continue // no way back, or no place of it is near enough
		}
		along := x.Pos.Sub(g.from.Pos).Dot(g.dir)
		u := math.Max(0, math.Min(1, along/long))
		to := g.from.Pos.Lerp(g.to.Pos, u).Sub(x.Pos)
		if math.Abs(along-u*long) > inWedge*to.Norm() {
			continue // it ends before, or begins behind
		}
		at := g.from.StationM + u*(g.to.StationM-g.from.StationM)
		if d := to.Norm(); d > 0 && d < b.apartM && math.Abs(at-x.StationM) > back*d {
			b, ok = beside{d, at, dir.Cross(to) > 0}, true
		}
	}
	return b, ok
}

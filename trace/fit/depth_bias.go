package fit

import (
	"math"
	"slices"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// The two-antenna depth supposes a long straight line. Where the line bends away
// or comes back beside itself, the receiver shows less (or more) than the depth;
// ownField says by how much, from the fitted line alone: the field of its legs at
// both antennas by the law of Biot and Savart, at the depth of the reading.
type ownField struct {
	vs    []trace.Vertex  // the line, shared
	ends  [2]trace.Vertex // where it goes on to, before and after
	amps  []float64       // current of each leg as read, to within a common factor; nil where all are alike
	boxes []legsBox       // of legs, none where they are too many to search
	ways  []way           // legs that are none, in order
	turns []float64       // radians that the line has turned by up to each vertex
	last  outlook         // asked for last; the vertices lie still until all is asked
}

// outlook is the line as it lies seen from over one of its stations. The fields there are asked
// for at several depths and currents in turn, and what does not change with them is kept.
type outlook struct {
	stationM float64
	leg      int
	p, t     geo.XY             // the place, and where the line heads
	window   window             // asked for last
	legs     []receiver.SeenLeg // of it
	nearM    float64
	near     []int32 // legs whose middles are nearer than that
}

// window is legs in a row, and where the first and the last head.
type window struct {
	from, to int
	in, out  geo.XY
}

// way is a leg where nothing is buried: the way between two parts that meet. At one
// end of it a branch ends and may go on, at the other a part meets the line that is
// drawn there already.
type way struct {
	leg    int
	begins bool // it begins where the parts meet, else it ends there
}

// legsBox is the box about some legs.
type legsBox struct{ lo, hi geo.XY }

// How far the line's own course matters, and how much of a depth can be lost. Judgement;
// a line that ended at fieldReach would lose 0.6 % of a depth (receiver.EndLoss).
const (
	fieldReach  = 12.0 // depths
	mostLost    = 0.45
	lostRounds  = 4    // from what is shown to what is there
	sameLost    = 1e-5 // of a depth of a metre a hundredth of a millimetre
	boxLegs     = 16
	runOnM      = 15.0 // by which the line goes on beyond its readings
	runOnFromM  = 5.0
	runOnClearM = 3.0 // that it keeps from itself
	leastOnM    = 0.1 // that it goes on in any case, for the direction of the leg
	// A turn and a change of current, of itself, that no depth shows: derived, by what the sharpest
	// of them takes where most is lost, three times a fourth of its square and half of its share.
	leastFeltRad, leastFeltShare = 0.03, 0.02
	besideWork                   = 4000000 // legs squared that are searched for legs beside
	nearMore                     = 1.1     // times the reach within which they are listed
)

func newOwnField(vs []trace.Vertex, ways []way) *ownField {
	b := &ownField{vs: vs, ends: runOn(vs), ways: ways, turns: make([]float64, len(vs)), last: outlook{stationM: math.NaN()}}
	for i := 1; i < len(vs); i++ {
		b.turns[i] = b.turns[i-1]
		if i+1 < len(vs) {
			b.turns[i] += turnBetween(vs[i].Pos.Sub(vs[i-1].Pos), vs[i+1].Pos.Sub(vs[i].Pos))
		}
	}
	for i := 0; i < b.legs() && b.legs()*b.legs() < besideWork; i += boxLegs {
		x := legsBox{b.vertex(i).Pos, b.vertex(i).Pos}
		for k := i; k <= min(b.legs(), i+boxLegs); k++ {
			p := b.vertex(k).Pos
			x.lo = geo.XY{X: math.Min(x.lo.X, p.X), Y: math.Min(x.lo.Y, p.Y)}
			x.hi = geo.XY{X: math.Max(x.hi.X, p.X), Y: math.Max(x.hi.Y, p.Y)}
		}
		b.boxes = append(b.boxes, x)
	}
	return b
}

// vertex is one of the line and the two that it goes on to.
func (b *ownField) vertex(i int) *trace.Vertex {
	switch {
	case i == 0:
		return &b.ends[0]
	case i > len(b.vs):
		return &b.ends[1]
	}
	return &b.vs[i-1]
}

// legs is the number of legs between them.
func (b *ownField) legs() int { return len(b.vs) + 1 }

// wayAt is the way that a leg is, nil where it is a leg.
func (b *ownField) wayAt(leg int) *way {
	if len(b.ways) == 0 {
		return nil
	}
	i := sort.Search(len(b.ways), func(i int) bool { return b.ways[i].leg >= leg })
	if i < len(b.ways) && b.ways[i].leg == leg {
		return &b.ways[i]
	}
	return nil
}

// dir is the direction of a leg.
func (b *ownField) dir(leg int) geo.XY {
	d := b.vertex(leg + 1).Pos.Sub(b.vertex(leg).Pos)
	return d.Scale(1 / math.Max(d.Norm(), 1e-9))
}

// runOn returns where the line goes on to at both ends, in the direction of its
// last metres.
func runOn(vs []trace.Vertex) [2]trace.Vertex {
	n := len(vs)
	first, last := vs[0], vs[n-1]
	in, out := 1, n-2
	for in+1 < n && vs[in].StationM-first.StationM < runOnFromM {
		in++
	}
	for out > 0 && last.StationM-vs[out].StationM < runOnFromM {
		out--
	}
	back, on := unit(first.Pos.Sub(vs[in].Pos)), unit(last.Pos.Sub(vs[out].Pos))
	before, after := freeWay(vs, first.Pos, back, in), freeWay(vs, last.Pos, on, out)
	return [2]trace.Vertex{
		{Pos: first.Pos.Add(back.Scale(before)), StationM: first.StationM - before},
		{Pos: last.Pos.Add(on.Scale(after)), StationM: last.StationM + after},
	}
}

// freeWay is how far the line can go on from an end without meeting itself; not
// counted are its last metres, up to the vertex own.
func freeWay(vs []trace.Vertex, end, dir geo.XY, own int) float64 {
	for way := 1.0; way <= runOnM; way++ {
		p := end.Add(dir.Scale(way))
		for i := range vs {
			q := vs[i].Pos
			if p.Dist(q) < runOnClearM && (own > len(vs)/2) == (i < own) && p.Dist(q) < end.Dist(q) {
				return math.Max(way-runOnClearM, leastOnM)
			}
		}
	}
	return runOnM
}

func (x legsBox) near(p geo.XY, reach float64) bool {
	return p.X > x.lo.X-reach && p.X < x.hi.X+reach && p.Y > x.lo.Y-reach && p.Y < x.hi.Y+reach
}

// lost returns the relative depth that the receiver shows too little at a
// station (too much where negative), for a depth that it shows, and the current that is
// shown over the true one. It begins with a guess of that depth.
func (b *ownField) lost(stationM, shownM, guess float64) (lost, current float64) {
	lost = guess
	for range lostRounds {
		before := lost
		if lost, current = b.show(stationM, shownM/(1-lost)); math.Abs(lost-before) < sameLost {
			break
		}
	}
	return lost, current
}

// show returns the relative depth that is lost at a station for a true depth,
// and the current that is shown over the true one.
func (b *ownField) show(stationM, depthM float64) (lost, current float64) {
	o := b.lookFrom(stationM)
	if b.alike(o, depthM) {
		return 0, 1
	}
	low, high := b.fields(o, depthM)
	if low <= high*receiver.LeastRatio {
		return -mostLost, 1
	}
	shownM := receiver.TwoAntennaDepthM(low, high, receiver.UsualGapM)
	return clamp(1-shownM/depthM, -mostLost, mostLost), shownM * low / b.amp(o.leg)
}

// alike reports whether the line runs straight on, alone and with one current, within reach of a
// place: what is shown there is what there is. Bends and currents of less than that take less
// than a hundredth of a depth.
func (b *ownField) alike(o *outlook, depthM float64) bool {
	w := b.within(o, fieldReach*(depthM+receiver.UsualGapM))
	if len(b.ways) > 0 || b.turnIn(w) > leastFeltRad || b.comesBack(o, w, depthM) {
		return false
	}
	if b.amps == nil {
		return true
	}
	some := b.amps[w.from : w.to+1]
	return slices.Max(some) < (1+leastFeltShare)*slices.Min(some)
}

// turnIn is how far the line turns in a window.
func (b *ownField) turnIn(w window) (rad float64) {
	if w.to > 0 {
		rad = b.turns[min(w.to, len(b.turns))-1]
	}
	if w.from > 0 {
		rad -= b.turns[w.from-1]
	}
	return rad
}

// comesBack reports whether legs that are not in the window lie near a place.
func (b *ownField) comesBack(o *outlook, w window, depthM float64) (does bool) {
	if b.turns[len(b.turns)-1] > comesBackRad {
		b.eachBeside(o, w, o.p, depthM, func(int, receiver.SeenLeg) { does = true })
	}
	return does
}

func (b *ownField) leg(stationM float64) int {
	n := b.legs()
	i := sort.Search(n+1, func(i int) bool { return b.vertex(i).StationM >= stationM }) - 1
	i = max(0, min(i, n-1))
	if b.wayAt(i) == nil {
		return i
	}
	if stationM-b.vertex(i).StationM < b.vertex(i+1).StationM-stationM {
		return i - 1
	}
	return i + 1
}

// place is where the line is at a station on a leg.
func (b *ownField) place(leg int, stationM float64) geo.XY {
	from, to := b.vertex(leg), b.vertex(leg+1)
	return from.Pos.Lerp(to.Pos, clamp((stationM-from.StationM)/math.Max(to.StationM-from.StationM, 1e-9), 0, 1))
}

// lookFrom is the outlook from over a station.
func (b *ownField) lookFrom(stationM float64) *outlook {
	o := &b.last
	if o.stationM != stationM {
		leg := b.leg(stationM)
		*o = outlook{stationM: stationM, leg: leg, p: b.place(leg, stationM), t: b.dir(leg), window: window{from: -1}, legs: o.legs[:0], near: o.near[:0]}
	}
	return o
}

// within is the legs within reach both ways along the line, as far as its part goes.
func (b *ownField) within(o *outlook, reach float64) window {
	from, to := o.leg, o.leg
	for from > 0 && o.stationM-b.vertex(from).StationM < reach && b.wayAt(from-1) == nil {
		from--
	}
	for to+1 < b.legs() && b.vertex(to+1).StationM-o.stationM < reach && b.wayAt(to+1) == nil {
		to++
	}
	if o.window.from != from || o.window.to != to {
		o.window, o.legs = window{from, to, b.dir(from), b.dir(to)}, o.legs[:0]
	}
	return o.window
}

// seen is the legs of the window asked for last.
func (b *ownField) seen(o *outlook) []receiver.SeenLeg {
	if len(o.legs) == 0 {
		for i := o.window.from; i <= o.window.to; i++ {
			o.legs = append(o.legs, b.see(i, o.p, o.t))
		}
	}
	return o.legs
}

// see is a leg from over p, where the line heads along t.
func (b *ownField) see(leg int, p, t geo.XY) receiver.SeenLeg {
	return receiver.SeeLeg(b.vertex(leg).Pos.Sub(p), b.vertex(leg+1).Pos.Sub(p), t)
}

// fields are the horizontal fields across the line at the lower and the upper
// antenna, to within a common factor. Both ways along the line the legs
// count up to some depths away, and beyond them the line as if it ran on in its
// last direction; of the rest, the legs that pass nearby.
func (b *ownField) fields(o *outlook, depthM float64) (low, high float64) {
	w := b.within(o, fieldReach*(depthM+receiver.UsualGapM))
	low, high = b.beside(o, w, o.p, depthM)
	add := func(leg int, seen receiver.SeenLeg) {
		l, h := seen.Fields(depthM, receiver.UsualGapM)
		low, high = low+b.amp(leg)*l, high+b.amp(leg)*h
	}
	for i, seen := range b.seen(o) {
		add(w.from+i, seen)
	}
	before, after := b.beyond(w, o.p, o.t, depthM)
	add(w.from, before)
	add(w.to, after)
	return low, high
}

// beyond is the line as if it ran on beyond a window's ends, seen from over p, without length
// where it does not go on or comes back.
func (b *ownField) beyond(w window, p, t geo.XY, depthM float64) (before, after receiver.SeenLeg) {
	const far = 1000 // depths: judgement, for beyond it nothing is lost
	if way := b.wayAt(w.from - 1); w.in.Dot(t) > 0 && (way == nil || way.begins) {
		first := b.vertex(w.from).Pos
		before = receiver.SeeLeg(first.Sub(w.in.Scale(far*depthM)).Sub(p), first.Sub(p), t)
	}
	if way := b.wayAt(w.to + 1); w.out.Dot(t) > 0 && (way == nil || !way.begins) {
		last := b.vertex(w.to + 1).Pos
		after = receiver.SeeLeg(last.Sub(p), last.Add(w.out.Scale(far*depthM)).Sub(p), t)
	}
	return before, after
}

// beside are the fields at p, near a place that is looked from, of the legs near p that are not
// in the window.
func (b *ownField) beside(o *outlook, w window, p geo.XY, depthM float64) (low, high float64) {
	b.eachBeside(o, w, p, depthM, func(leg int, seen receiver.SeenLeg) {
		l, h := seen.Fields(depthM, receiver.UsualGapM)
		low, high = low+b.amp(leg)*l, high+b.amp(leg)*h
	})
	return low, high
}

// eachBeside offers the legs near p that are not in the window.
func (b *ownField) eachBeside(o *outlook, w window, p geo.XY, depthM float64, add func(leg int, seen receiver.SeenLeg)) {
	reach := fieldReach * (depthM + receiver.UsualGapM)
	for _, leg := range b.near(o, reach+p.Dist(o.p)) {
		i := int(leg)
		if i >= w.from && i <= w.to || b.wayAt(i) != nil {
			continue
		}
		if v := b.middle(i).Sub(p); v.Dot(v) < reach*reach {
			add(i, b.see(i, p, o.t))
		}
	}
}

// middle is that of a leg.
func (b *ownField) middle(leg int) geo.XY {
	return b.vertex(leg).Pos.Lerp(b.vertex(leg+1).Pos, 0.5)
}

// near lists the legs whose middles are within reach, with some more: the next depth asks
// a little farther.
func (b *ownField) near(o *outlook, reach float64) []int32 {
	if reach < o.nearM {
		return o.near
	}
	o.nearM, o.near = nearMore*reach, o.near[:0]
	for k, x := range b.boxes {
		if !x.near(o.p, o.nearM) {
			continue
		}
		for i := k * boxLegs; i < min(b.legs(), (k+1)*boxLegs); i++ {
			if v := b.middle(i).Sub(o.p); v.Dot(v) < o.nearM*o.nearM {
				o.near = append(o.near, int32(i))
			}
		}
	}
	return o.near
}

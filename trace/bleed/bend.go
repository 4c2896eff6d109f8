package bleed

import (
	"math"
	"slices"

	"github.com/tidwall/rtree"

	"loamline.example/geo"
	"loamline.example/trace/receiver"
)

// bendReachDepths is how far, in depths, a bend is felt. Judgement.
const bendReachDepths = 8

// legAlongM is how far along the course a leg is still reckoned with that comes back
// beside a place. Judgement: the time that a long winding line takes, and a leg so far on
// carries another current than anything here tells.
const legAlongM = 1000

// straightEnough is the turn within reach below which a bend is not felt. Judgement.
const straightEnough = 6 * math.Pi / 180

// bendTrust is the relative error left in what the fitted course says of its
// bends: the fit rounds corners. Judgement.
const bendTrust = 0.4

// bends holds what the line's own bends do to each reading, by Biot and Savart
// along the fitted course: the null is pulled outward, depth reads shallow.
type bends struct {
	lnD, lnS, null []float64
	turn           []float64 // radians within 2 depths
	about          []bool    // there may be a bend, for all that is known of its place

	// byLoss is what lossStepPerM more would add at a reading, where the line comes back
	// beside itself and where nothing tells the current; nil elsewhere.
	byLoss func(k int) bendEffect
}

type bendEffect struct{ lnD, lnS, nullM float64 }

// bendsAbout is the turn, within reach of where a reading may lie at all, that tells
// of a bend; mostAstrayM bounds that. Judgement.
const (
	bendsAbout  = 15 * math.Pi / 180
	mostAstrayM = 5
)

// lossStepPerM is a loss of current, in logs a metre, by which the loss reckoned
// with may be off: the leg beside carries more or less than this one. Judgement.
const lossStepPerM = 0.006

func newBends(line Line, c *columns) bends {
	n := len(c.rd)
	b := bends{lnD: make([]float64, n), lnS: make([]float64, n), null: make([]float64, n), turn: make([]float64, n), about: make([]bool, n)}
	if len(line.Points) < 2 {
		return b
	}
	path := geo.NewPolyline(line.Points)
	heads := newHeadings(path)
	var twice besides
	lies := newProfile(c)
	if doublesBack(path) {
		twice = newBesides(path, slices.Min(c.depth))
	}
	felt := make([]bool, n)
	if twice.boxes != nil || lies.lnCurrent == nil {
		b.byLoss = b.reckonLoss(felt, func(k int) bendEffect {
			return seeCourse(path, lies, c.rd[k].StationM).effect(lossStepPerM, c.gapM)
		})
	}
	for k, r := range c.rd {
		d := lies.at(r.StationM)
		reach := bendReachDepths * d
		if b.byLoss != nil && lies.lnCurrent == nil || lies.faint(r.StationM) {
			reach = math.Min(path.Length(), legAlongM)
		}
		astray := 2*d + 2*min(positionSigma(r), mostAstrayM)
		window := math.Max(reach, astray) + d
		straight := heads.within(r.StationM-window, r.StationM+window, straightEnough)
		b.about[k] = !straight && turnsBy(path, r.StationM, astray, d, bendsAbout)
		if (straight || !turnsBy(path, r.StationM, reach, d, straightEnough)) && !twice.near(r.StationM, d) && !lies.slopes(r.StationM, bendReachDepths*d) {
			continue
		}
		felt[k] = true
		b.turn[k] = turned(path, r.StationM, 2*d, d)
		e := bendAt(path, lies, r.StationM, c.gapM)
		b.lnD[k], b.lnS[k], b.null[k] = e.lnD, e.lnS, e.nullM
	}
	return b
}

// reckonLoss is byLoss by what the bends do with more loss, at the readings where they are
// felt: each when it is first asked for, as only windows that are weighed in full do.
func (b bends) reckonLoss(felt []bool, withMore func(k int) bendEffect) func(k int) bendEffect {
	known, of := make([]bool, len(felt)), make([]bendEffect, len(felt))
	return func(k int) bendEffect {
		if felt[k] && !known[k] {
			more := withMore(k)
			known[k], of[k] = true, bendEffect{more.lnD - b.lnD[k], more.lnS - b.lnS[k], more.nullM - b.null[k]}
		}
		return of[k]
	}
}

// turned is the largest angle between the direction at a station and those
// within reach, each over one depth.
func turned(path geo.Polyline, stationM, reachM, depthM float64) float64 {
	most := 0.0
	eachTurn(path, stationM, reachM, depthM, func(t float64) bool {
		most = math.Max(most, t)
		return true
	})
	return most
}

// turnsBy reports whether it is some angle or more.
func turnsBy(path geo.Polyline, stationM, reachM, depthM, angle float64) (does bool) {
	eachTurn(path, stationM, reachM, depthM, func(t float64) bool {
		does = t >= angle
		return !does
	})
	return does
}

// eachTurn yields those angles, of what lies nearest first.
func eachTurn(path geo.Polyline, stationM, reachM, depthM float64, yield func(float64) bool) {
	here := direction(path, stationM, depthM)
	for away := 0.0; away <= reachM; away += depthM {
		before, after := stationM-away, stationM+away
		if before < 0 && after > path.Length() {
			return
		}
		for _, s := range [...]float64{before, after} {
			if s < 0 || s > path.Length() {
				continue
			}
			t := direction(path, s, depthM)
			if !yield(math.Abs(math.Atan2(here.Cross(t), here.Dot(t)))) {
				return
			}
		}
	}
}

// doublesBack reports whether a path turns by more than 120° in all, so that it
// may come back beside itself.
func doublesBack(path geo.Polyline) bool {
	first := direction(path, 0, 2)
	for s := 4.0; s < path.Length(); s += 4 {
		if d := direction(path, s, 2); first.Dot(d) < -0.5 {
			return true
		}
	}
	return false
}

// besides tells of each station whether another part of the path runs near it.
type besides struct {
	path   geo.Polyline
	places []placeAlong
	boxes  *rtree.RTreeGN[float64, int] // about placesInBox each, by the first; nil for none
}

// placesInBox are neighbours along a path that are found together. Judgement: it saves time
// alone.
const placesInBox = 16

func newBesides(path geo.Polyline, stepM float64) besides {
	b := besides{path: path, boxes: new(rtree.RTreeGN[float64, int])}
	for s := 0.0; s <= path.Length(); s += stepM {
		b.places = append(b.places, placeAlong{s, path.At(s)})
	}
	for i := 0; i < len(b.places); i += placesInBox {
		lo, hi := b.places[i].at, b.places[i].at
		for _, q := range b.box(i) {
			lo, hi = geo.XY{X: min(lo.X, q.at.X), Y: min(lo.Y, q.at.Y)}, geo.XY{X: max(hi.X, q.at.X), Y: max(hi.Y, q.at.Y)}
		}
		b.boxes.Insert([2]float64{lo.X, lo.Y}, [2]float64{hi.X, hi.Y}, i)
	}
	return b
}

func (b besides) box(first int) []placeAlong {
	return b.places[first:min(first+placesInBox, len(b.places))]
}

func (b besides) near(stationM, depthM float64) (is bool) {
	if b.boxes == nil {
		return false
	}
	at, reach := b.path.At(stationM), bendReachDepths*depthM
	b.boxes.Search([2]float64{at.X - reach, at.Y - reach}, [2]float64{at.X + reach, at.Y + reach}, func(_, _ [2]float64, first int) bool {
		for _, q := range b.box(first) {
			// What lies along the way within half as much again is the line's own next metres: judgement.
			if is = math.Abs(q.stationM-stationM) > 1.5*reach && math.Hypot(q.at.X-at.X, q.at.Y-at.Y) < reach; is {
				break
			}
		}
		return !is
	})
	return is
}

// bendAt compares what a locator shows over the course with what it would show
// over a straight and level line of the same depth.
func bendAt(path geo.Polyline, lies profile, stationM, gapM float64) bendEffect {
	return seeCourse(path, lies, stationM).effect(0, gapM)
}

// courseSeen is the course as it lies about one of its places, with the log of the current
// along it over that at the place. It runs straight on beyond its ends. The current along
// it is that of the profile.
type courseSeen struct {
	depthM float64
	points []receiver.Point
	awayM  []float64 // along the course
	ln     []float64
}

func seeCourse(path geo.Polyline, lies profile, stationM float64) courseSeen {
	depthM := lies.at(stationM)
	at, dir := path.At(stationM), direction(path, stationM, depthM)
	across := geo.XY{X: dir.Y, Y: -dir.X}
	places := bendStations(path, stationM, depthM)
	n := len(places)
	c := courseSeen{depthM: depthM, points: make([]receiver.Point, n+2), awayM: make([]float64, n), ln: make([]float64, n)}
	here := lies.logCurrent(stationM)
	for i, q := range places {
		v := q.at.Sub(at)
		c.points[1+i] = receiver.Point{X: v.Dot(across), Y: v.Dot(dir), Z: -lies.at(q.stationM)}
		c.awayM[i], c.ln[i] = q.stationM-stationM, lies.logCurrent(q.stationM)-here
	}
	c.points[0], c.points[n+1] = beyond(c.points[2], c.points[1]), beyond(c.points[n-1], c.points[n])
	return c
}

// effect is what the course does, with so much more of the current lost along it.
func (c courseSeen) effect(moreLossPerM, gapM float64) bendEffect {
	w := receiver.Wire{Points: c.points, PieceA: make([]float64, len(c.ln)+1)}
	for i, ln := range c.ln {
		w.PieceA[1+i] = math.Exp(ln - moreLossPerM*c.awayM[i])
	}
	w.PieceA[0] = w.PieceA[1]
	w = w.Laid()
	peak := w.PeakM(receiver.Point{}, receiver.Point{X: 1}, c.depthM)
	// A square bend pulls a null by a third of a depth (receiver.CornerNullM); 1.5 depths hold a near leg's too: judgement.
	null, depth := w.Across(receiver.Point{X: peak}, receiver.Point{X: 1}, gapM, 1.5*c.depthM)
	low := math.Abs(w.B(receiver.Point{X: peak}).X)
	if math.IsNaN(null) || math.IsInf(depth, 0) {
		return bendEffect{}
	}
	return bendEffect{math.Log(depth / c.depthM), math.Log(low * c.depthM / receiver.TeslaMetrePerAmpere), null}
}

// placeAlong is a place on a course.
type placeAlong struct {
	stationM float64
	at       geo.XY
}

// bendStations lists the places of a course by which its field at one of them
// is reckoned, in order: every half depth near it, and farther off by a quarter
// of the distance, wherever the course has gone meanwhile; a line may come back
// beside itself. They reach 40 depths past the place and past both ends, and no more than
// legAlongM along.
func bendStations(path geo.Polyline, stationM, depthM float64) []placeAlong {
	at, here := path.At(stationM), extended(path, stationM)
	side := func(sign, toM float64) (out []placeAlong) {
		last := here
		for s := 0.0; s < toM; {
			s += math.Max(depthM/2, bendStep*last.Dist(at))
			last = extended(path, stationM+sign*s)
			out = append(out, placeAlong{stationM + sign*s, last})
		}
		return out
	}
	// Of a line's field d²/4L² comes from beyond L on one side, 1/6400 from 40 depths on (Biot and Savart).
	// Judgement.
	far := 40 * depthM
	before, after := side(-1, math.Max(far, math.Min(legAlongM, stationM))), side(1, math.Max(far, math.Min(legAlongM, path.Length()-stationM)))
	slices.Reverse(before)
	return slices.Concat(before, []placeAlong{{stationM, here}}, after)
}

// bendStep is the length of a piece of wire over its distance, where that is
// far: a chord's field then errs by some thousandths. Judgement.
const bendStep = 0.25

// extended runs straight on beyond the ends of a path.
func extended(path geo.Polyline, stationM float64) geo.XY {
	l := path.Length()
	switch {
	case stationM < 0:
		return path.At(0).Add(path.Direction(0).Scale(stationM))
	case stationM > l:
		return path.At(l).Add(path.Direction(l).Scale(stationM - l))
	}
	return path.At(stationM)
}

// lossPerM is how fast log current falls along the line, by the medians of its
// first and last thirds; 0 where that cannot be told.
func (c *columns) lossPerM() float64 {
	var first, last []float64
	n := len(c.rd)
	for k := range c.rd {
		i := c.lnD[k] + c.lnS[k]
		switch {
		case math.IsNaN(i):
		case k < n/3:
			first = append(first, i)
		case k >= n-n/3:
			last = append(last, i)
		}
	}
	length := c.rd[n-1].StationM - c.rd[0].StationM
	if len(first) < 3 || len(last) < 3 || !(length > 0) {
		return 0
	}
	// Two thirds of the length lie between the middles of the thirds; 0.02 nepers a metre, 170 dB a km,
	// is more than lines lose: judgement.
	return math.Max(-0.02, math.Min(0.02, (median(first)-median(last))/(0.67*length)))
}

// beyond carries a piece on, far past its end.
func beyond(from, to receiver.Point) receiver.Point {
	const far = 1000 // legs: judgement, for beyond it nothing is felt
	return receiver.Point{X: to.X + far*(to.X-from.X), Y: to.Y + far*(to.Y-from.Y), Z: to.Z}
}

// allowBends lets the pull of the bends be off as a whole, by the part bendTrust
// (the current differs from leg to leg, and the fit rounds corners alike), and
// by the loss of current between the legs of a line that comes back.
func (b *gaussian) allowBends(c *columns, lo, hi int, parts ...func(bendEffect) float64) {
	var effect, loss []float64
	for _, part := range parts {
		for k := lo; k < hi; k++ {
			effect = append(effect, part(bendEffect{c.bend.lnD[k], c.bend.lnS[k], c.bend.null[k]}))
			if c.bend.byLoss != nil {
				loss = append(loss, part(c.bend.byLoss(k)))
			}
		}
	}
	b.allowEffect(effect, bendTrust)
	b.allowEffect(loss, 1)
}

func (b *gaussian) allowEffect(v []float64, sd float64) {
	// Of a log, or of metres of a null, one hundredth is less than any noise: not worth a column.
	// Judgement.
	if slices.ContainsFunc(v, func(x float64) bool { return math.Abs(x) > 0.01 }) {
		b.allow(v, sd*sd, 0)
	}
}

func depthEffect(e bendEffect) float64  { return e.lnD }
func signalEffect(e bendEffect) float64 { return e.lnS }
func nullEffect(e bendEffect) float64   { return e.nullM }

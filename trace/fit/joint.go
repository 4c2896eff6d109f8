package fit

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/receiver"
)

// joint is the way from one run to the next: points between the two, the first
// of them cut from the first run.
type joint struct {
	points []geo.XY
	corner []bool    // of each point
	doubtM []float64 // half-width by which each may be off beyond the runs' own
	freeM  float64   // of an elbow without readings near: how far to both sides there is none
	used   []sample  // loose readings that it passes through
	unread int       // 1 for a leg that turns a corner and no reading supports
}

// Bends and elbows between two runs. Judgement: less turn than leastTurn shows no bend, with
// more than mostTurn the tangents meet far off; the doubts stand for a way that nobody saw.
const (
	leastTurn     = 15 * math.Pi / 180
	mostTurn      = 165 * math.Pi / 180
	directDoubt   = 0.3 // of a leg that only joins two ends, of its length
	crosslegDoubt = 0.1
	unseenBend    = 0.5 // of how far inside the corner the widest unseen bend passes
	onLegShare    = 0.1 // of the way from one run to the other
	filletStepM   = 0.4
	filletTurn    = 0.2  // rad from point to point of a drawn bend: leaves it by R/200
	oppositeRuns  = -0.8 // cosine of the turn from which on two runs lead opposite ways: 143°
)

// bent joins two runs that cross at a corner by an arc tangent to both, where
// loose readings inside the corner ask for it more than its one parameter
// costs. La and lb are the lengths free of other readings on both sides.
func (b *builder) bent(at, in, out geo.XY, la, lb float64, loose []sample) (joint, bool) {
	turn := math.Atan2(in.Cross(out), in.Dot(out))
	if len(loose) == 0 || math.Abs(turn) < leastTurn || math.Abs(turn) > mostTurn {
		return joint{}, false
	}
	l, best := bestFillet(at, in, out, turn, math.Min(la, lb), loose, outlierParams*b.price)
	free := float64(len(loose)) * outlierParams * b.price
	if !(l > 0) || best+b.price > free-1e-9 {
		return joint{}, false
	}
	a := newFillet(at, in, out, turn, l)
	if farthestOff(newFillet(at, in, out, turn, 0), loose) < elbowBias(turn, b.depthM) {
		return joint{points: []geo.XY{at}, corner: []bool{true}, doubtM: []float64{0}, used: loose}, true
	}
	j := joint{points: a.points()}
	j.corner = make([]bool, len(j.points))
	j.doubtM = make([]float64, len(j.points))
	for _, q := range loose {
		if sq(a.dist(q.p))*q.wt < outlierParams*b.price {
			j.used = append(j.used, q)
		}
	}
	return j, true
}

// unseenBendM is the half-width of the doubt at a sharp elbow. Where for freeM to
// both sides no reading tells it from a bend, one may pass inside the corner by
// as much as the arc between tangents of that length does: T·tan(θ/4).
func unseenBendM(turn, freeM float64) float64 {
	return unseenBend * freeM * math.Tan(turn/4)
}

// bestFillet searches the length of the tangents for the least sum of weighted
// squares over the loose readings, each held to the price of an outlier.
func bestFillet(at, in, out geo.XY, turn, most float64, loose []sample, outlierCost float64) (l, cost float64) {
	const steps = 40 // judgement: time
	cost = math.Inf(1)
	for k := 0; k <= steps && most > 0; k++ {
		f := newFillet(at, in, out, turn, most*float64(k)/steps)
		c := 0.0
		for i := 0; i < len(loose) && c < cost; i++ {
			c += math.Min(sq(f.dist(loose[i].p))*loose[i].wt, outlierCost)
		}
		if c < cost {
			l, cost = most*float64(k)/steps, c
		}
	}
	return l, cost
}

// elbowBias is by how much the peak cuts a sharp elbow between readings at most, and some
// pinpointing.
func elbowBias(turn, depthM float64) float64 {
	return receiver.ElbowPeakM(turn, depthM) + receiver.ElbowPinM
}

// farthestOff is how far the farthest reading is from the way round.
func farthestOff(f fillet, loose []sample) float64 {
	worst := 0.0
	for _, q := range loose {
		worst = math.Max(worst, f.dist(q.p))
	}
	return worst
}

// fillet is an arc between two tangents that meet at a corner.
type fillet struct {
	start, end, center geo.XY
	in, out            geo.XY
	radius, turn       float64
}

// newFillet lays the arc that leaves the tangents at a distance l from their
// corner.
func newFillet(at, in, out geo.XY, turn, l float64) fillet {
	f := fillet{start: at.Sub(in.Scale(l)), end: at.Add(out.Scale(l)), in: in, out: out, turn: turn}
	f.radius = l / math.Tan(math.Abs(turn)/2)
	left := geo.XY{X: -in.Y, Y: in.X}
	if turn < 0 {
		left = left.Scale(-1)
	}
	f.center = f.start.Add(left.Scale(f.radius))
	return f
}

// dist is the distance of a point from the tangents and the arc between them.
func (f fillet) dist(p geo.XY) float64 {
	if p.Sub(f.start).Dot(f.in) <= 0 {
		return math.Abs(p.Sub(f.start).Cross(f.in))
	}
	if p.Sub(f.end).Dot(f.out) >= 0 {
		return math.Abs(p.Sub(f.end).Cross(f.out))
	}
	return math.Abs(p.Dist(f.center) - f.radius)
}

func (f fillet) points() []geo.XY {
	n := max(2, int(math.Ceil(math.Max(f.radius*math.Abs(f.turn)/filletStepM, math.Abs(f.turn)/filletTurn))))
	from := f.start.Sub(f.center)
	out := make([]geo.XY, n+1)
	for k := range out {
		sin, cos := math.Sincos(f.turn * float64(k) / float64(n))
		out[k] = f.center.Add(geo.XY{X: from.X*cos - from.Y*sin, Y: from.X*sin + from.Y*cos})
	}
	return out
}

// turnedBack joins two runs that lie side by side and run opposite ways, by a
// leg square to them through the loose readings between their ends: most elbows
// are square (common practice, no source).
func turnedBack(end, start, in, out geo.XY, loose []sample) (joint, bool) {
	if len(loose) == 0 || in.Dot(out) > oppositeRuns {
		return joint{}, false
	}
	along := in.Sub(out)
	along = along.Scale(1 / along.Norm())
	far := farAlong(loose, end, start, in, out, along)
	if far < 0 || far < start.Sub(end).Dot(along) {
		return joint{}, false
	}
	a := end.Add(in.Scale(far / in.Dot(along)))
	b := start.Sub(out.Scale((far - start.Sub(end).Dot(along)) / -out.Dot(along)))
	doubt := crosslegDoubt * a.Dist(b)
	return joint{points: []geo.XY{a, b}, corner: []bool{true, true}, doubtM: []float64{doubt, doubt}, used: loose}, true
}

// farAlong is how far along the leg lies: the mean of the readings that are on it
// and on neither run's line, else the farthest.
func farAlong(loose []sample, end, start, in, out, along geo.XY) float64 {
	width := math.Abs(in.Cross(start.Sub(end)))
	mean, n, most := 0.0, 0.0, math.Inf(-1)
	for _, q := range loose {
		far := q.p.Sub(end).Dot(along)
		most = math.Max(most, far)
		if math.Min(math.Abs(in.Cross(q.p.Sub(end))), math.Abs(out.Cross(q.p.Sub(start)))) > onLegShare*width {
			mean, n = mean+far, n+1
		}
	}
	if n == 0 {
		return most
	}
	return mean / n
}

// direct joins two ends by a straight leg, which no reading supports. Its doubt is its
// own: readings hold both ends.
func direct(end, start, in, out geo.XY) joint {
	leg := unit(start.Sub(end))
	turn := math.Max(turnBetween(in, leg), turnBetween(leg, out))
	doubt := directDoubt * end.Dist(start) * math.Min(1, turn)
	j := joint{
		// The doubt holds over the middle half and falls to the ends, which readings hold.
		// Judgement.
		points: []geo.XY{end, end.Lerp(start, 0.25), end.Lerp(start, 0.75), start},
		corner: []bool{turnBetween(in, leg) > cornerRad, false, false, turnBetween(leg, out) > cornerRad},
		doubtM: []float64{0, doubt, doubt, 0},
	}
	if j.corner[0] || j.corner[3] {
		j.unread = 1
	}
	return j
}

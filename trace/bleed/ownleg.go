package bleed

import (
	"math"
	"slices"
	"sort"

	"github.com/tidwall/rtree"
	"gonum.org/v1/gonum/stat"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// Where a line comes back beside itself, as along a branch walked out and back or a
// hairpin, its own other leg is a conductor with signal on it, whose current is what
// the branch or the bend makes of it and whose place is only as good as the line
// drawn. What a neighbour that nobody drew would do there, it does. So does, along a
// branch that takes little of the current, the main that it leaves.

// Way is another way of the line under test: a branch of it, or the main that it
// branches from.
type Way struct {
	Points   []geo.XY
	Readings []trace.Reading // stations along Points
}

// ownLegDepths is how near, in depths, another leg matters where no null was read,
// ownLegApart how far away along the line it is at least, in depths, ownLegBack how many
// times as far as straight across, so that the line came back, and ownLegPart of how
// much of a stretch it must matter to. Judgement.
const (
	ownLegDepths = 3
	ownLegApart  = 8
	ownLegBack   = 2
	ownLegPart   = 0.4
)

// The pull of a leg on the null (receiver.LegNullM) speaks for the leg where it makes up a part
// ownLegOfNull of the null seen, ownLegPullM at least. Judgement.
const (
	ownLegOfNull = 1.0 / 3
	ownLegPullM  = 0.10
)

// ownLegShallow is within how many of the depths shown a leg that carries the current
// back makes the line read shallow, by a factor of two or so: by the horizontal field
// 1/h - h/(h²+s²) of the two, a depth taken from how it falls off with height is
// 1/(1/h + 2h/(h²+s²)), between h and h/3. Judgement: at six depths that is a twentieth.
const ownLegShallow = 6

// otherLegs takes stretches on signal of a neighbour that nobody drew, or that an old
// drawing of the line itself shows, for no more than a watch where the line's own other
// leg, or a bend, may do what was seen. The caution stays as wide.
func (m unmapped) otherLegs(found []Stretch, near []neighbour) {
	for i := range found {
		s := &found[i]
		drawn := !slices.ContainsFunc(near, func(e neighbour) bool { return e.name == s.Neighbor && e.mayBeOwn })
		if s.Neighbor != Unknown && drawn || s.Grade == trace.GradeWatch || s.Jump {
			continue
		}
		if nearM, ok := m.allLegs().explain(*s); ok {
			s.Grade, s.Score = trace.GradeWatch, math.Min(s.Score, ownLegScore)
			s.Evidence = append(s.Evidence, remark.OwnLeg{ApartM: nearM})
		} else if m.atBends(*s) {
			s.Grade, s.Score = trace.GradeWatch, math.Min(s.Score, ownLegScore)
			s.Evidence = append(s.Evidence, remark.AllAtBends)
		}
	}
}

// Near a bend depth reads shallow, signal falls, the more so for a receiver that is turned
// from square-on there, and the null is pulled, by figures that are only as good as the bend
// drawn: practice takes no depth within five depths of one. A short stretch, of mostAtBend
// depths, of which all but a few readings lie where the line turns by bendTurn or more
// within two depths tells of no neighbour that the bend does not. Judgement: of the
// suspected stretches on 80 lines of the second world with bleed, seeds 770000 to 770007, none
// was that; of 47 on quiet lines, seeds 770000 to 770039, nine.
const (
	mostAtBend  = 10
	bendTurn    = 0.5 // radians
	partAtBends = 0.8
)

// atBends reports whether a stretch is such a one.
func (m unmapped) atBends(s Stretch) bool {
	in, at, depth := 0, 0, 0.0
	for k, r := range m.rd {
		if r.StationM < s.FromM || r.StationM > s.ToM {
			continue
		}
		in++
		depth = math.Max(depth, m.depth[k])
		if k < len(m.bend.turn) && m.bend.turn[k] >= bendTurn {
			at++
		}
	}
	return in > 0 && s.ToM-s.FromM <= mostAtBend*depth && float64(at) >= partAtBends*float64(in)
}

// ownLegScore is the most that a watch beside the line's own other leg scores.
// Judgement.
const ownLegScore = 0.3

// legs are all ways of a line by place.
type legs struct {
	unmapped
	path   geo.Polyline
	depthM float64 // that the line shows where it lies deep
	at     *rtree.RTreeGN[float64, leg]
}

// leg is a place on a way.
type leg struct {
	way       int // 0 is the line under test
	stationM  float64
	currentMA float64 // NaN where not known
}

// legStepM is how far apart places on a way are, legReachM the farthest leg asked for.
// Judgement: time.
const (
	legStepM  = 0.5
	legReachM = 30
)

func (m unmapped) legs() legs {
	depths := slices.Sorted(slices.Values(m.depth))
	// Where it lies deep: the upper quarter of depths, as the deepest may be a slip (judgement).
	l := legs{unmapped: m, path: geo.NewPolyline(m.line.Points), depthM: stat.Quantile(0.75, stat.Empirical, depths, nil), at: new(rtree.RTreeGN[float64, leg])}
	l.add(0, l.path, m.rd)
	for i, w := range m.line.Ways {
		l.add(i+1, geo.NewPolyline(w.Points), inStationOrder(w.Readings))
	}
	return l
}

func (l legs) add(way int, path geo.Polyline, rd []reading) {
	rd = slices.DeleteFunc(slices.Clone(rd), func(r reading) bool { return !(r.CurrentMA > 0) })
	for s := 0.0; s <= path.Length(); s += legStepM {
		at := leg{way, s, math.NaN()}
		if len(rd) > 0 {
			i := sort.Search(len(rd), func(i int) bool { return rd[i].StationM >= s })
			at.currentMA = rd[min(i, len(rd)-1)].CurrentMA
		}
		p := path.At(s)
		l.at.Insert([2]float64{p.X, p.Y}, [2]float64{p.X, p.Y}, at)
	}
}

// explain reports whether other legs may do what was seen along most of a stretch, and
// how near the nearest is.
func (l legs) explain(s Stretch) (nearestM float64, may bool) {
	nearestM = math.Inf(1)
	does, n := 0, 0
	for k, r := range l.rd {
		if r.StationM < s.FromM || r.StationM > s.ToM {
			continue
		}
		n++
		nearM, pullM := l.strongest(k)
		nearestM = math.Min(nearestM, nearM)
		if nullM := math.Abs(r.NullOffsetM); math.IsNaN(nullM) && nearM < ownLegDepths*l.depth[k] || pullM >= math.Max(ownLegPullM, ownLegOfNull*nullM) {
			does++
		}
	}
	return nearestM, n > 0 && float64(does) >= ownLegPart*float64(n)
}

// strongest is how near another leg comes to a reading, and the strongest pull of one
// on its null.
func (l legs) strongest(k int) (nearM, pullM float64) {
	r, nearM := l.rd[k], math.Inf(1)
	at, h := l.path.At(r.StationM), math.Max(l.depth[k], l.depthM)
	l.at.Search([2]float64{at.X - legReachM, at.Y - legReachM}, [2]float64{at.X + legReachM, at.Y + legReachM}, func(p, _ [2]float64, o leg) bool {
		apart, times, deep := math.Hypot(p[0]-at.X, p[1]-at.Y), 1.0, h
		if o.way == 0 && math.Abs(o.stationM-r.StationM) <= math.Max(ownLegApart*h, ownLegBack*apart) {
			return true
		}
		if o.way == 0 && apart < ownLegShallow*h {
			deep *= 2
		}
		if o.currentMA > 0 && r.CurrentMA > 0 {
			times = o.currentMA / r.CurrentMA
		}
		nearM, pullM = math.Min(nearM, apart), math.Max(pullM, receiver.LegNullM(deep, math.Max(apart, deep), times))
		return true
	})
	return nearM, pullM
}

package guard

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// What tells a walk that sweeps across the line. Judgement.
const (
	// apexTurn is how far a walk turns at the side of a sweep, straightOn how little
	// it turns between.
	apexTurn, straightOn = 25 * math.Pi / 180, 8 * math.Pi / 180
	// sweepApexes to alternate sides, no farther apart than sweepM or sweepSteps
	// strides, are a sweep: no buried line bends like that again and again.
	sweepApexes        = 5
	sweepM, sweepSteps = 8.0, 2
	// sweepSigmas times a reading's own error is what sweeps swing at least: the
	// median one, for errors alone make a wide one now and then.
	sweepSigmas = 7.0
)

// apex is a place where the walk turns to one side.
type apex struct {
	at     int // of the walk's places
	turned float64
}

// zigzags finds stretches where the walk goes from side to side: a receiver that
// was swept across the line, and not the line. Whether the line drawn follows it,
// keeps to one side of it or to the middle, nothing tells where the true one is.
func (v *view) zigzags() []Breach {
	walk := v.walked()
	var out []Breach
	as := v.apexes(walk)
	done := 0
	for from := 0; from < len(as); {
		to := from + 1
		for to < len(as) && as[to].turned*as[to-1].turned < 0 && v.sweepApart(walk, as[to-1], as[to]) {
			to++
		}
		if to-from >= sweepApexes && v.swept(walk, as, from, to) {
			first, last := v.sweepOn(walk, as, from, to, done)
			out, to = append(out, v.zigzag(walk, as[first:last])), last
			done = last
		}
		from = to
	}
	return out
}

// walked lists in travel order what was read over the line, one for each place:
// readings at one place tell no direction.
func (v *view) walked() []int {
	var walk []int
	for _, i := range v.order {
		r := &v.Readings[i]
		if r.Status == trace.StatusCheck || v.feet[i].part < 0 || r.Repeated() {
			continue
		}
		if n := len(walk); n > 0 && r.Pos.Dist(v.Readings[walk[n-1]].Pos) < 3*v.ownM(i) {
			continue
		}
		walk = append(walk, i)
	}
	return walk
}

// apexes gathers turns to one side into the places where the walk turns.
func (v *view) apexes(walk []int) []apex {
	var out []apex
	sum, most, at := 0.0, 0.0, 0
	flush := func() {
		if math.Abs(sum) >= apexTurn {
			out = append(out, apex{at, sum})
		}
		sum, most = 0, 0
	}
	for k := 1; k+1 < len(walk); k++ {
		turn := v.turn(walk[k-1], walk[k], walk[k+1])
		if math.Abs(turn) < straightOn || turn*sum < 0 {
			flush()
		}
		if math.Abs(turn) < straightOn {
			continue
		}
		sum += turn
		if math.Abs(turn) > most {
			most, at = math.Abs(turn), k
		}
	}
	flush()
	return out
}

func (v *view) sweepApart(walk []int, a, b apex) bool {
	return b.at-a.at <= sweepSteps || v.Readings[walk[a.at]].Pos.Dist(v.Readings[walk[b.at]].Pos) <= sweepM
}

// turn is the change of direction from ab to bc, in radians, positive to the left.
func (v *view) turn(a, b, c int) float64 {
	p, q := v.Readings[b].Pos.Sub(v.Readings[a].Pos), v.Readings[c].Pos.Sub(v.Readings[b].Pos)
	return math.Atan2(p.Cross(q), p.Dot(q))
}

// amplitude is how far an apex lies from the way between those beside it; before the first
// and after the last the walk's own end stands for one.
func (v *view) amplitude(walk []int, as []apex, k int) float64 {
	before, after := walk[0], walk[len(walk)-1]
	if k > 0 {
		before = walk[as[k-1].at]
	}
	if k+1 < len(as) {
		after = walk[as[k+1].at]
	}
	way := geo.NewPolyline([]geo.XY{v.Readings[before].Pos, v.Readings[after].Pos})
	return math.Abs(way.Nearest(v.Readings[walk[as[k].at]].Pos).OffsetM)
}

// usualAmplitude is the median amplitude of apexes [from, to) less the first and the last.
func (v *view) usualAmplitude(walk []int, as []apex, from, to int) float64 {
	var widths []float64
	for k := from + 1; k+1 < to; k++ {
		widths = append(widths, v.amplitude(walk, as, k))
	}
	return ranked.Median(widths)
}

// swept reports whether apexes swing wider than the positions err.
func (v *view) swept(walk []int, as []apex, from, to int) bool {
	return v.usualAmplitude(walk, as, from, to) >= sweepSigmas*v.ownM(walk[as[from].at])
}

// A sweep goes on over apexes that swing by likeAmplitude of its own; skipApexes in between
// may not, for an error of one position breaks the turns to the other side in two. Judgement.
const (
	likeAmplitude = 0.5
	skipApexes    = 2
)

// sweepOn carries apexes [from, to) of a sweep on to either side over those of the
// same sweep, not back beyond apex least.
func (v *view) sweepOn(walk []int, as []apex, from, to, least int) (first, last int) {
	wide := likeAmplitude * v.usualAmplitude(walk, as, from, to)
	first, last = from, to
	for k := from - 1; k >= least && first-k <= skipApexes+1 && v.sweepApart(walk, as[k], as[k+1]); k-- {
		if v.amplitude(walk, as, k) >= wide {
			first = k
		}
	}
	for k := to; k < len(as) && k-last <= skipApexes && v.sweepApart(walk, as[k-1], as[k]); k++ {
		if v.amplitude(walk, as, k) >= wide {
			last = k + 1
		}
	}
	return first, last
}

// zigzag tells of one sweep. The band must hold from side to side.
func (v *view) zigzag(walk []int, as []apex) Breach {
	lo, hi := math.Inf(1), math.Inf(-1)
	halfSweep := as[1].at - as[0].at // the first and the last one are of the sweep too
	first, last := max(0, as[0].at-halfSweep-1), min(len(walk)-1, as[len(as)-1].at+halfSweep+1)
	for _, i := range walk[first : last+1] {
		lo, hi = math.Min(lo, v.feet[i].stationM), math.Max(hi, v.feet[i].stationM)
	}
	widest := 0.0
	for k := 1; k+1 < len(as); k++ {
		widest = math.Max(widest, v.amplitude(walk, as, k))
	}
	return Breach{Kind: Zigzag, Readings: last - first + 1, FromM: lo, ToM: hi, BandM: widest,
		Remark: remark.Sweep{SideToSideM: widest}}
}

package words

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// ZoneStretch is a stretch of a line with how far its caution zone reaches from the
// mark at most, on each side of it in the direction of travel.
type ZoneStretch struct {
	FromM, ToM    float64
	LeftM, RightM float64
	Doubt         *Doubt // the gravest on it, or nil
	NotTraced     bool   // nothing was read on it or on a part of it
	InDoubt       bool   // a doubt on it, or on a part of it, leaves open how far off the line may lie
	Farther       bool   // what is only possible on it does: its widths are no bound
}

// AtLeast stands before a width that bounds nothing, and NoBound says what it means.
const (
	AtLeast = "≥ "
	NoBound = "“≥”: the line may lie farther off there, and nothing says how far. Find it before a machine works there."
)

// NoWidth reports that no width is known: nobody uses a machine anywhere there.
func (z ZoneStretch) NoWidth() bool { return z.NotTraced || z.InDoubt }

// Width words one of its widths.
func (z ZoneStretch) Width(u geo.Units, m float64) string {
	switch {
	case z.NotTraced:
		return "not traced"
	case z.InDoubt:
		return "not known"
	case z.Farther:
		return AtLeast + ShortUp(u, m)
	}
	return ShortUp(u, m)
}

// Two widths are alike within alikeM, for no tape over rough ground tells more, or
// within alikePart of the wider, which is paced and not taped (common practice, no
// source). Stretches that are alike have the wider of both.
const (
	alikeM    = 0.05
	alikePart = 0.10
)

// ZoneStretches parts a line where its caution zone changes its width: within how
// far nobody digs by machine. What was found widens it as far beyond as the zone that is
// drawn stays wider. What is not traced is a stretch too, and so is what is in doubt
// without a bound: those that meet are one.
func ZoneStretches(l *trace.Line) []ZoneStretch {
	if l.Centerline == nil || len(l.Reach) == 0 {
		return nil
	}
	var out []ZoneStretch
	along := NewAlong(l)
	for k, p := range l.Centerline.Parts {
		if k > 0 && !p.Joins {
			out = append(out, ZoneStretch{FromM: l.Centerline.Parts[k-1].ToM(), ToM: p.FromM(), NotTraced: true})
		}
		cuts := zoneCuts(l, p, along.doubts)
		first := len(out)
		for i := 1; i < len(cuts); i++ {
			if cuts[i]-cuts[i-1] < 1e-6 {
				continue
			}
			z := stretchOf(along, cuts[i-1], cuts[i])
			if n := len(out); n > first && sameZone(out[n-1], z) {
				out[n-1].join(z)
				continue
			}
			out = append(out, z)
		}
	}
	return bareJoined(withoutShort(out))
}

// bareJoined puts stretches without a width that meet together.
func bareJoined(zs []ZoneStretch) []ZoneStretch {
	joined := zs[:0]
	for _, z := range zs {
		if n := len(joined); n > 0 && joined[n-1].NoWidth() && z.NoWidth() && joined[n-1].meets(z) {
			joined[n-1].join(z)
			continue
		}
		joined = append(joined, z)
	}
	return joined
}

// leastStretchM is the shortest stretch that is told of by itself, a foot and a little: as
// stations are told, a shorter one may begin where it ends.
const leastStretchM = 2 * endM

// withoutShort puts stretches that are too short to be told with the neighbour that this
// widens least: both have the wider widths. One that is wider than its neighbours has no
// width where it lies beside such a stretch, for a foot of that costs less than widening all
// of a long one. A stretch without a width is never too short.
func withoutShort(zs []ZoneStretch) []ZoneStretch {
	for i := 0; i < len(zs); i++ {
		if zs[i].NoWidth() || zs[i].ToM-zs[i].FromM >= leastStretchM {
			continue
		}
		to := withNeighbour(zs, i)
		if to < 0 {
			continue
		}
		first := min(i, to)
		zs[first].join(zs[first+1])
		zs = slices.Delete(zs, first+1, first+2)
		i = first - 1 // which may be too short still
	}
	return zs
}

// withNeighbour is the neighbour that a short stretch is put with, -1 where there is none.
func withNeighbour(zs []ZoneStretch, i int) int {
	to, least, bare := -1, math.Inf(1), -1
	for _, k := range []int{i - 1, i + 1} {
		if k < 0 || k >= len(zs) || !zs[k].meets(zs[i]) {
			continue
		}
		if zs[k].NoWidth() {
			bare = k
		} else if area := zs[k].widenedBy(zs[i]); area < least {
			to, least = k, area
		}
	}
	if bare >= 0 && (to < 0 || zs[to].LeftM < zs[i].LeftM || zs[to].RightM < zs[i].RightM) {
		return bare
	}
	return to
}

// meets reports that nothing lies between two stretches.
func (z ZoneStretch) meets(o ZoneStretch) bool {
	return math.Abs(z.ToM-o.FromM) < 1e-6 || math.Abs(o.ToM-z.FromM) < 1e-6
}

// widenedBy is by how much ground two stretches would be widened by being told as one.
func (z ZoneStretch) widenedBy(o ZoneStretch) float64 {
	both := func(v, w float64) float64 {
		m := math.Max(v, w)
		return (m-v)*(z.ToM-z.FromM) + (m-w)*(o.ToM-o.FromM)
	}
	return both(z.LeftM, o.LeftM) + both(z.RightM, o.RightM)
}

// join takes in the stretch that follows.
func (z *ZoneStretch) join(next ZoneStretch) {
	z.ToM, z.LeftM, z.RightM = next.ToM, math.Max(z.LeftM, next.LeftM), math.Max(z.RightM, next.RightM)
	z.NotTraced, z.InDoubt, z.Farther = z.NotTraced || next.NotTraced, z.InDoubt || next.InDoubt, z.Farther || next.Farther
	if rankOf(next.Doubt) > rankOf(z.Doubt) {
		z.Doubt = next.Doubt
	}
}

// stretchOf is a stretch with the wider of all that is drawn on it.
func stretchOf(along *Along, fromM, toM float64) ZoneStretch {
	l, middle := along.l, along.At(trace.Vertex{StationM: (fromM + toM) / 2})
	z := ZoneStretch{FromM: fromM, ToM: toM, Doubt: middle.Doubt, InDoubt: !trace.Known(middle.Horizontal95M),
		Farther: middle.Doubt != nil && !trace.Known(middle.WatchM)}
	for k, r := range l.Reach {
		touches := r.StationM >= z.FromM-1e-6 && r.StationM <= z.ToM+1e-6
		// A stretch between two places has the wider of both.
		touches = touches || k+1 < len(l.Reach) && r.StationM < z.FromM && l.Reach[k+1].StationM > z.ToM
		touches = touches || k > 0 && r.StationM > z.ToM && l.Reach[k-1].StationM < z.FromM
		if touches {
			z.LeftM, z.RightM = math.Max(z.LeftM, r.LeftM), math.Max(z.RightM, r.RightM)
		}
	}
	return z
}

// zoneCuts are the places at which a part of a line is parted: its ends, where its zone
// has come down beyond what was found, and where a doubt without a bound begins and ends.
func zoneCuts(l *trace.Line, p trace.Part, ds []Doubt) []float64 {
	cuts := []float64{p.FromM(), p.ToM()}
	add := func(stations ...float64) {
		for _, s := range stations {
			if s > p.FromM() && s < p.ToM() {
				cuts = append(cuts, s)
			}
		}
	}
	for _, d := range ds {
		from, to := d.stretch()
		switch {
		case !trace.Known(from):
		case d.Role() == (finding.Gap{}).Role():
			add(from-edgeM, to+edgeM)
		case d.unbounded():
			add(from, to)
		default:
			add(cameDown(l, p, from, -1), cameDown(l, p, to, 1))
		}
	}
	slices.Sort(cuts)
	return cuts
}

// cameDown is where the zone has come down beyond the end of what was found: not nearer
// than trace.ZoneShoulderM, nor farther than twice what the zone of the end reaches, which
// is round there.
func cameDown(l *trace.Line, p trace.Part, endM, way float64) float64 {
	reach := func(s float64) (left, right float64) {
		return trace.ReachAt(l.Reach, math.Max(p.FromM(), math.Min(p.ToM(), s)))
	}
	left, right := reach(endM)
	least := trace.ZoneShoulderM
	most := math.Max(least, math.Min(2*math.Max(left, right), p.ToM()-p.FromM()))
	stepM := math.Max(0.1, most/200) // no tape finds the end of a stretch closer (judgement)
	lowLeft, lowRight := reach(endM + way*least)
	for d := least; d <= most; d += stepM {
		if left, right := reach(endM + way*d); left+right < lowLeft+lowRight {
			lowLeft, lowRight = left, right
		}
	}
	at := least
	for ; at < most; at += stepM {
		if left, right := reach(endM + way*at); alike(left, lowLeft) && alike(right, lowRight) {
			break
		}
	}
	return endM + way*at
}

// sidesAt is a band of so many metres on either side of the drawn line, as the zone holds
// it there: nothing where it holds as much on both.
func sidesAt(l *trace.Line, stationM, bandM float64) (leftM, rightM float64) {
	half := l.Tolerance.HalfWidthM
	if len(l.Reach) == 0 || !(half > 0) {
		return 0, 0
	}
	left, right := trace.ReachAt(l.Reach, stationM)
	if alike(left, right) {
		return 0, 0
	}
	left, right = math.Max(alikeM, left-half), math.Max(alikeM, right-half)
	if left > right {
		return math.Max(left, bandM), right
	}
	return left, math.Max(right, bandM)
}

func alike(v, w float64) bool {
	return math.Abs(v-w) < math.Max(alikeM, alikePart*math.Max(v, w))
}

func sameZone(a, b ZoneStretch) bool {
	return a.InDoubt == b.InDoubt && a.Farther == b.Farther && alike(a.LeftM, b.LeftM) && alike(a.RightM, b.RightM)
}

func rankOf(d *Doubt) int {
	if d == nil {
		return 0
	}
	return d.rank
}

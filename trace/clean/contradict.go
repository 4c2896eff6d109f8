package clean

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
	"loamline.example/trace/walkorder"
)

// Depths that a slip of the unit or of the point makes.
const (
	// wellReadM is to what depth the method is used with confidence (common
	// practice, no source).
	wellReadM = 5.0
	// A lost point makes ten of one; the ground and the receiver leave some room.
	// Judgement.
	tenfoldLeast, tenfoldMost = 7.0, 14.0
)

// Contradictions looks at the placed readings of a line for numbers that its
// neighbours contradict and that no scatter explains: a lost decimal point, a
// slip of the unit, an elevation that leaps. What is no measurement is left out
// before anything is fitted to it, and told.
func Contradictions(t trace.Trace, gapM float64, inputs []trace.Input) []Contradiction {
	rs := inTravelOrder(t)
	found := implausible(t, gapM, inputs)
	if shallow := shallowThroughout(rs, inputs); shallow != nil {
		return slices.Concat(found, shallow, leapingGround(rs, inputs))
	}
	// Units and antennas are compared before a depth is left out for its neighbours.
	found = slices.Concat(found, unitChanges(rs, inputs), againstAntennas(t, gapM, inputs), stuckDepths(rs, inputs), filledDepths(rs, inputs))
	return append(found, slices.Concat(lostPoints(rs, inputs), leapingGround(rs, inputs))...)
}

// inTravelOrder lists the readings that have a place, in the order of the walk (package
// walkorder).
func inTravelOrder(t trace.Trace) []*trace.Reading {
	return walkorder.Taken(t.Readings, func(r *trace.Reading) bool { return r.Status == "" })
}

// lostPoints leaves out depths that are ten times those of the neighbours, and
// tells of a line whose depths are deeper than the method reads well throughout. A
// line that goes down in strides is none of both.
func lostPoints(rs []*trace.Reading, inputs []trace.Input) []Contradiction {
	var deep []*trace.Reading
	var depths []*trace.Reading
	for _, r := range rs {
		if !believable(r) {
			continue
		}
		depths = append(depths, r)
		if r.DepthM > wellReadM {
			deep = append(deep, r)
		}
	}
	if len(deep) == 0 {
		return nil
	}
	at := func(r *trace.Reading) trace.Problem {
		return trace.Problem{File: inputs[r.File].Name, Row: int(r.Row), Field: "depth", Warn: true}
	}
	if DeepThroughout(depths) {
		p := at(deep[0])
		p.Remark = remark.AllDeep{Line: deep[0].Line, LimitM: wellReadM, FirstM: deep[0].DepthM}
		p.Hint = "check the unit of the depth column, and whether a decimal point was lost; the depths are used as they stand"
		return []Contradiction{{Problem: p}} // doubtDepths has the map tell it
	}
	before, after := trusted(depths, 1), trusted(depths, -1)
	var wrong []*trace.Reading
	for i, r := range depths {
		if r.DepthM <= wellReadM {
			continue
		}
		ten := func(ref float64) bool {
			return !trace.Known(ref) || r.DepthM >= tenfoldLeast*ref && r.DepthM <= tenfoldMost*ref
		}
		if ten(before[i]) && ten(after[i]) {
			wrong = append(wrong, r)
		}
	}
	if len(wrong) == 0 {
		return nil
	}
	p := at(wrong[0])
	p.Remark = remark.PointsLost{Line: wrong[0].Line, N: len(wrong), FirstM: wrong[0].DepthM}
	p.Hint = "a decimal point seems to be lost: their positions are used and their depths are not; correct the file"
	for _, r := range wrong {
		r.DropDepth(remark.TenfoldDepth{DepthM: r.DepthM})
		r.DepthM = trace.Unknown
	}
	return []Contradiction{{Problem: p, Advice: WholeLine(wrong[0].Line, remark.DepthsTenfold{N: len(wrong)})}}
}

// DeepThroughout reports whether three quarters of the depths are deeper than the
// method reads well, and none is a usual one: the tenth of it would be no cover.
func DeepThroughout(rs []*trace.Reading) bool {
	deep := 0
	for _, r := range rs {
		if r.DepthM > wellReadM {
			deep++
		}
		if r.DepthM < leastTenfoldM {
			return false
		}
	}
	return deep > 0 && 4*deep >= 3*len(rs)
}

// leastTenfoldM is ten times the least cover that lines are laid at, 0.3 m (common
// practice, no source).
const leastTenfoldM = 3.0

// trusted is, for each depth, the last one before it (step 1) or behind it
// (step -1) that one can come to from shallow ground without a leap to ten times
// as much; Unknown where there is none.
func trusted(rs []*trace.Reading, step int) []float64 {
	out := make([]float64, len(rs))
	last := trace.Unknown
	from := 0
	if step < 0 {
		from = len(rs) - 1
	}
	for i := from; i >= 0 && i < len(rs); i += step {
		out[i] = last
		d := rs[i].DepthM
		if !trace.Known(last) && d <= wellReadM || trace.Known(last) && d < tenfoldLeast*last {
			last = d
		}
	}
	return out
}

// Ground between neighbouring readings. Judgement.
const (
	groundWindow = 4   // readings on each side
	groundStepM  = 2.0 // a wall or a curb
	groundSlope  = 1.0 // steeper is climbed and not walked
)

// leapingGround leaves out elevations that stand apart from those of the
// readings about them by more than any ground that can be walked.
func leapingGround(rs []*trace.Reading, inputs []trace.Input) []Contradiction {
	var known []*trace.Reading
	for _, r := range rs {
		if trace.Known(r.ElevM) {
			known = append(known, r)
		}
	}
	if len(known) < 4 {
		return nil
	}
	var wrong []*trace.Reading
	for i, r := range known {
		// Near either end the window is as wide, so that an end has its witnesses.
		from := max(0, min(i-groundWindow, len(known)-2*groundWindow-1))
		to := min(len(known), from+2*groundWindow+1)
		var about []float64
		spanM := 0.0
		for _, o := range known[from:to] {
			if o != r {
				about = append(about, o.ElevM)
				spanM = math.Max(spanM, r.Pos.Dist(o.Pos))
			}
		}
		if off := math.Abs(r.ElevM - ranked.Median(about)); off > groundStepM+groundSlope*spanM {
			wrong = append(wrong, r)
		}
	}
	if len(wrong) == 0 {
		return steppedGround(rs, inputs)
	}
	r := wrong[0]
	p := trace.Problem{File: inputs[r.File].Name, Row: int(r.Row), Field: "elev", Warn: true,
		Remark: remark.ElevationsOff{Line: r.Line, N: len(wrong), FirstM: r.ElevM},
		Hint:   "they are left out, and the readings are used; correct the file"}
	for _, r := range wrong {
		r.ElevM = trace.Unknown
	}
	return []Contradiction{{Problem: p, Advice: WholeLine(r.Line, remark.ElevationsLeap{N: len(wrong)})}}
}

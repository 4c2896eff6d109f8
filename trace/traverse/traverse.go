package traverse

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/ranked"
	"loamline.example/trace/walkorder"
)

// When the next place is no more of the same way. Judgement.
const (
	// breakM is how far the next place may be and still be joined to the last.
	breakM = 60.0
	// longStep times the median step is a break too, if it is more than restartM.
	longStep, restartM = 8.0, 10.0
	// standM is within what readings are of one place, where their own error is
	// less.
	standM = 0.25
	// leapSteps median steps off its neighbours, which lie together, and leapOwn times
	// its own error, a single reading leaps.
	leapSteps, leapOwn = 4.0, 6.0
)

// Errors are what the readings may be off.
type Errors struct {
	OwnM          func(*trace.Reading) float64 // one sigma per axis; NaN where nothing tells it
	PinpointM     func(depthM float64) float64 // with which the peak is found across a line, one sigma; the depth may be Unknown
	DepthRel      float64                      // random, one sigma
	DepthScaleRel float64                      // common to all, one sigma
}

// Result is a walk as joined. Indices are the readings'.
type Result struct {
	Line  *trace.Centerline // nil without two places
	Leaps []int             // off the walk and back
	// StationM is each reading's place on the line, Unknown for leaps and for
	// readings that were not asked for.
	StationM []float64
}

// stand is one place of the walk.
type stand struct {
	pos     geo.XY
	members []int
	ownM    float64
	fresh   bool // the walk begins anew here
}

// Join joins those of a line's readings that take says may be points of it.
func Join(rs []trace.Reading, take func(*trace.Reading) bool, errs Errors) Result {
	res := Result{StationM: make([]float64, len(rs))}
	order, walked := walkorder.Travel(rs)
	var walk []int
	for _, i := range order {
		res.StationM[i] = trace.Unknown
		if rs[i].Placed() && take(&rs[i]) {
			walk = append(walk, i)
		}
	}
	if len(walk) < 2 || !walked {
		return res
	}
	ss := withoutLeaps(stands(rs, walk, errs), &res)
	breakUp(ss)
	res.draw(rs, ss, errs)
	return res
}

// stands gathers readings that stand still. A place's own error is not averaged:
// readings of one stand share it.
func stands(rs []trace.Reading, walk []int, errs Errors) []stand {
	var out []stand
	for _, i := range walk {
		own := errs.OwnM(&rs[i])
		if math.IsNaN(own) {
			own = 0
		}
		if n := len(out) - 1; n >= 0 && rs[i].Pos.Dist(out[n].pos) < math.Max(standM, math.Min(3*own, 1)) {
			s := &out[n]
			s.members = append(s.members, i)
			s.pos = s.pos.Lerp(rs[i].Pos, 1/float64(len(s.members)))
			s.ownM = math.Max(s.ownM, own)
			continue
		}
		out = append(out, stand{pos: rs[i].Pos, members: []int{i}, ownM: own})
	}
	return out
}

// withoutLeaps takes out single places that lie far off the two beside them,
// which lie together.
func withoutLeaps(ss []stand, res *Result) []stand {
	step := medianStep(ss)
	var out []stand
	for k, s := range ss {
		if k > 0 && k+1 < len(ss) && len(s.members) == 1 {
			a, b := ss[k-1].pos, ss[k+1].pos
			far := math.Min(s.pos.Dist(a), s.pos.Dist(b))
			if far > math.Max(leapSteps*step, leapOwn*s.ownM) && a.Dist(b) < 0.5*far {
				res.Leaps = append(res.Leaps, s.members...)
				continue
			}
		}
		out = append(out, s)
	}
	return out
}

func medianStep(ss []stand) float64 {
	var d []float64
	for k := 1; k < len(ss); k++ {
		d = append(d, ss[k].pos.Dist(ss[k-1].pos))
	}
	if len(d) == 0 {
		return 0
	}
	return ranked.Median(d)
}

// breakUp marks where the walk begins anew.
func breakUp(ss []stand) {
	limit := math.Min(breakM, math.Max(restartM, longStep*medianStep(ss)))
	for k := 1; k < len(ss); k++ {
		ss[k].fresh = ss[k].pos.Dist(ss[k-1].pos) > limit
	}
}

// draw makes the line, one part for each unbroken walk of two places or more.
func (res *Result) draw(rs []trace.Reading, ss []stand, errs Errors) {
	c := &trace.Centerline{}
	station, scatterM := 0.0, scatter(ss)
	for k := 0; k < len(ss); {
		end := k + 1
		for end < len(ss) && !ss[end].fresh {
			end++
		}
		again := k > 0 && len(c.Parts) > 0 && traced(c, ss[k-1].pos, ss[k].pos)
		if k > 0 && len(c.Parts) > 0 && !again {
			station += ss[k].pos.Dist(ss[k-1].pos)
		}
		if end-k >= 2 {
			p := part(rs, ss[k:end], station, scatterM, errs)
			p.Joins = again
			for m, v := range p.Vertices {
				for _, i := range ss[k+m].members {
					res.StationM[i] = v.StationM
				}
			}
			c.Parts = append(c.Parts, p)
			station = p.ToM()
		} else {
			res.Leaps = append(res.Leaps, ss[k].members...)
		}
		k = end
	}
	slices.Sort(res.Leaps)
	if len(c.Parts) > 0 {
		res.Line = c
	}
}

// traced reports whether the straight way between two places runs along what is
// drawn already: a walk that goes back to begin another pass.
func traced(c *trace.Centerline, a, b geo.XY) bool {
	line := c.Polyline()
	n := int(a.Dist(b)/2) + 1
	for k := range n + 1 {
		if math.Abs(line.Nearest(a.Lerp(b, float64(k)/float64(n))).OffsetM) > 2 {
			return false
		}
	}
	return true
}

func part(rs []trace.Reading, ss []stand, station, scatterM float64, errs Errors) trace.Part {
	vs := make([]trace.Vertex, len(ss))
	depth := depthsOf(rs, ss)
	for k, s := range ss {
		if k > 0 {
			station += s.pos.Dist(ss[k-1].pos)
		}
		d := medianOf(depth[max(0, k-1):min(len(depth), k+2)])
		acrossM := math.Max(math.Hypot(s.ownM, errs.PinpointM(d)), scatterM)
		vs[k] = trace.Vertex{Pos: s.pos, StationM: station, DepthM: d, ElevM: trace.Unknown,
			Depth95M:      1.96 * math.Hypot(errs.DepthRel, errs.DepthScaleRel) * d,
			Horizontal95M: math.Hypot(1.96*acrossM, betweenM(ss, k)), Common95M: 1.96 * s.ownM}
	}
	return trace.Part{Vertices: vs}
}

// betweenM is how far off the joined line the true one may run beside a place.
func betweenM(ss []stand, k int) float64 {
	if k == 0 || k == len(ss)-1 {
		return 0
	}
	a, b := ss[k].pos.Sub(ss[k-1].pos), ss[k+1].pos.Sub(ss[k].pos)
	turn := math.Min(math.Abs(math.Atan2(a.Cross(b), a.Dot(b))), math.Pi/2)
	return math.Max(a.Norm(), b.Norm()) / 4 * math.Tan(turn/2)
}

// depthsOf is the median depth of each place, Unknown without.
func depthsOf(rs []trace.Reading, ss []stand) []float64 {
	out := make([]float64, len(ss))
	for k, s := range ss {
		var d []float64
		for _, i := range s.members {
			if !rs[i].DepthDropped {
				d = append(d, rs[i].DepthM)
			}
		}
		out[k] = medianOf(d)
	}
	return out
}

// medianOf is the middle of the known numbers (the shallower of two), Unknown
// without any.
func medianOf(vs []float64) float64 {
	var known []float64
	for _, v := range vs {
		if trace.Known(v) {
			known = append(known, v)
		}
	}
	if len(known) == 0 {
		return trace.Unknown
	}
	slices.Sort(known)
	return known[(len(known)-1)/2]
}

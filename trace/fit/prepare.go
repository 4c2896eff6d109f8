package fit

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
	"loamline.example/trace/walkorder"
)

// observation is one reading with a usable position, in walking order.
//
// A walk of a million readings is a million of these, and what else a fit keeps
// refers to them: the fields are in the order that leaves no room between them.
type observation struct {
	placed
	p       geo.XY // metres about the walk's own middle
	clockS  float64
	sigmaM  float64 // prior scale of the position error, one sigma per axis
	wt      float64 // 1/variance of the effective noise across the current line
	piece   int32   // of the current structure, -1 for none
	pull    pull    // what the line's own bends do to what is marked there
	source  sigmaSource
	loose   bool // stated to be off by more than a fixed position is
	suspect bool // leaves the walk and comes back
	out     bool // judged too far from the line to shape it
}

// placed is where a reading stands on a line and what became of it: all of an
// observation that is of use once the line is drawn across.
type placed struct {
	stationM float64 // on the current line
	offsetM  float64 // from the current line, positive to the right
	alongM   float64 // how far along the line it may be off, 95 %
	index    int32   // into the caller's readings
	exposed  bool
	alone    bool // far from all other readings in use
	fate     Fate
}

// walk is the usable readings of one line in the order in which they were made.
type walk struct {
	obs    []observation
	places []placed // of them, once they are settled
	origin geo.XY
	timed  bool      // clockS is the readings' own time
	stride bool      // read in stride: nobody stopped to find a peak
	order  bool      // the rows are a walk; otherwise their order means nothing
	turnM  float64   // radius of bends that are expected
	whole  bool      // the shape is to be one smooth run
	noArcs bool      // bends are to be smooth runs, not arcs
	bends  *bendFits // of all copies of the walk
	first  firstCuts // the same
	scaleM float64   // median prior sigma
	stepM  float64   // median distance between neighbours on the walk
	// scatter is rawScatter of the readings once they are a walk, in their order; 0
	// before that.
	scatter float64
	source  sigmaSource // of most prior scales
	// ln of stated accuracy over what the fix types usually have, NaN without.
	lnStatedToUsual float64
	rtk             bool // most positions are shown as RTK fixed
	walked          int  // readings that are of no exposed place
	even            *evenness
	patched         map[int32]remark.Outlier // readings that leapt together, by index
	depthM          float64                  // median
	floorM          float64                  // pinpointing error that even a perfect position has
}

// newWalk picks the readings with a usable position and puts them in walking
// order: by time where times tell one (package walkorder), else as in the file.
func newWalk(readings []reading) *walk {
	w := &walk{turnM: gentleTurnM, bends: &bendFits{}, first: firstCuts{}}
	n := 0
	for i := range readings {
		if usable(&readings[i]) {
			n++
		}
	}
	w.obs = make([]observation, 0, n)
	for i := range readings {
		if r := &readings[i]; usable(r) {
			w.obs = append(w.obs, observation{placed: placed{index: int32(i), exposed: r.Exposed}, p: r.Pos, piece: -1})
			if !r.Exposed {
				w.walked++
			}
		}
	}
	w.centre()
	w.clock(readings)
	w.priorSigma(readings)
	w.depthM = usualDepth(readings)
	w.floorM = receiver.PinpointM(w.depthM)
	w.deepSigma(readings)
	w.stepM = w.medianStep()
	w.setScale()
	w.stride = w.readInStride()
	w.order = w.timed || w.isWalk()
	if w.order {
		if !w.timed {
			w.assumeClock()
		}
		w.seatExposed()
	}
	w.guessSigma()
	return w
}

// usable tells a position that may enter a fit: finite, and neither without a
// fix nor from a simulator.
func usable(r *reading) bool {
	ok := !math.IsNaN(r.Pos.X) && !math.IsNaN(r.Pos.Y) && !math.IsInf(r.Pos.X, 0) && !math.IsInf(r.Pos.Y, 0)
	return ok && r.Fix != int8(trace.FixSimulator) && (r.Fix != int8(trace.FixNone) || r.Exposed)
}

// centre moves the origin to the median position, so that sums of squares keep
// their digits.
func (w *walk) centre() {
	n := len(w.obs)
	if n == 0 {
		return
	}
	xs, ys := make([]float64, n), make([]float64, n)
	for i, o := range w.obs {
		xs[i], ys[i] = o.p.X, o.p.Y
	}
	w.origin = geo.XY{X: median(xs), Y: median(ys)}
	for i := range w.obs {
		w.obs[i].p = w.obs[i].p.Sub(w.origin)
	}
}

// clock sets the time of each reading and sorts by it, where times tell an order (package
// walkorder).
func (w *walk) clock(readings []reading) {
	at := walkorder.Clock(len(w.obs), func(i int) float64 { return readings[w.obs[i].index].TimeS }, func(int) bool { return true })
	if w.timed = at != nil; !w.timed {
		return
	}
	for i := range w.obs {
		w.obs[i].clockS = at[i]
	}
	sort.Slice(w.obs, func(a, b int) bool { return w.obs[a].before(&w.obs[b]) })
}

// before is the order of a walk: by time, and at the same time by place, so that
// the order of the rows in the file matters only for readings alike in both.
func (a *observation) before(b *observation) bool {
	if a.clockS != b.clockS {
		return a.clockS < b.clockS
	}
	if a.p.X != b.p.X {
		return a.p.X < b.p.X
	}
	if a.p.Y != b.p.Y {
		return a.p.Y < b.p.Y
	}
	return a.index < b.index
}

// How long a locator takes from one reading to the next (common practice, no source), and
// the least and the most (judgement: a reading takes a few seconds, and a longer way is no
// walk from place to place).
const (
	paceMPerS             = 0.3
	leastStepS, mostStepS = 4.0, 60.0
)

// assumeClock invents a clock for rows without times: a locator's pace between
// readings of about paceMPerS, pauses included.
func (w *walk) assumeClock() {
	t := 0.0
	for i := range w.obs {
		if i > 0 {
			step := w.obs[i].p.Dist(w.obs[i-1].p)
			t += math.Min(mostStepS, math.Max(leastStepS, math.Min(step, 3*w.stepM)/paceMPerS))
		}
		w.obs[i].clockS = t
	}
}

// medianStep returns the median distance between neighbours in walking order. Who reads
// each place more than once stands for many of the steps, and those are no strides.
func (w *walk) medianStep() float64 {
	steps := make([]float64, 0, len(w.obs))
	for i := 1; i < len(w.obs); i++ {
		if d := w.obs[i].p.Dist(w.obs[i-1].p); d > 1e-6 {
			steps = append(steps, d)
		}
	}
	if len(steps) == 0 {
		return 0
	}
	sort.Float64s(steps)
	long := steps[len(steps)*3/4]
	if standing := sort.SearchFloat64s(steps, standingPart*long); float64(standing) >= standingShare*float64(len(steps)) {
		steps = steps[standing:]
	}
	return median(steps)
}

// A step shorter than standingPart of a long one is none where standingShare of all are
// such. Judgement.
const (
	standingPart  = 1.0 / 8
	standingShare = 1.0 / 3
)

// When rows are a walk. Judgement: walkStep lies between a step's share of a line and the
// 0.29 of shuffled rows (1 − 1/√2, the median distance of two places drawn evenly), half a
// sigma is what positions add to a step, and a handful of rows may turn back once.
const (
	fewestWalked = 8 // rows whose median step tells
	walkStep     = 0.18
	trimTail     = 0.05 // of the places at either end that do not count for the extent
	walkLengths  = 1.6
)

// isWalk reports whether the file's order is that of a walk: from one row to the
// next it is not far against the whole. In shuffled rows the median step is 0.29
// of a line's length (of two places drawn evenly), on a walk a step.
func (w *walk) isWalk() bool {
	if len(w.obs) < fewestWalked {
		return w.shortWalk()
	}
	pts := make([]geo.XY, len(w.obs))
	for i, o := range w.obs {
		pts[i] = o.p
	}
	return w.stepM <= walkStep*trimmedExtent(pts)+0.5*w.scaleM
}

// trimmedExtent is the larger side of the box that holds 90 % of the points
// either way.
func trimmedExtent(pts []geo.XY) float64 {
	xs, ys := make([]float64, len(pts)), make([]float64, len(pts))
	for i, p := range pts {
		xs[i], ys[i] = p.X, p.Y
	}
	w, h := quantile(xs, 1-trimTail)-quantile(xs, trimTail), quantile(ys, 1-trimTail)-quantile(ys, trimTail)
	return math.Hypot(w, h) / (1 - 2*trimTail)
}

// shortWalk judges a handful of rows: they are a walk unless going through them
// in file order is more than 1.6 times longer than their extent.
func (w *walk) shortWalk() bool {
	length, extent := 0.0, 0.0
	for i := range w.obs {
		if i > 0 {
			length += w.obs[i].p.Dist(w.obs[i-1].p)
		}
		for j := range w.obs[:i] {
			extent = math.Max(extent, w.obs[i].p.Dist(w.obs[j].p))
		}
	}
	return length <= walkLengths*extent
}

// setScale notes the median prior sigma of the walk.
func (w *walk) setScale() {
	s := make([]float64, len(w.obs))
	for i, o := range w.obs {
		s[i] = o.sigmaM
	}
	w.scaleM = 1
	if len(s) > 0 {
		w.scaleM = median(s)
	}
}

// settle keeps of the observations no more than their places.
func (w *walk) settle() {
	if w.places != nil {
		return
	}
	w.places = make([]placed, len(w.obs))
	for i := range w.obs {
		w.places[i] = w.obs[i].placed
	}
	w.obs = nil
}

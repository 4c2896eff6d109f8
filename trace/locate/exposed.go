package locate

import (
	"cmp"
	"context"
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/fit"
	"loamline.example/trace/pinned"
	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// exposedPlace is where a line was exposed, beside the line as it was traced
// without any exposure. What was seen is the truth, to within its own error.
type exposedPlace struct {
	r        *trace.Reading
	e        fit.Exposure
	lnDepth  float64 // ln of the depth traced over that measured; Unknown without both
	noise    float64 // of it, one sigma
	position float64 // error of the exposed place itself, one sigma
	trace    float64 // what the trace's readings may all be off by, one sigma, as far as told
	leftOut  bool    // the fit of all together could not use it
}

// Limits of what chance explains: normal errors lie outside 2.6 sigma in one of
// a hundred cases. Judgement.
const (
	surprising    = 2.6
	groundRel     = 0.02 // how exactly an exposed depth is that of the line nearby
	mostLnDepth95 = 1.0
	farPastM      = 1.0 // how far past an end of the trace an exposed place is worth a word
)

// fitPinned fits a trace so that it goes through its exposed places. Where one
// of them contradicts the trace, the readings are fitted without them, and the
// line is drawn through them with bands that grow with the distance from each
// by as much as the trace was wrong there.
func fitPinned(ctx context.Context, t trace.Trace, opt fit.Options) (res fit.Result, places []exposedPlace, contradicted bool, err error) {
	if res, err = fit.Line(ctx, t.Readings, opt); err != nil {
		return res, nil, false, err
	}
	common := commonSigmaM(t)
	for _, e := range res.Exposures {
		p := newPlace(&t.Readings[e.Index], e, common)
		p.leftOut = res.Verdicts[e.Index].Fate != fit.Used
		places = append(places, p)
		contradicted = contradicted || p.contradicts()
	}
	if !contradicted {
		return res, places, false, nil
	}
	opt.LeaveExposed = true
	res, err = fit.Line(ctx, t.Readings, opt)
	return res, places, true, err
}

// placesBeside are the exposed places of a line that was drawn without them.
func placesBeside(l trace.Line) []exposedPlace {
	common := commonSigmaM(trace.Trace{Readings: l.Readings})
	var places []exposedPlace
	for i := range l.Readings {
		r := &l.Readings[i]
		if r.Status != trace.StatusExposed || !r.Placed() {
			continue
		}
		if e, ok := fit.Beside(r, l.Centerline.Parts); ok {
			p := newPlace(r, e, common)
			p.leftOut = e.BeyondM > farPastM
			places = append(places, p)
		}
	}
	return places
}

func newPlace(r *trace.Reading, e fit.Exposure, commonM float64) exposedPlace {
	p := exposedPlace{r: r, e: e, lnDepth: trace.Unknown, position: receiver.WholeM(r.HAccM, int(r.Fix), r.HDOP), trace: commonM}
	p.e.DepthDifferenceM = e.DepthM - r.DepthM
	if e.DepthM > 0 && r.DepthM > 0 && !r.DepthDropped {
		p.lnDepth = math.Log(e.DepthM / r.DepthM)
	}
	return p
}

// commonSigmaM is what the readings of a trace may all be off by, one sigma.
func commonSigmaM(t trace.Trace) float64 {
	var s []float64
	for i := range t.Readings {
		if r := &t.Readings[i]; r.Status == trace.StatusUsed && !r.Exposed {
			s = append(s, receiver.WholeM(r.HAccM, int(r.Fix), r.HDOP))
		}
	}
	if len(s) == 0 {
		return 0
	}
	return math.Sqrt(receiver.CommonShare) * ranked.Median(s)
}

// contradicts reports whether the place lies farther from the trace than both
// errors explain.
func (p exposedPlace) contradicts() bool {
	return p.leftOut || math.Abs(p.e.OffsetM) > p.allowedM()
}

func (p exposedPlace) allowedM() float64 {
	return surprising * hypot3(math.Max(p.e.Horizontal95M/1.96, p.trace), p.position, receiver.ExposedMiddleM)
}

// pinDown draws a line through its exposed places, calibrates its depths by
// them, and says what they contradict.
func (k *lineErrors) pinDown(d *drawn) {
	l, places := &d.line, d.places
	if len(places) == 0 {
		return
	}
	var offs []pinned.Pin
	worst := 0.0
	agree := false
	for i := range places {
		p := &places[i]
		if !d.moves && trace.Known(p.r.StationM) {
			p.e.StationM = p.r.StationM
		}
		offs = append(offs, pinned.Pin{StationM: p.e.StationM, Value: p.e.OffsetM})
		worst = math.Max(worst, p.position)
		agree = agree || math.Abs(p.e.OffsetM) <= p.allowedM()
		switch {
		case math.Abs(p.e.OffsetM) > p.allowedM():
			k.tell(l, p.e.StationM, trace.AdviseExposed, remark.ExposedBeside{OffM: math.Abs(p.e.OffsetM), AllowedM: p.allowedM()})
		case p.leftOut && p.e.BeyondM > farPastM:
			k.tell(l, p.e.StationM, trace.AdviseExposed, remark.ExposedBeyond{BeyondM: p.e.BeyondM})
		}
	}
	ps := pinned.New(offs)
	ps.AddVertices(l.Centerline)
	k.calibrateDepths(l, places)
	if !d.moves {
		ps.WidenApart(l.Centerline)
	} else {
		var shared pinned.Shared
		if !agree { // else the trace is not off as a whole
			shared = ps.Shared(l.Centerline)
		}
		move := ps.MoveAcross
		if d.joined {
			move = ps.MoveJoined
		}
		if m := move(l.Centerline, l.Readings, 1.96*worst, shared); m > reportedUnseenM {
			k.tell(l, trace.Unknown, trace.AdviseExposed, remark.ExposedOneWay{UnseenM: m})
		}
		pl := l.Centerline.Polyline().Index()
		for i := range places {
			r := places[i].r
			f := pl.Nearest(r.Pos)
			r.StationM, r.OffsetM = f.StationM, f.OffsetM
			places[i].e.StationM = f.StationM
		}
	}
}

// reportedUnseenM is from where what exposed places do not show of an error that a trace
// has as a whole is told. Judgement: the width of a spade.
const reportedUnseenM = 0.2

// calibrateDepths finds by which factor this receiver's depths are off on this
// day, sets them right, and pins the profile to the measured depths.
func (k *lineErrors) calibrateDepths(l *trace.Line, places []exposedPlace) {
	sigmas := depthSigmas(l.Centerline)
	for i := range places {
		p := &places[i]
		p.noise = hypot3(depthSigmaAt(sigmas, p.e.StationM), receiver.ExposedDepthM/p.r.DepthM, groundRel)
	}
	scale, variance, n, odd := depthScale(places)
	if n == 0 && !anyDepth(places) {
		return
	}
	other, either := k.otherwise(l, places, odd)
	var rest []pinned.Pin
	for i, p := range places {
		if !trace.Known(p.lnDepth) {
			continue
		}
		rest = append(rest, pinned.Pin{StationM: p.e.StationM, Value: p.lnDepth - scale})
		allowed := surprising * math.Hypot(receiver.DepthScaleRel, p.noise)
		if beyond := math.Abs(p.lnDepth) > allowed; beyond && !other.told || odd[i] {
			k.tell(l, p.e.StationM, trace.AdviseExposed, remark.ExposedDeeper{MeasuredM: p.r.DepthM, ReadM: p.e.DepthM, OthersAgree: !beyond})
		}
	}
	k.showErrors(places, n, scale, variance, odd)
	ps := pinned.New(rest)
	wrong := ps.Wrong95() / 1.96
	for n := range l.Centerline.Parts {
		vs := l.Centerline.Parts[n].Vertices
		for i := range vs {
			v := &vs[i]
			if !(v.DepthM > 0) {
				continue
			}
			mean, left := ps.At(v.StationM)
			base := math.Log1p(v.Depth95M/v.DepthM) / 1.96
			readM := v.DepthM
			v.DepthM *= math.Exp(-scale - mean)
			open := (variance+wrong*wrong+base*base)*left + sq(receiver.ExposedDepthM/v.DepthM)*(1-left)
			v.Depth95M = v.DepthM * math.Expm1(math.Min(mostLnDepth95, 1.96*math.Sqrt(open)))
			if either {
				other.hold(v, readM, base)
			}
		}
	}
	k.depthScaleRel, k.depthScale = 0, math.Exp(scale) // it is in the band now
	if n > 0 {
		l.Centerline.Notes = append(l.Centerline.Notes, remark.DepthsSet{N: n, LnScale: scale, Sigma: math.Sqrt(variance)})
	}
}

func sq(x float64) float64 { return x * x }

func anyDepth(places []exposedPlace) bool {
	for _, p := range places {
		if trace.Known(p.lnDepth) {
			return true
		}
	}
	return false
}

// depthScale is the ln of the factor by which depths read too large, with its
// variance, by the exposed depths that a common factor explains: a normal prior
// of the receiver's published error and independent normal errors. n is their
// number; odd are those that the factor of the others does not explain.
func depthScale(places []exposedPlace) (scale, variance float64, n int, odd []bool) {
	prior := sq(receiver.DepthScaleRel)
	use := make([]bool, len(places))
	odd = make([]bool, len(places))
	for i, p := range places {
		use[i] = trace.Known(p.lnDepth) && math.Abs(p.lnDepth) < surprising*math.Sqrt(prior+sq(p.noise))
	}
	for round := 0; round <= len(places); round++ {
		weight, sum := 1/prior, 0.0
		n = 0
		for i, p := range places {
			if use[i] {
				weight, sum, n = weight+1/sq(p.noise), sum+p.lnDepth/sq(p.noise), n+1
			}
		}
		scale, variance = sum/weight, 1/weight
		oddest, worst := -1, surprising
		for i, p := range places {
			if z := math.Abs(p.lnDepth-scale) / math.Sqrt(variance+sq(p.noise)); use[i] && z > worst {
				oddest, worst = i, z
			}
		}
		if oddest < 0 {
			break
		}
		use[oddest], odd[oddest] = false, true
	}
	return scale, variance, n, odd
}

// depthSigma is the relative error of the depth drawn at a station, one sigma.
type depthSigma struct{ stationM, rel float64 }

// depthSigmas are those of the vertices that have a depth, by station.
func depthSigmas(c *trace.Centerline) (out []depthSigma) {
	for _, p := range c.Parts {
		for _, v := range p.Vertices {
			if v.DepthM > 0 {
				out = append(out, depthSigma{v.StationM, math.Log1p(v.Depth95M/v.DepthM) / 1.96})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b depthSigma) int { return cmp.Compare(a.stationM, b.stationM) })
	return out
}

// depthSigmaAt is that of the vertex nearest to a station; 0 without any.
func depthSigmaAt(by []depthSigma, stationM float64) float64 {
	first := func(atM float64) int {
		k, _ := slices.BinarySearchFunc(by, atM, func(s depthSigma, atM float64) int { return cmp.Compare(s.stationM, atM) })
		return k
	}
	k := first(stationM)
	if k == len(by) || k > 0 && stationM-by[k-1].stationM <= by[k].stationM-stationM {
		if k == 0 {
			return 0
		}
		k = first(by[k-1].stationM) // of several at one place the first
	}
	return by[k].rel
}

package fit

import (
	"cmp"
	"context"
	"math"
	"slices"

	"loamline.example/geo"
)

// traced is one shape that the line may have, with the walk's readings as they
// stand to it.
type traced struct {
	w     *walk
	sh    *shape
	noise noisePosterior
	scale float64 // of the noise that the shape was cut with
	score float64 // its criterion
	// rivals are the other shapes that are not much less likely.
	rivals []*traced
}

// scales are how much larger than the mean scatter the noise is taken to be when the
// shape is cut: correlated noise bends a straight line, and only the likelihood
// of the whole tells which bends are real. Judgement.
var scales = []float64{1, 2, 4}

// The scatter that the scales start from is bounded: where the line bends between
// sparse readings it shows bends, not noise, and a few readings may lie on one
// line by chance. Judgement.
const leastScatter, mostScatter = 0.5, 1.2

// maxCompeting is the number of readings up to which several shapes are tried.
// Judgement: time.
const maxCompeting = 20000

// scalesTried are the scales to try: more, and all of them, where positions scatter as no fix
// of the kind that is shown does, and so may not be of that kind.
func (w *walk) scalesTried() (tried []float64, all bool) {
	if !w.asGoodAsFixed() || !w.scatters() {
		return scales, false
	}
	tried = slices.Clone(scales)
	for last := scales[len(scales)-1]; 2*last < 4*w.rawScatter(); {
		last *= 2
		tried = append(tried, last)
	}
	return tried, true
}

// compete fits a shape for each scale and returns the most likely one. A scale
// is not tried where a straight line says that there is nothing left to simplify, nor, unless
// the noise may be many times what it is taken to be, where one before was clearly worse than
// the best.
func (w *walk) compete(ctx context.Context) (*traced, error) {
	if len(w.obs) > maxCompeting {
		return w.attempt(ctx, 2)
	}
	var best *traced
	var all []*traced
	tried, throughout := w.scalesTried()
	for _, scale := range tried {
		t, err := w.eitherBend(ctx, scale)
		if err != nil {
			return nil, err
		}
		if t == nil {
			continue
		}
		all = append(append(all, t), t.rivals...)
		t.rivals = nil
		worse := best != nil && t.score > best.score+mostBehind
		if best == nil || t.score < best.score {
			best = t
		}
		if worse && !throughout || (len(t.sh.runs) == 1 && t.sh.runs[0].straight) {
			break
		}
	}
	for _, t := range all {
		if t != best && t.score < best.score+mostBehind {
			best.rivals = append(best.rivals, t)
		}
	}
	return best, nil
}

// eitherBend fits a shape whose bends may be arcs, and where they are, one whose
// bends are smooth runs alone. It returns the likelier with the other as rival.
func (w *walk) eitherBend(ctx context.Context, scale float64) (*traced, error) {
	t, err := w.copied().attempt(ctx, scale)
	if err != nil || t == nil || !t.sh.hasArc() {
		return t, err
	}
	own := w.copied()
	own.noArcs = true
	smooth, err := own.attempt(ctx, scale)
	if err != nil || smooth == nil {
		return t, err
	}
	if smooth.score < t.score {
		t, smooth = smooth, t
	}
	t.rivals = []*traced{smooth}
	return t, nil
}

// copied returns a walk with readings of its own.
func (w *walk) copied() *walk {
	own := *w
	own.obs = append([]observation(nil), w.obs...)
	return &own
}

// mostBehind is how much worse the criterion of a rival may be for the band to
// weigh it: less likely by e⁵, which is strong evidence against it to very strong (Kass
// and Raftery 1995, JASA 90:773).
const mostBehind = 10

// Bounds of a shape that is cut. Nodes lie a quarter of a step apart within bounds: closer
// ones show nothing that readings tell of, and a bend wants some between two of these. The
// figures are judgement but for pieceSigmas, which is that of a prototype study of the
// method: of what is shorter the direction is noise.
const (
	leastNodeM  = 0.3
	mostNodeM   = 1.0
	pieceSigmas = 5.0 // of a reading, that a piece is long at least
	// wholeLonger is by how much a smooth run through all samples may be longer than the
	// ground walked: more than one piece of several may (mostLonger), for it is to hold
	// the tight bends between sparse readings that no piece holds.
	wholeLonger = 1.5
)

// Nodes of a spline over n readings: at most nodesEach of each and some, in all mostKnots,
// so that one far reading costs no more than many near ones. Judgement: time and memory.
const (
	nodesEach  = 20
	nodesSpare = 200
	mostKnots  = 20000
)

// knots is how many nodes a spline over n readings may have.
func knots(n int) float64 { return math.Min(mostKnots, nodesSpare+nodesEach*float64(n)) }

// attempt fits one shape to the walk, taking its readings as white noise of a
// given scale, and moves the readings' stations onto it.
func (w *walk) attempt(ctx context.Context, scale float64) (*traced, error) {
	s := w.samples(scale)
	if len(s) < 2 {
		return nil, nil
	}
	total := s[len(s)-1].stationM - s[0].stationM
	hM := math.Max(clamp(w.stepM/4, leastNodeM, mostNodeM), total/knots(len(s)))
	var b *builder
	var runs []run
	if w.whole {
		b, runs = wholeRun(s, hM, w)
	} else {
		minLength := math.Min(pieceSigmas/math.Sqrt(s[len(s)/2].wt), total/3)
		spans, err := segment(ctx, s, minLength, w.suspectReach(), w.first.at(scale))
		if err != nil {
			return nil, err
		}
		spans = pieces(spans, s)
		b = newBuilder(s, spans, hM, w)
		if runs, err = b.runs(ctx, spans); err != nil {
			return nil, err
		}
	}
	if len(runs) == 0 {
		return nil, nil
	}
	loose := b.between(runs)
	b.soften(runs, loose)
	t := &traced{w: w, scale: scale, sh: b.assemble(runs, loose, math.Max(3*w.scaleM, 1))}
	w.place(t.sh.line)
	t.own()
	if len(w.obs) <= maxCompeting { // nothing competes with a longer one's
		t.score = t.criterion()
	}
	return t, nil
}

// wholeRun is one smooth run through all samples that are no suspects; none
// where it doesn't settle.
func wholeRun(s []sample, hM float64, w *walk) (*builder, []run) {
	b := newBuilder(s, []span{{to: len(s)}}, hM, w)
	var part []sample
	var guide []geo.XY
	for _, q := range s {
		if !q.suspect {
			part, guide = append(part, q), append(guide, q.p)
		}
	}
	if len(part) < leastSmooth || len(part) > maxSmooth {
		return b, nil
	}
	r, ok := fitSmooth(part, guide, hM)
	if !ok || geo.NewPolyline(r.nodes).Length() > wholeLonger*(part[len(part)-1].stationM-part[0].stationM) {
		return b, nil
	}
	r.to = len(s)
	return b, []run{r}
}

// tighter tries again with tighter bends in mind, where a shape leaves several
// readings out: that what looked like outliers are bends between sparse readings.
// It returns the likelier shape.
func (w *walk) tighter(ctx context.Context, best *traced) (*traced, error) {
	unused := 0
	for _, o := range best.w.obs {
		if o.fate != Used && math.Abs(o.offsetM) <= mostLeapM {
			unused++
		}
	}
	if unused < 2 || len(w.obs) > maxCompeting {
		return best, nil
	}
	again := w.copied()
	again.turnM = tightTurnM
	if err := again.markBlunders(ctx); err != nil {
		return nil, err
	}
	alike := slices.Equal(again.obs, w.obs)
	if !alike { // else their backbone is the same
		again.placeAlongBackbone()
	}
	for _, whole := range []bool{false, true} {
		if !whole && alike {
			continue
		}
		own := again.copied()
		own.whole = whole
		t, err := own.attempt(ctx, scales[0])
		if err != nil {
			return nil, err
		}
		if t != nil && t.score < best.score {
			t.rivals = append(best.rivals, best)
			best = t
		}
	}
	return best, nil
}

// suspectReach is how far from the next reading of a piece a suspect may lie and
// still be taken in: where five have been left out in a row, and three sigmas. Judgement.
func (w *walk) suspectReach() float64 { return 5*w.stepM + 3*w.scaleM }

// pieces are the spans without the outliers; where that leaves less than half of
// the samples, everything is one piece.
func pieces(spans []span, s []sample) []span {
	out := spans[:0:0]
	n := 0
	for _, sp := range spans {
		if sp.to-sp.from >= 2 {
			out, n = append(out, sp), n+sp.to-sp.from
		}
	}
	if 2*n < len(s) {
		return []span{{to: len(s)}}
	}
	return out
}

// samples are the readings that may shape the line, by station, with the
// weights that the noise gives them.
func (w *walk) samples(scale float64) []sample {
	s := make([]sample, 0, len(w.obs))
	meanScatter := clamp(w.meanScatter(), leastScatter, mostScatter)
	for i := range w.obs {
		o := &w.obs[i]
		if o.out {
			continue
		}
		v := sq(scale*meanScatter) * (sq(o.sigmaM) + sq(w.floorM))
		if o.exposed {
			v = sq(o.sigmaM) + 1e-4
		}
		o.wt = 1 / v
		s = append(s, o)
	}
	slices.SortStableFunc(s, func(a, b sample) int { return cmp.Compare(a.stationM, b.stationM) })
	return s
}

package fit

import (
	"context"
	"math"
	"sort"

	"loamline/geo"
)

// rounds is how often shape, noise and the fate of readings are found anew from
// one another.
const rounds = 3

// Line fits one line. Fewer than two distinct usable positions give a Result
// without parts, not an error; the only error is the context's.
func Line(ctx context.Context, readings []Reading, opt Options) (Result, error) {
	w := newWalk(readings)
	var res Result
	if len(w.obs) >= 2 && w.stepM > 0 {
		t, err := w.trace(ctx)
		if err != nil {
			return Result{}, err
		}
		if t != nil {
			res = t.result(readings, opt)
		}
	}
	w.verdicts(readings, &res)
	var err error
	res.Exposures, err = exposures(ctx, readings, opt)
	return res, err
}

// traced is a finished fit in the walk's own frame.
type traced struct {
	w     *walk
	s     []sample
	sh    *shape
	noise noisePosterior
}

// trace finds the shape.
func (w *walk) trace(ctx context.Context) (*traced, error) {
	w.makeWalk()
	if err := w.markBlunders(ctx); err != nil {
		return nil, err
	}
	path := w.backbone()
	if len(path) < 2 {
		return nil, nil
	}
	w.place(geo.NewPolyline(path))
	t := &traced{w: w, noise: w.priorNoise()}
	for round := 0; ; round++ {
		if err := t.refit(ctx); err != nil {
			return nil, err
		}
		if t.sh == nil {
			return nil, nil
		}
		w.place(t.sh.line)
		t.own()
		changed := t.judge()
		t.noise = w.learnNoise(t.sh)
		if round+1 >= rounds && (!changed || round+1 >= rounds+2) {
			break
		}
	}
	if err := t.refit(ctx); err != nil || t.sh == nil {
		return nil, err
	}
	w.place(t.sh.line)
	t.own()
	return t, nil
}

// makeWalk puts rows whose order means nothing in order along a first backbone.
func (w *walk) makeWalk() {
	if w.order {
		return
	}
	if path := w.backbone(); len(path) >= 2 {
		w.place(geo.NewPolyline(path))
		sort.SliceStable(w.obs, func(a, b int) bool { return w.obs[a].stationM < w.obs[b].stationM })
	}
	w.order = true
	w.stepM = w.medianStep()
	w.assumeClock()
}

// place sets every reading's station and offset on a line.
func (w *walk) place(line geo.Polyline) {
	idx := newLineIndex(line)
	for i := range w.obs {
		f := idx.nearest(w.obs[i].p)
		w.obs[i].stationM, w.obs[i].offsetM = f.StationM, f.OffsetM
	}
}

// own notes on which run each used reading lies.
func (t *traced) own() {
	for i := range t.w.obs {
		t.w.obs[i].piece = -1
	}
	for id := range t.sh.runs {
		for k := t.sh.runs[id].from; k < t.sh.runs[id].to; k++ {
			t.w.obs[t.s[k].obs].piece = int32(id)
		}
	}
}

// refit finds the shape from the readings in use and the noise as known.
func (t *traced) refit(ctx context.Context) error {
	t.s = t.w.samples(t.noise.mean)
	t.sh = nil
	if len(t.s) < 2 {
		return nil
	}
	total := t.s[len(t.s)-1].station - t.s[0].station
	minLength := math.Min(5/math.Sqrt(t.s[len(t.s)/2].wt), total/3)
	spans, err := segment(ctx, t.s, minLength)
	if err != nil {
		return err
	}
	spans = t.dropStrays(spans)
	b := newBuilder(t.s, spans, math.Max(clamp(t.w.stepM/2, 0.4, 2), total/math.Min(20000, 200+20*float64(len(t.s)))))
	runs, err := b.runs(ctx, spans)
	if err != nil {
		return err
	}
	t.sh = assemble(runs, t.s, math.Max(3*t.w.priorScale(), 1))
	return nil
}

// samples are the readings that may shape the line, by station, with the
// weights that the noise gives them.
func (w *walk) samples(m noiseModel) []sample {
	var s []sample
	for i := range w.obs {
		o := &w.obs[i]
		if o.out {
			continue
		}
		v := w.effectiveVariance(o, m)
		if o.exposed {
			v = sq(o.sigmaM) + 1e-4
		}
		s = append(s, sample{p: o.p, station: o.stationM, wt: 1 / v, obs: int32(i), suspect: o.suspect})
	}
	sort.SliceStable(s, func(a, b int) bool { return s[a].station < s[b].station })
	return s
}

// dropStrays sets readings aside that no piece holds, and renumbers the spans.
func (t *traced) dropStrays(spans []span) []span {
	stray := strayParams * segmentPrice(len(t.s))
	var kept []sample
	var out []span
	for _, sp := range spans {
		from := len(kept)
		kept = append(kept, heldBy(t.s[sp.from:sp.to], sp.arc, stray)...)
		if len(kept)-from < 2 {
			kept = kept[:from]
			continue
		}
		out = append(out, span{from, len(kept), sp.arc})
	}
	if len(kept) < 2 || 2*len(kept) < len(t.s) {
		kept, out = t.s, []span{{0, len(t.s), false}}
	}
	for i := range t.w.obs {
		t.w.obs[i].fate = Blunder
	}
	for _, q := range kept {
		t.w.obs[q.obs].fate = Used
	}
	t.s = kept
	return out
}

// judge decides which readings are farther from the line than their fellows let
// them be, and which of those that were are not any more.
func (t *traced) judge() bool {
	rel := func(o *observation) float64 {
		return math.Abs(o.offsetM) / math.Hypot(o.sigmaM, t.w.floorM)
	}
	var z []float64
	for i := range t.w.obs {
		if o := &t.w.obs[i]; o.fate == Used && !o.exposed {
			z = append(z, rel(o))
		}
	}
	if len(z) < 5 {
		return false
	}
	scale := madScale * median(z)
	scale = math.Max(scale, 0.3+2/float64(len(z)))
	changed := false
	for i := range t.w.obs {
		o := &t.w.obs[i]
		if o.exposed {
			continue
		}
		switch r := rel(o) / scale; {
		case !o.out && r > 4.5:
			o.out, changed = true, true
		case o.out && r < 3:
			o.out, changed = false, true
		}
		if o.out {
			o.fate = Blunder
		}
	}
	return changed
}

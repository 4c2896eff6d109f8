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
		t.noise = w.learnNoise(t.sh)
		changed := t.judge()
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

// samples are the used readings by station, with the weights that the noise
// gives them.
func (w *walk) samples(m noiseModel) []sample {
	var s []sample
	for i := range w.obs {
		o := &w.obs[i]
		if o.fate != Used {
			continue
		}
		v := w.effectiveVariance(o, m)
		if o.exposed {
			v = sq(o.sigmaM) + 1e-4
		}
		s = append(s, sample{p: o.p, station: o.stationM, wt: 1 / v, obs: int32(i)})
	}
	sort.SliceStable(s, func(a, b int) bool { return s[a].station < s[b].station })
	return s
}

// dropStrays sets readings aside that fit no piece, and renumbers the spans.
func (t *traced) dropStrays(spans []span) []span {
	var kept []sample
	var out []span
	for _, sp := range spans {
		if sp.to-sp.from < 2 && len(t.s) > 3 && !t.w.obs[t.s[sp.from].obs].exposed {
			t.w.obs[t.s[sp.from].obs].fate = Blunder
			continue
		}
		from := len(kept)
		kept = append(kept, t.s[sp.from:sp.to]...)
		out = append(out, span{from, len(kept), sp.arc})
	}
	if len(kept) < 2 || 2*len(kept) < len(t.s) {
		for _, q := range t.s {
			t.w.obs[q.obs].fate = Used
		}
		return []span{{0, len(t.s), false}}
	}
	t.s = kept
	return out
}

// judge decides anew which readings are set aside: those farther from the line
// than the noise lets them be.
func (t *traced) judge() bool {
	m := t.noise.mean
	sd := func(o *observation) float64 { return math.Sqrt(sq(o.sigmaM*m.factor) + sq(m.pinM)) }
	var z []float64
	for i := range t.w.obs {
		if o := &t.w.obs[i]; o.fate == Used && o.piece >= 0 {
			z = append(z, math.Abs(o.offsetM)/sd(o))
		}
	}
	if len(z) < 4 {
		return false
	}
	scale := clamp(madScale*median(z), 0.3, 1.5)
	changed := false
	for i := range t.w.obs {
		o := &t.w.obs[i]
		if o.exposed {
			continue
		}
		z := math.Abs(o.offsetM) / (sd(o) * scale)
		switch {
		case o.fate == Used && z > 4.2:
			o.fate, changed = Blunder, true
		case o.fate == Blunder && z < 3:
			o.fate, changed = Used, true
		}
	}
	return changed
}

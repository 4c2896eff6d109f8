package fit

import (
	"context"
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace/ranked"
)

func fitLine(ctx context.Context, readings []reading, opt Options) (Result, error) {
	// The fit without the exposed readings comes first, while nothing else is held.
	exposed, err := exposures(ctx, readings, opt)
	if err != nil {
		return Result{}, err
	}
	w := newWalk(readings)
	res := Result{Exposures: exposed}
	if len(w.obs) >= 2 && w.stepM > 0 {
		t, err := w.trace(ctx)
		if err != nil {
			return Result{}, err
		}
		if t != nil {
			t.result(readings, opt, &res)
		}
	}
	w.verdicts(readings, &res)
	return res, nil
}

// trace finds the shape: several candidates compete, the winner judges the
// readings, and where that changes something it is fitted again.
func (w *walk) trace(ctx context.Context) (*traced, error) {
	w.makeWalk()
	w.scatter = w.rawScatter()
	if len(w.obs) <= maxCompeting {
		w.evenly() // for all copies
	}
	if err := w.orderAndClean(ctx); err != nil {
		return nil, err
	}
	best, err := w.compete(ctx)
	if err != nil || best == nil {
		return nil, err
	}
	if best, err = w.tighter(ctx, best); err != nil {
		return nil, err
	}
	if best, err = best.judged(ctx); err != nil || best == nil {
		return nil, err
	}
	if best, err = best.reconsidered(ctx); err != nil {
		return nil, err
	}
	best.readmit()
	best.w.noteOutlierPatches()
	*best.w.bends = bendFits{} // only another fit could use them
	clear(best.w.first)
	*w = *best.w
	best.w = w
	best.noise = w.learnNoise(best.sh, fineNoise)
	return best, nil
}

// orderAndClean marks suspects and gives each reading a station along a backbone
// of the others.
func (w *walk) orderAndClean(ctx context.Context) error {
	if err := w.markBlunders(ctx); err != nil {
		return err
	}
	w.placeAlongBackbone()
	return nil
}

func (w *walk) placeAlongBackbone() {
	if path := w.backbone(); len(path) >= 2 {
		w.place(geo.NewPolyline(path))
	}
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
	w.guessSigma()
}

// place sets every reading's station and offset on a line. A reading that lies
// on the line near the one before it stays there, also where the line comes
// close to itself.
func (w *walk) place(line geo.Polyline) {
	idx := line.Index()
	last := -1
	for i := range w.obs {
		o := &w.obs[i]
		var f geo.Foot
		ok := false
		if last >= 0 {
			f, ok = footNear(line, o.p, last, 3*math.Hypot(o.sigmaM, w.floorM))
		}
		if !ok {
			f = idx.Nearest(o.p)
		}
		o.stationM, o.offsetM = f.StationM, f.OffsetM
		last = f.Segment
	}
}

// footNear returns the foot of q on the legs of a line around one of them, where it lies
// within a distance and inside of those legs.
func footNear(line geo.Polyline, q geo.XY, leg int, withinM float64) (geo.Foot, bool) {
	const reach = 6 // legs to either side. Judgement: time
	lo, hi := max(0, leg-reach), min(len(line.Points)-2, leg+reach)
	best, leastM := lo, math.Inf(1)
	for i := lo; i <= hi; i++ {
		if _, d := legFoot(line.Points[i], line.Points[i+1], q); d < leastM {
			best, leastM = i, d
		}
	}
	inside := (best > lo || lo == 0) && (best < hi || hi == len(line.Points)-2)
	return line.FootOn(best, q), inside && leastM <= withinM
}

// own notes which run each reading shapes; those that shape none are set aside.
func (t *traced) own() {
	for i := range t.w.obs {
		t.w.obs[i].piece, t.w.obs[i].fate = -1, Blunder
	}
	for id := range t.sh.runs {
		for _, q := range t.sh.runs[id].part {
			q.piece, q.fate = int32(id), Used
		}
	}
	for _, q := range t.sh.bends {
		q.fate = Used
	}
}

// readmitted is how far off the line, in units of what is usual, a reading that
// shaped nothing may lie and still count as used. Judgement, like trustedAt.
const readmitted = 2.5

// readmit counts readings as used that lie on the finished line after all: next
// to a corner, or where the walk looked odd.
func (t *traced) readmit() {
	rel, scale, ok := t.usualOffset()
	if !ok {
		return
	}
	for i := range t.w.obs {
		if o := &t.w.obs[i]; o.fate == Blunder && rel(o) < readmitted*scale {
			o.fate = Used
		}
	}
}

// fewestUsual readings tell what is usual, and leastUsual, with more for few of them, is
// the least that it is taken to be: readings that lie on one line by chance do not make
// the next one odd. Judgement.
const (
	fewestUsual = 5
	leastUsual  = 0.3
)

// usualOffset is how far readings in use lie off the line, in units of their
// prior noise, and the measure for one of them; false where they are too few.
func (t *traced) usualOffset() (rel func(*observation) float64, scale float64, ok bool) {
	rel = func(o *observation) float64 {
		return math.Abs(o.offsetM) / math.Hypot(o.sigmaM, t.w.floorM)
	}
	z := make([]float64, 0, len(t.w.obs))
	for i := range t.w.obs {
		if o := &t.w.obs[i]; o.fate == Used && !o.exposed {
			z = append(z, rel(o))
		}
	}
	if len(z) < fewestUsual {
		return rel, 0, false
	}
	return rel, math.Max(ranked.NormalSigma*median(z), leastUsual+2/float64(len(z))), true
}

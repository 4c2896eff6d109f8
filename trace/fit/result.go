package fit

import (
	"math"
	"sort"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// bandStations is the number of places along a line at which the band is worked
// out. Judgement: time.
const bandStations = 40

const (
	// cornerHold is of the half-widths of two runs at their corner, taken together, what
	// holds 95 % there. Judgement: two equal errors square to each other want 0.88, for
	// 95 % of the plane lies within 2.448 sigma; where the runs meet at a flatter angle
	// they share more.
	cornerHold = 0.85
	// widenedFrom is how many times the stated accuracy the noise must be for that to be
	// said. Judgement: of less, chance is often the cause.
	widenedFrom = 1.4
	// leastOffM is the least offset from a line worth naming. Judgement.
	leastOffM = 0.02
)

// result turns the fit into vertices with bands and depth. What only the bands
// need gives way to what the depths do.
func (t *traced) result(readings []reading, opt Options, res *Result) {
	st := t.stretches()
	b, rivals := newBander(t.w, t.sh, t.noise), t.rivalBands()
	ends := t.endsAlong(b, st)
	for i := range t.w.obs {
		t.w.obs[i].alongM = b.alongAt(&t.w.obs[i])
	}
	common := b.common()
	ds, sizes := t.layOut(st) // of all parts, stations on the shape's line
	vs := ds.vs
	b.marks = t.marks(readings, vs, waysBetween(sizes, st))
	t.bandsOf(b, rivals, ds, sizes)
	t.sh, t.rivals = &shape{line: t.sh.line}, nil
	if len(vs) == 0 {
		return
	}
	res.Noise = t.noiseWords(common)
	t.w.settle()
	rel, outsideM, moved := t.depths(readings, opt, vs, waysBetween(sizes, st))
	res.Noise.DepthRel, res.Noise.DepthOutsideM = rel, outsideM
	at := branchings(vs, st)
	for i := range vs {
		vs[i].StationM = restation(st, vs[i].StationM)
	}
	vs = branched(vs, sizes, st, at)
	for i := range t.w.places {
		t.w.places[i].stationM = restation(st, t.w.places[i].stationM)
	}
	if moved {
		t.remeasure(vs)
	}
	for i, n := range sizes {
		if n > 0 {
			res.Parts = append(res.Parts, trace.Part{Vertices: vs[:n:n], StartAlong95M: ends[i][0], EndAlong95M: ends[i][1], Joins: st[i].branch.there})
		}
		vs = vs[n:]
	}
}

// endsAlong is how far along the line the start and the end of each stretch may be off:
// as far as the reading that it begins or ends with, or not at all where it meets another.
func (t *traced) endsAlong(b *bander, st []stretch) [][2]float64 {
	out := make([][2]float64, len(st))
	for i := range t.w.obs {
		o := &t.w.obs[i]
		if o.fate != Used {
			continue
		}
		k := sort.Search(len(st), func(k int) bool { return st[k].to >= o.stationM })
		if k == len(st) {
			continue
		}
		if o.stationM == st[k].from {
			out[k][0] = b.alongAt(o)
		}
		if o.stationM == st[k].to {
			out[k][1] = b.alongAt(o)
		}
	}
	for i, x := range st {
		switch {
		case !x.branch.there:
		case x.branch.ends:
			out[i-1][1] = 0
		default:
			out[i][0] = 0
		}
	}
	return out
}

// layOut are the vertices of all parts, and how many each part has; none where a stretch is
// too short for one.
func (t *traced) layOut(st []stretch) (ds drafts, sizes []int) {
	ds.makeRoom(t, st)
	for _, x := range st {
		n := len(ds.vs)
		t.landmarks(x.from, x.to, ds.adder())
		if len(ds.vs)-n < 2 {
			ds.cutTo(n)
		}
		sizes = append(sizes, len(ds.vs)-n)
	}
	return ds, sizes
}

// bandsOf fills in the horizontal half-widths of all parts, and moves them to the job's plane.
func (t *traced) bandsOf(b *bander, rivals []rivalBand, ds drafts, sizes []int) {
	for rest := ds; len(sizes) > 0; sizes = sizes[1:] {
		n := sizes[0]
		if n > 0 {
			t.bands(b, rivals, drafts{rest.vs[:n], rest.run[:n]})
		}
		rest = drafts{rest.vs[n:], rest.run[n:]}
	}
	for i := range ds.vs {
		ds.vs[i].Pos = ds.vs[i].Pos.Add(t.w.origin)
	}
}

// bands fills in the horizontal half-widths of one part: worked out at a few
// places and at corners, in between by proportion.
func (t *traced) bands(b *bander, rivals []rivalBand, ds drafts) {
	vs := ds.vs
	step := math.Max((vs[len(vs)-1].StationM-vs[0].StationM)/bandStations, 1)
	common := b.common()
	last := -1
	for i, v := range vs {
		run := ds.run[i]
		if last >= 0 && i+1 < len(vs) && !v.Corner && run == ds.run[last] && v.StationM-vs[last].StationM < step {
			continue
		}
		h := b.at(int(run), v.Pos)
		if v.Corner && run > 0 {
			h = cornerHold * math.Hypot(h, b.at(int(run)-1, v.Pos))
		}
		h = b.pullHeld(int(run), v.Pos, averaged(h, rivals, v.Pos))
		vs[i].Horizontal95M = h
		for k := last + 1; last >= 0 && k < i; k++ {
			u := (vs[k].StationM - vs[last].StationM) / (v.StationM - vs[last].StationM)
			vs[k].Horizontal95M = vs[last].Horizontal95M + u*(h-vs[last].Horizontal95M)
		}
		last = i
	}
	for i := range vs {
		vs[i].Horizontal95M = math.Hypot(vs[i].Horizontal95M, vs[i].Common95M)
		vs[i].Common95M = math.Min(common, vs[i].Horizontal95M)
	}
}

// noiseWords sums up what was found out about the noise.
func (t *traced) noiseWords(common95M float64) Noise {
	stated := make([]float64, 0, len(t.w.obs))
	for i := range t.w.obs {
		if o := &t.w.obs[i]; o.source == statedSigma && !o.exposed {
			stated = append(stated, o.sigmaM)
		}
	}
	n := Noise{StatedM: median(stated)}
	m := t.noise.mean
	n.FoundM = m.factor * t.w.scaleM
	n.CommonM = common95M / 1.96
	n.Widened = len(stated) > 0 && m.factor > widenedFrom
	n.OtherFixM = t.w.hardlyTheFixM(t.noise)
	return n
}

// verdicts writes down what became of each reading.
func (w *walk) verdicts(readings []reading, res *Result) {
	w.settle()
	res.Verdicts = make([]Verdict, len(readings))
	for i := range res.Verdicts {
		res.Verdicts[i] = Verdict{Fate: OffLine, StationM: math.NaN(), OffsetM: math.NaN(), Why: remark.Unplaced{From: remark.FromNowhere}}
	}
	for i := range w.places {
		o := &w.places[i]
		v := Verdict{Fate: o.fate, StationM: math.NaN(), OffsetM: math.NaN()}
		if len(res.Parts) > 0 {
			v.StationM, v.OffsetM = o.stationM, o.offsetM
		}
		if o.alone && !o.exposed {
			v.Fate, v.Why = OffLine, remark.Unplaced{From: remark.FromAll}
			res.Verdicts[o.index] = v
			continue
		}
		switch o.fate {
		case Blunder:
			v.Why = leapWhy(o.offsetM)
			if run, leapt := w.patched[o.index]; leapt {
				v.Why = run
			}
		case DepthSpike:
			v.Why = remark.DepthSpike{DepthM: readings[o.index].DepthM, AroundM: depthAt(res.Parts, o.stationM)}
		case OffLine:
			v.Why = remark.Unplaced{From: remark.FromLine, OffM: math.Abs(o.offsetM)}
		}
		res.Verdicts[o.index] = v
	}
}

// leapWhy tells how a blunder stands off the line. One along the line
// has no offset worth naming.
func leapWhy(offsetM float64) trace.Remark {
	if math.Abs(offsetM) < leastOffM {
		return remark.Outlier{From: remark.FromOrder}
	}
	return remark.Outlier{From: remark.FromLine, OffM: math.Abs(offsetM)}
}

// depthAt is the fitted depth at a station, NaN in a gap or where unknown.
func depthAt(parts []trace.Part, stationM float64) float64 {
	for _, p := range parts {
		part := p.Vertices
		if stationM < part[0].StationM || stationM > part[len(part)-1].StationM {
			continue
		}
		return vertexAt(part, stationM).DepthM
	}
	return math.NaN()
}

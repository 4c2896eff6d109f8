package fit

import (
	"fmt"
	"math"
	"sort"

	"loamline/geo"
)

// Distances of the vertices, in metres.
const (
	maxVertexM   = 2.5
	bandStations = 40 // places along a line at which the band is worked out
	leastDoubtM  = 0.01
)

// draft is a vertex in the making, at a station of the shape's line.
type draft struct {
	p       geo.XY
	station float64
	run     int32
	corner  bool
	doubtM  float64
}

// result turns the fit into vertices with bands and depth.
func (t *traced) result(readings []Reading, opt Options, res *Result) {
	st := t.stretches()
	var vs []Vertex // of all parts, stations on the shape's line
	var sizes []int
	b, rivals := newBander(t.w, t.sh, t.noise), t.rivalBands()
	for _, x := range st {
		ds := t.drafts(x.from, x.to)
		if len(ds) < 2 {
			continue
		}
		vs = append(vs, t.vertices(b, rivals, ds)...)
		sizes = append(sizes, len(ds))
	}
	if len(vs) == 0 {
		return
	}
	rel, moved := t.depths(readings, opt, vs)
	for i := range vs {
		vs[i].StationM = restation(st, vs[i].StationM)
	}
	for i := range t.w.obs {
		t.w.obs[i].stationM = restation(st, t.w.obs[i].stationM)
	}
	if moved {
		t.remeasure(vs)
	}
	for _, n := range sizes {
		res.Parts = append(res.Parts, vs[:n:n])
		vs = vs[n:]
	}
	for i := 1; i < len(res.Parts); i++ {
		before := res.Parts[i-1]
		res.Gaps = append(res.Gaps, Gap{before[len(before)-1].StationM, res.Parts[i][0].StationM})
	}
	res.Noise = t.noiseWords(rel, b.common())
}

// vertices gives the drafts of one part their bands.
func (t *traced) vertices(b *bander, rivals []rivalBand, ds []draft) []Vertex {
	vs := make([]Vertex, len(ds))
	for i, d := range ds {
		vs[i] = Vertex{Pos: d.p.Add(t.w.origin), StationM: d.station, DepthM: math.NaN(), Depth95M: math.NaN(), Corner: d.corner}
	}
	t.bands(b, rivals, ds, vs)
	return vs
}

// drafts are the vertices of the line between two stations, filled up so that
// none is farther than maxVertexM from the next.
func (t *traced) drafts(from, to float64) []draft {
	line := t.sh.line
	var out []draft
	add := func(d draft) {
		if n := len(out); n > 0 {
			last := out[n-1]
			gap := d.station - last.station
			if gap < 1e-6 {
				out[n-1].corner = last.corner || d.corner
				return
			}
			k := int(math.Ceil(gap/maxVertexM - 1e-9))
			for i := 1; i < k; i++ {
				u := float64(i) / float64(k)
				out = append(out, draft{last.p.Lerp(d.p, u), last.station + u*gap, last.run, false, last.doubtM + u*(d.doubtM-last.doubtM)})
			}
		}
		out = append(out, d)
	}
	n := len(line.Points)
	for i := 0; i < n; i++ {
		s := line.Station(i)
		if i+1 < n && s <= from && line.Station(i+1) > from {
			add(draft{line.At(from), from, t.sh.owner[i], false, t.sh.doubtM[i]})
		}
		if s > from && s < to {
			free, doubt := t.sh.unseen(i)
			if doubt > 0 && s-free > from {
				add(draft{line.At(s - free), s - free, t.sh.owner[i-1], false, t.sh.doubtM[i-1]})
			}
			add(draft{line.Points[i], s, t.sh.owner[i], t.sh.corner[i], math.Hypot(t.sh.doubtM[i], doubt)})
			if doubt > 0 && s+free < to {
				add(draft{line.At(s + free), s + free, t.sh.owner[i], false, t.sh.doubtM[i]})
			}
		}
		if i+1 < n && s < to && line.Station(i+1) >= to {
			add(draft{line.At(to), to, t.sh.owner[i], false, t.sh.doubtM[i]})
		}
	}
	return out
}

// unseen returns the doubt at a sharp elbow that no reading is near, and how far
// along both legs it reaches.
func (sh *shape) unseen(i int) (freeM, doubtM float64) {
	pts := sh.line.Points
	if i == 0 || i+1 >= len(pts) || sh.freeM[i] == 0 {
		return 0, 0
	}
	in, out := pts[i].Sub(pts[i-1]), pts[i+1].Sub(pts[i])
	freeM = math.Min(sh.freeM[i], math.Min(in.Norm(), out.Norm()))
	if doubtM = unseenBendM(turnBetween(in, out), freeM); doubtM < leastDoubtM {
		return 0, 0
	}
	return freeM, doubtM
}

// bands fills in the horizontal half-widths: worked out at a few places and at
// corners, in between by proportion.
func (t *traced) bands(b *bander, rivals []rivalBand, ds []draft, vs []Vertex) {
	step := math.Max((ds[len(ds)-1].station-ds[0].station)/bandStations, 1)
	common := b.common()
	last := -1
	for i, d := range ds {
		if last >= 0 && i+1 < len(ds) && !d.corner && d.run == ds[last].run && d.station-ds[last].station < step {
			continue
		}
		h := b.at(int(d.run), d.p)
		if d.corner && d.run > 0 {
			h = 0.85 * math.Hypot(h, b.at(int(d.run)-1, d.p))
		}
		h = averaged(h, rivals, d.p)
		vs[i].Horizontal95M = h
		for k := last + 1; last >= 0 && k < i; k++ {
			u := (ds[k].station - ds[last].station) / (d.station - ds[last].station)
			vs[k].Horizontal95M = vs[last].Horizontal95M + u*(h-vs[last].Horizontal95M)
		}
		last = i
	}
	for i := range vs {
		vs[i].Horizontal95M = math.Hypot(vs[i].Horizontal95M, ds[i].doubtM)
		vs[i].Common95M = math.Min(common, vs[i].Horizontal95M)
	}
}

// noiseWords sums up what was found out about the noise.
func (t *traced) noiseWords(depthRel, common95M float64) Noise {
	var stated []float64
	for _, o := range t.w.obs {
		if o.source == statedSigma && !o.exposed {
			stated = append(stated, o.sigmaM)
		}
	}
	n := Noise{StatedM: median(stated), DepthRel: depthRel}
	m := t.noise.mean
	n.FoundM = m.factor * t.w.scaleM
	n.CommonM = common95M / 1.96
	n.Widened = len(stated) > 0 && m.factor > 1.4
	return n
}

// verdicts writes down what became of each reading.
func (w *walk) verdicts(readings []Reading, res *Result) {
	res.Verdicts = make([]Verdict, len(readings))
	for i := range res.Verdicts {
		res.Verdicts[i] = Verdict{Fate: Stray, StationM: math.NaN(), OffsetM: math.NaN(), Why: "no usable position"}
	}
	for _, o := range w.obs {
		v := Verdict{Fate: o.fate, StationM: math.NaN(), OffsetM: math.NaN()}
		if len(res.Parts) > 0 {
			v.StationM, v.OffsetM = o.stationM, o.offsetM
		}
		if o.alone && !o.exposed {
			v.Fate, v.Why = Stray, "alone: the readings before and after it are too far away to draw a line to it"
			res.Verdicts[o.index] = v
			continue
		}
		switch o.fate {
		case Blunder:
			v.Why = leapWhy(o.offsetM)
		case DepthSpike:
			v.Why = spikeWhy(readings[o.index].DepthM, depthAt(res.Parts, o.stationM))
		case Stray:
			v.Why = lengthWords(o.offsetM) + " from the line that the others make"
		}
		res.Verdicts[o.index] = v
	}
}

// leapWhy says in words how a blunder stands off the line. One along the line
// has no offset worth naming.
func leapWhy(offsetM float64) string {
	if math.Abs(offsetM) < 0.02 {
		return "out of step along the walk"
	}
	return "leaps " + lengthWords(offsetM) + " off the line that the other readings make"
}

// lengthWords is a length as people say it: centimetres below a metre.
func lengthWords(m float64) string {
	if m = math.Abs(m); m < 0.995 {
		return fmt.Sprintf("%.0f cm", 100*m)
	}
	return fmt.Sprintf("%.1f m", m)
}

// depthAt is the fitted depth at a station, NaN in a gap or where unknown.
func depthAt(parts [][]Vertex, stationM float64) float64 {
	for _, part := range parts {
		if stationM < part[0].StationM || stationM > part[len(part)-1].StationM {
			continue
		}
		i := sort.Search(len(part), func(i int) bool { return part[i].StationM >= stationM })
		if i == 0 {
			return part[0].DepthM
		}
		u := (stationM - part[i-1].StationM) / math.Max(1e-9, part[i].StationM-part[i-1].StationM)
		return part[i-1].DepthM + u*(part[i].DepthM-part[i-1].DepthM)
	}
	return math.NaN()
}

package locate

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/branch"
)

// A line with branches that were walked out and back is no single way: along a branch
// there is less current than before and after it in the order of the walk, and that is
// no sign of another conductor. The detector is given one way at a time: the main
// through its joints, and each branch by itself.

// headingOverM is the length over which a heading at a joint is taken. Judgement.
const headingOverM = 3

// piece is a stretch of the centerline between joints, gaps and ends.
type piece struct{ fromM, toM float64 }

func (p piece) lengthM() float64 { return p.toM - p.fromM }

// link is a piece of a chain, and where along the chain it begins.
type link struct {
	piece
	atM    float64
	bridge bool // what lies between it and the one before is a gap
}

// chain is pieces of the centerline that follow each other along one way.
type chain []link

// chainsOf cuts a centerline at its joints and strings the pieces together, at each
// joint the two that go straightest on.
func chainsOf(c *trace.Centerline) []chain {
	joints, spurs := branch.Joints(c), branch.Spurs(c)
	ps := cut(c, joints, spurs)
	line := c.Polyline()
	next := make([]int, len(ps))
	for i := range ps {
		if next[i] = -1; i+1 < len(ps) && !beginsJoined(c, ps[i+1].fromM) {
			next[i] = i + 1
		}
	}
	for _, j := range joints {
		in := slices.IndexFunc(ps, func(p piece) bool { return p.toM == j.OnM })
		out := slices.IndexFunc(ps, func(p piece) bool { return p.fromM == j.OnM })
		if in < 0 || out < 0 {
			continue
		}
		begins := slices.IndexFunc(ps, func(p piece) bool { return p.fromM == j.EndM })
		ends := slices.IndexFunc(ps, func(p piece) bool { return p.toM == j.EndM })
		straight := onward(line, ps[in], ps[out])
		switch {
		case begins >= 0 && onward(line, ps[in], ps[begins]) > straight:
			next[in] = begins
		case ends >= 0 && onward(line, ps[ends], ps[out]) > straight:
			next[in], next[ends] = -1, out
		}
	}
	for _, x := range spurs {
		in := slices.IndexFunc(ps, func(p piece) bool { return p.toM == x.FromM })
		out := slices.IndexFunc(ps, func(p piece) bool { return p.fromM == x.ToM })
		if in >= 0 && out == in+2 {
			next[in], next[in+1] = out, -1
		}
	}
	return strung(ps, next, line)
}

// cut is the parts of a centerline, cut where others meet them and where spurs leave.
func cut(c *trace.Centerline, joints []branch.Joint, spurs []branch.Spur) []piece {
	var all []float64
	for _, j := range joints {
		all = append(all, j.OnM)
	}
	for _, s := range spurs {
		all = append(all, s.FromM, s.ToM)
	}
	sort.Float64s(all)
	var out []piece
	for _, p := range c.Parts {
		at := slices.DeleteFunc(slices.Clone(all), func(s float64) bool { return s <= p.FromM() || s >= p.ToM() })
		from := p.FromM()
		for _, to := range append(slices.Compact(at), p.ToM()) {
			out = append(out, piece{from, to})
			from = to
		}
	}
	return out
}

// beginsJoined reports whether a part begins at a station that joins what is drawn.
func beginsJoined(c *trace.Centerline, stationM float64) bool {
	return slices.ContainsFunc(c.Parts, func(p trace.Part) bool { return p.Joins && p.FromM() == stationM })
}

// onward is the cosine of the turn from one piece into another.
func onward(line geo.Polyline, a, b piece) float64 {
	in := line.At(a.toM).Sub(line.At(math.Max(a.fromM, a.toM-headingOverM)))
	out := line.At(math.Min(b.toM, b.fromM+headingOverM)).Sub(line.At(b.fromM))
	return in.Dot(out) / math.Max(in.Norm()*out.Norm(), 1e-9)
}

// strung strings pieces together by which goes on with which.
func strung(ps []piece, next []int, line geo.Polyline) []chain {
	var out []chain
	for i := range ps {
		if slices.Contains(next, i) {
			continue
		}
		c := chain{{piece: ps[i]}}
		for k := i; next[k] >= 0; k = next[k] {
			before, p := c[len(c)-1], ps[next[k]]
			c = append(c, link{piece: p, atM: before.atM + before.lengthM() + line.At(before.toM).Dist(line.At(p.fromM)),
				bridge: next[k] == k+1 && p.fromM > before.toM})
		}
		out = append(out, c)
	}
	return out
}

// mainOf is the longest of some chains.
func mainOf(all []chain) chain {
	return slices.MaxFunc(all, func(a, b chain) int { return cmp.Compare(a.lengthM(), b.lengthM()) })
}

func (c chain) lengthM() float64 { last := c[len(c)-1]; return last.atM + last.lengthM() }

// has reports whether a station of the centerline lies on the chain.
func (c chain) has(stationM float64) bool {
	return slices.ContainsFunc(c, func(l link) bool { return l.fromM <= stationM && stationM <= l.toM })
}

// tees are where on the chain others leave it.
func (c chain) tees() []float64 {
	var out []float64
	for i := 1; i < len(c); i++ {
		if !c[i].bridge {
			out = append(out, c[i].atM)
		}
	}
	return out
}

// vertices are those of the centerline along the chain.
func (c chain) vertices(of *trace.Centerline) []trace.Vertex {
	var out []trace.Vertex
	for _, l := range c {
		for _, p := range of.Parts {
			if l.fromM < p.FromM() || l.toM > p.ToM() {
				continue
			}
			vs := p.WithVertices(1e-9, l.fromM, l.toM)
			for _, v := range vs {
				if v.StationM >= l.fromM && v.StationM <= l.toM {
					out = append(out, v)
				}
			}
		}
	}
	return out
}

// chainLink is a link of one of some chains.
type chainLink struct {
	link
	chain int
}

// chainLinks are the links of some chains by where they begin on the centerline.
type chainLinks []chainLink

func linksOf(all []chain) (out chainLinks) {
	for k, c := range all {
		for _, l := range c {
			out = append(out, chainLink{l, k})
		}
	}
	slices.SortStableFunc(out, func(a, b chainLink) int { return cmp.Compare(a.fromM, b.fromM) })
	return out
}

// along is the chain that a station of the centerline lies on, and the station there.
func (ls chainLinks) along(stationM float64) (chain int, atM float64, ok bool) {
	i := sort.Search(len(ls), func(i int) bool { return !(ls[i].fromM <= stationM) }) - 1
	if i < 0 {
		return 0, 0, false
	}
	return ls[i].chain, ls[i].atM + stationM - ls[i].fromM, true
}

// back is the stretches of the centerline that a stretch of the chain stands for.
func (c chain) back(fromM, toM float64) []piece {
	var out []piece
	for _, l := range c {
		p := piece{l.fromM + math.Max(fromM-l.atM, 0), l.fromM + math.Min(toM-l.atM, l.lengthM())}
		if p.toM < p.fromM {
			continue
		}
		if n := len(out); n > 0 && (l.bridge || out[n-1].toM == p.fromM) {
			out[n-1].toM = p.toM
			continue
		}
		out = append(out, p)
	}
	if n := len(out); n > 1 { // what only touches a joint is no stretch beyond it
		out = slices.DeleteFunc(out, func(p piece) bool { return p.lengthM() < shortestStretchM })
	}
	return out
}

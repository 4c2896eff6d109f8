package records

import (
	"math"
	"sort"

	"github.com/tidwall/rtree"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// NearM is how close two lines must come to be reported where they do not
// cross: inside this, one line lies in the other's tolerance zone. Judgement.
const NearM = 1.0

// Crossings finds where lines of a job cross, and, for pairs that do not cross,
// the place where they come closest if that is within NearM. Each is told once,
// under the line that comes first.
func Crossings(lines []trace.Line) map[int][]finding.Crossing {
	var tree rtree.RTreeGN[float64, int32]
	type segment struct {
		line int
		a, b *trace.Vertex
	}
	var segs []segment
	for i, l := range lines {
		if l.Centerline == nil {
			continue
		}
		for _, p := range l.Centerline.Parts {
			for k := 1; k < len(p.Vertices); k++ {
				a, b := &p.Vertices[k-1], &p.Vertices[k]
				lo := [2]float64{math.Min(a.Pos.X, b.Pos.X), math.Min(a.Pos.Y, b.Pos.Y)}
				hi := [2]float64{math.Max(a.Pos.X, b.Pos.X), math.Max(a.Pos.Y, b.Pos.Y)}
				tree.Insert(lo, hi, int32(len(segs)))
				segs = append(segs, segment{line: i, a: a, b: b})
			}
		}
	}
	type pair struct{ i, j int }
	crossed := map[pair][]finding.Crossing{}
	closest := map[pair]finding.Crossing{}
	for _, s := range segs {
		lo := [2]float64{math.Min(s.a.Pos.X, s.b.Pos.X) - NearM, math.Min(s.a.Pos.Y, s.b.Pos.Y) - NearM}
		hi := [2]float64{math.Max(s.a.Pos.X, s.b.Pos.X) + NearM, math.Max(s.a.Pos.Y, s.b.Pos.Y) + NearM}
		tree.Search(lo, hi, func(_, _ [2]float64, o int32) bool {
			t := segs[o]
			if t.line <= s.line {
				return true
			}
			d, fs, ft := segmentDistance(s.a.Pos, s.b.Pos, t.a.Pos, t.b.Pos)
			if d > NearM {
				return true
			}
			c := finding.Crossing{Line: lines[s.line].Setup.Name, Other: lines[t.line].Setup.Name,
				At: s.a.Pos.Lerp(s.b.Pos, fs), StationM: s.a.StationM + fs*(s.b.StationM-s.a.StationM),
				OtherStationM: t.a.StationM + ft*(t.b.StationM-t.a.StationM), SeparationM: d,
				DepthDifferenceM: (t.a.DepthM + ft*(t.b.DepthM-t.a.DepthM)) - (s.a.DepthM + fs*(s.b.DepthM-s.a.DepthM))}
			key := pair{s.line, t.line}
			if d == 0 {
				crossed[key] = append(crossed[key], c)
			} else if best, ok := closest[key]; !ok || d < best.SeparationM {
				closest[key] = c
			}
			return true
		})
	}
	out := map[int][]finding.Crossing{}
	for key, cs := range crossed {
		out[key.i] = append(out[key.i], meetings(lines[key.i].Centerline, lines[key.j].Centerline, cs)...)
	}
	for key, c := range closest {
		if len(crossed[key]) == 0 {
			out[key.i] = append(out[key.i], c)
		}
	}
	for _, cs := range out {
		sort.SliceStable(cs, func(a, b int) bool {
			if cs[a].StationM != cs[b].StationM {
				return cs[a].StationM < cs[b].StationM
			}
			return cs[a].Other < cs[b].Other
		})
	}
	return out
}

// segmentDistance returns the least distance between two segments and how far
// along each it falls (0 to 1); 0 where they cross.
func segmentDistance(a, b, c, d geo.XY) (distM, fab, fcd float64) {
	ab, cd, ac := b.Sub(a), d.Sub(c), c.Sub(a)
	if den := ab.Cross(cd); den != 0 {
		s, t := ac.Cross(cd)/den, ac.Cross(ab)/den
		if s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			return 0, s, t
		}
	}
	distM = math.Inf(1)
	try := func(p geo.XY, from, to geo.XY, own float64, firstLine bool) {
		f := geo.FootShare(from, to, p)
		if dist := p.Dist(from.Lerp(to, f)); dist < distM {
			distM = dist
			if firstLine {
				fab, fcd = own, f
			} else {
				fab, fcd = f, own
			}
		}
	}
	try(a, c, d, 0, true)
	try(b, c, d, 1, true)
	try(c, a, b, 0, false)
	try(d, a, b, 1, false)
	return distM, fab, fcd
}

package words

import (
	"math"
	"slices"

	"loamline/geo"
	"loamline/trace"
)

// ZoneStretch is a stretch of a line with how far its caution zone reaches from the
// mark at most, on each side of it in the direction of travel.
type ZoneStretch struct {
	FromM, ToM    float64
	LeftM, RightM float64
	Doubt         *Doubt // the gravest on it, or nil
}

// Limits of the table of widths: what is alike within alikeM is one stretch (no tape
// over rough ground tells more; common practice, no source), and a stretch begins and
// ends shoulderM beyond what was found, where the zone has fallen back to its width.
const (
	alikeM    = 0.05
	shoulderM = 1.0
)

// ZoneStretches parts a line where its caution zone changes its width: within how
// far nobody digs by machine.
func ZoneStretches(l *trace.Line) []ZoneStretch {
	if l.Centerline == nil || len(l.Reach) == 0 {
		return nil
	}
	var out []ZoneStretch
	for _, p := range l.Centerline.Parts {
		cuts := []float64{p.FromM(), p.ToM()}
		for _, f := range l.Findings {
			d := doubts.Of(f)
			from, to := f.Span()
			if d.rank == 0 || !trace.Known(from) || f.Role() == (trace.Gap{}).Role() {
				continue
			}
			for _, s := range []float64{from - shoulderM, to + shoulderM} {
				if s > p.FromM() && s < p.ToM() {
					cuts = append(cuts, s)
				}
			}
		}
		slices.Sort(cuts)
		first := len(out)
		for i := 1; i < len(cuts); i++ {
			if cuts[i]-cuts[i-1] < 1e-6 {
				continue
			}
			z := ZoneStretch{FromM: cuts[i-1], ToM: cuts[i], Doubt: DoubtAt(l, (cuts[i-1]+cuts[i])/2)}
			for k, r := range l.Reach {
				touches := r.StationM >= z.FromM-1e-6 && r.StationM <= z.ToM+1e-6
				// A stretch between two places has the wider of both.
				touches = touches || k+1 < len(l.Reach) && r.StationM < z.FromM && l.Reach[k+1].StationM > z.ToM
				touches = touches || k > 0 && r.StationM > z.ToM && l.Reach[k-1].StationM < z.FromM
				if touches {
					z.LeftM, z.RightM = math.Max(z.LeftM, r.LeftM), math.Max(z.RightM, r.RightM)
				}
			}
			if n := len(out); n > first && sameZone(out[n-1], z) {
				last := &out[n-1]
				last.ToM, last.LeftM, last.RightM = z.ToM, math.Max(last.LeftM, z.LeftM), math.Max(last.RightM, z.RightM)
				if rankOf(z.Doubt) > rankOf(last.Doubt) {
					last.Doubt = z.Doubt
				}
				continue
			}
			out = append(out, z)
		}
	}
	return out
}

func sameZone(a, b ZoneStretch) bool {
	return math.Abs(a.LeftM-b.LeftM) < alikeM && math.Abs(a.RightM-b.RightM) < alikeM
}

func rankOf(d *Doubt) int {
	if d == nil {
		return 0
	}
	return d.rank
}

// Close is a stretch on which the caution zones of two traced lines touch: no machine
// has room between them.
type Close struct {
	Line, Other string
	FromM, ToM  float64 // on Line
	LeastM      float64 // between the two marks
	AtM         float64 // where that is, on Line
}

// closeSpareM is how far beside each other two zones may end and still leave no room
// for a bucket (common practice, no source).
const closeSpareM = 0.3

// CloseLines finds where traced lines run so close that their zones touch. Each pair
// is told once, under the line that comes first.
func CloseLines(s *trace.Sheet) []Close {
	var out []Close
	for i := range s.Lines {
		for k := i + 1; k < len(s.Lines); k++ {
			for _, c := range closeStretches(&s.Lines[i], &s.Lines[k]) {
				if !aboutCrossing(&s.Lines[i], c) {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// crossedOverM is how long a stretch may be and be told by the crossing on it alone.
const crossedOverM = 30.0

// aboutCrossing reports whether two lines are close only because they cross there,
// which is told as a crossing.
func aboutCrossing(l *trace.Line, c Close) bool {
	return c.ToM-c.FromM < crossedOverM && slices.ContainsFunc(l.Findings, func(f trace.Finding) bool {
		x, ok := f.(trace.Crossing)
		return ok && x.Other == c.Other && x.SeparationM == 0 && x.StationM >= c.FromM-crossedOverM && x.StationM <= c.ToM+crossedOverM
	})
}

func closeStretches(a, b *trace.Line) []Close {
	if a.Centerline == nil || b.Centerline == nil || len(a.Reach) == 0 || len(b.Reach) == 0 || !boxesTouch(a, b) {
		return nil
	}
	path := b.Centerline.Polyline()
	index := path.Index()
	var out []Close
	open := false
	reachA, reachB := newWidths(a), newWidths(b)
	for _, p := range a.Centerline.Parts {
		open = false
		for _, v := range p.Vertices {
			f := index.Nearest(v.Pos)
			d := math.Abs(f.OffsetM)
			if d > reachA.at(v.StationM)+reachB.at(f.StationM)+closeSpareM {
				open = false
				continue
			}
			if !open {
				out = append(out, Close{Line: a.Setup.Name, Other: b.Setup.Name, FromM: v.StationM, ToM: v.StationM, LeastM: d, AtM: v.StationM})
				open = true
			}
			c := &out[len(out)-1]
			c.ToM = v.StationM
			if d < c.LeastM {
				c.LeastM, c.AtM = d, v.StationM
			}
		}
	}
	return out
}

// widths looks up how far a zone reaches to its wider side.
type widths struct {
	reach []trace.ZoneReach
	most  float64
}

func newWidths(l *trace.Line) widths {
	w := widths{reach: l.Reach}
	for _, r := range l.Reach {
		w.most = max(w.most, r.LeftM, r.RightM)
	}
	return w
}

func (w widths) at(stationM float64) float64 {
	i, _ := slices.BinarySearchFunc(w.reach, stationM, func(r trace.ZoneReach, s float64) int {
		switch {
		case r.StationM < s:
			return -1
		case r.StationM > s:
			return 1
		}
		return 0
	})
	out := 0.0
	for _, k := range []int{i - 1, i} {
		if k >= 0 && k < len(w.reach) {
			out = max(out, w.reach[k].LeftM, w.reach[k].RightM)
		}
	}
	return out
}

// boxesTouch spares the search for lines that are far apart.
func boxesTouch(a, b *trace.Line) bool {
	box := func(l *trace.Line) (lo, hi geo.XY) {
		lo, hi = geo.XY{X: math.Inf(1), Y: math.Inf(1)}, geo.XY{X: math.Inf(-1), Y: math.Inf(-1)}
		far := newWidths(l).most + closeSpareM
		for _, p := range l.Centerline.Parts {
			for _, v := range p.Vertices {
				lo = geo.XY{X: math.Min(lo.X, v.Pos.X-far), Y: math.Min(lo.Y, v.Pos.Y-far)}
				hi = geo.XY{X: math.Max(hi.X, v.Pos.X+far), Y: math.Max(hi.Y, v.Pos.Y+far)}
			}
		}
		return lo, hi
	}
	alo, ahi := box(a)
	blo, bhi := box(b)
	return alo.X <= bhi.X && blo.X <= ahi.X && alo.Y <= bhi.Y && blo.Y <= ahi.Y
}

// CloseWords tells of two lines that run close.
func CloseWords(u geo.Units, c Close) string {
	return c.Line + ", " + u.Long(c.FromM) + " to " + u.Long(c.ToM) + ": " + c.Other + " runs close, " + u.Short(c.LeastM) + " from mark to mark at " +
		u.Long(c.AtM) + "; their zones touch: no machine between them."
}

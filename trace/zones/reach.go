package zones

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
)

// ReachAlong tells how far the caution zone reaches on both sides all along the
// drawn line, courses beside it included: words say what is drawn, and no more of
// one side than of the other.
func ReachAlong(c *trace.Centerline, findings []trace.Finding, half float64) []trace.ZoneReach {
	var beside []besideStrip
	for _, f := range findings {
		beside = append(beside, stripsOf(c, f, half)...)
	}
	var out []trace.ZoneReach
	for _, p := range c.Parts {
		stations, path, left, right := drawnAlong(p, findings, beside, half)
		left, right = rounded(path, left), rounded(path, right)
		course := geo.NewPolyline(path)
		for i, s := range stations {
			r := trace.ZoneReach{StationM: s, LeftM: left[i], RightM: right[i]}
			for _, strip := range beside {
				strip.widen(&r, path[i], course.Direction(course.Station(i)))
			}
			out = append(out, r)
		}
	}
	return out
}

// Beside a place where a zone narrows its figures are asked for this close together: the
// zone is round there, and a straight line between figures farther apart cuts it short by
// more than a tape shows (judgement).
const taperStepM = 0.25

// steepTaper is from what change of a half-width per metre of path on the drawn zone is
// wider than the half-width asked for by more than a tape shows (judgement).
const steepTaper = 0.2

// drawnAlong are the half-widths of a part's caution zone as it is drawn.
func drawnAlong(p trace.Part, findings []trace.Finding, beside []besideStrip, half float64) ([]float64, []geo.XY, []float64, []float64) {
	stations, path, left, right := cautionWidths(p, findings, half)
	return asDrawn(func(fromM, toM float64) bool {
		return slices.ContainsFunc(beside, func(b besideStrip) bool { return toM > b.fromM-b.mostM && fromM < b.toM+b.mostM })
	}, stations, path, left, right)
}

// asDrawn are half-widths as a zone is drawn with them (geo.BufferVariable): none changes
// faster than discs along the path can. Places are added wherever one changes fast, as far as
// the zone is round there, and where they are asked for closely.
func asDrawn(closely func(fromM, toM float64) bool, stations []float64, path []geo.XY, left, right []float64) ([]float64, []geo.XY, []float64, []float64) {
	left, right = geo.LimitTaper(path, left), geo.LimitTaper(path, right)
	n := len(stations)
	within := make([]bool, max(0, n-1)) // whether places are added behind each
	for i := 0; i+1 < n; i++ {
		d := stations[i+1] - stations[i]
		if closely(stations[i], stations[i+1]) {
			within[i] = true
		}
		if d <= 0 || math.Max(math.Abs(left[i+1]-left[i]), math.Abs(right[i+1]-right[i])) < steepTaper*d {
			continue
		}
		far := max(left[i], left[i+1], right[i], right[i+1])
		for k := i; k >= 0 && stations[k+1] > stations[i]-far; k-- {
			within[k] = true
		}
		for k := i; k+1 < n && stations[k] < stations[i+1]+far; k++ {
			within[k] = true
		}
	}
	var at, wl, wr []float64
	var ps []geo.XY
	for i := range n {
		at, ps, wl, wr = append(at, stations[i]), append(ps, path[i]), append(wl, left[i]), append(wr, right[i])
		if i+1 == n || !within[i] {
			continue
		}
		parts := math.Ceil((stations[i+1] - stations[i]) / taperStepM)
		for k := 1.0; k < parts; k++ {
			f := k / parts
			at, ps = append(at, stations[i]+f*(stations[i+1]-stations[i])), append(ps, path[i].Lerp(path[i+1], f))
			wl, wr = append(wl, left[i]+f*(left[i+1]-left[i])), append(wr, right[i]+f*(right[i+1]-right[i]))
		}
	}
	return at, ps, wl, wr
}

// rounded is how far a zone reaches square to its path at each place, which is drawn by
// discs of the half-widths: beside a wide place it is wider than asked for.
func rounded(path []geo.XY, w []float64) []float64 {
	out := slices.Clone(w)
	if len(w) == 0 {
		return out
	}
	least := slices.Min(w)
	for i, r := range w {
		for _, step := range []int{-1, 1} {
			for k := i + step; k >= 0 && k < len(w); k += step {
				d := path[k].Dist(path[i])
				if d*d >= r*r-least*least { // farther on every place is as wide by itself
					break
				}
				out[k] = math.Max(out[k], math.Sqrt(r*r-d*d))
			}
		}
	}
	return out
}

// besideStrip is a course beside the line with the half-width of its zone, as it is drawn.
type besideStrip struct {
	fromM, toM float64 // where along the line it matters: what was found, and its own ends
	path       geo.Polyline
	index      *geo.PolylineIndex
	widthM     []float64
	mostM      float64 // the greatest of them
}

func stripsOf(c *trace.Centerline, f trace.Finding, half float64) []besideStrip {
	from, to := f.Span()
	if !trace.Known(from) || !trace.Known(to) || len(f.Beside()) == 0 {
		return nil
	}
	var out []besideStrip
	line, widths := c.Polyline(), newStripWidths(c, half)
	for _, s := range f.Beside() {
		if len(s.Path) < 2 {
			continue
		}
		course := geo.NewPolyline(s.Path)
		stations := make([]float64, len(s.Path))
		for i := range stations {
			stations[i] = course.Station(i)
		}
		w := widths.of(f, s)
		_, places, width, _ := asDrawn(func(_, _ float64) bool { return true }, stations, s.Path, w, w)
		path := geo.NewPolyline(places)
		first, last := line.Nearest(places[0]).StationM, line.Nearest(places[len(places)-1]).StationM
		out = append(out, besideStrip{min(from, first, last), max(to, first, last), path, path.Index(), width, slices.Max(width)})
	}
	return out
}

// widen lets the reach at a place of the line hold the strip beside it, which is drawn by
// discs, with its round ends.
func (b besideStrip) widen(r *trace.ZoneReach, at, along geo.XY) {
	beyond := math.Max(trace.ZoneShoulderM, b.mostM)
	if r.StationM < b.fromM-beyond || r.StationM > b.toM+beyond {
		return
	}
	foot := b.index.Nearest(at)
	hold := func(center geo.XY, width float64) {
		to := center.Sub(at)
		if ahead := along.Dot(to); math.Abs(ahead) < width {
			offM, square := -along.Cross(to), math.Sqrt(width*width-ahead*ahead)
			r.LeftM, r.RightM = math.Max(r.LeftM, square-offM), math.Max(r.RightM, square+offM)
		}
	}
	hold(foot.At, lerpAt(b.path, b.widthM, foot.StationM))
	for _, step := range []int{-1, 1} {
		k := foot.Segment
		if step > 0 {
			k++
		}
		for ; k >= 0 && k < len(b.widthM) && math.Abs(b.path.Station(k)-foot.StationM) < 2*b.mostM; k += step {
			hold(b.path.Points[k], b.widthM[k])
		}
	}
}

// Reach is how far the caution zone reaches over a stretch: from where to where on
// each side.
type Reach struct {
	Left, Right [2]float64
	Known       bool
}

func (r *Reach) hold(z trace.ZoneReach) {
	if !r.Known {
		r.Left, r.Right, r.Known = [2]float64{z.LeftM, z.LeftM}, [2]float64{z.RightM, z.RightM}, true
		return
	}
	r.Left = [2]float64{min(r.Left[0], z.LeftM), max(r.Left[1], z.LeftM)}
	r.Right = [2]float64{min(r.Right[0], z.RightM), max(r.Right[1], z.RightM)}
}

// With holds the reach of another stretch too.
func (r Reach) With(o Reach) Reach {
	if o.Known {
		r.hold(trace.ZoneReach{LeftM: o.Left[0], RightM: o.Right[0]})
		r.hold(trace.ZoneReach{LeftM: o.Left[1], RightM: o.Right[1]})
	}
	return r
}

// ReachOver is the reach on a stretch of a line, but for what leave says to leave
// out. Between two places of the line it is taken as it is at both.
func ReachOver(zs []trace.ZoneReach, fromM, toM float64, leave func(stationM float64) bool) Reach {
	var out Reach
	for i, z := range zs {
		if z.StationM >= fromM && z.StationM <= toM {
			if !leave(z.StationM) {
				out.hold(z)
			}
			continue
		}
		// The stretch may begin or end between two places, or lie between them.
		if i+1 < len(zs) && z.StationM < fromM && zs[i+1].StationM > fromM {
			out.holdBetween(z, zs[i+1], fromM, leave)
		}
		if i > 0 && z.StationM > toM && zs[i-1].StationM < toM {
			out.holdBetween(zs[i-1], z, toM, leave)
		}
	}
	return out
}

func (r *Reach) holdBetween(a, b trace.ZoneReach, stationM float64, leave func(float64) bool) {
	if leave(stationM) {
		return
	}
	f := (stationM - a.StationM) / (b.StationM - a.StationM)
	r.hold(trace.ZoneReach{StationM: stationM, LeftM: a.LeftM + f*(b.LeftM-a.LeftM), RightM: a.RightM + f*(b.RightM-a.RightM)})
}

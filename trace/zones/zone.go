package zones

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"sync"

	"github.com/paulmach/orb"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/receiver"
)

// HalfWidth returns the tolerance zone's half-width from the centerline, and
// whether the diameter in it is assumed.
func HalfWidth(rule trace.Tolerance, setup trace.LineSetup) (halfM float64, assumed bool) {
	if rule.MeasuredFrom == trace.FromCenterline {
		return rule.HalfWidthM, false
	}
	if trace.Known(setup.DiameterM) && setup.DiameterM > 0 {
		return rule.HalfWidthM + setup.DiameterM/2, false
	}
	return rule.HalfWidthM + receiver.UsualDiameterM/2, true
}

// Draw draws the tolerance zone, a strip of constant width, and the
// caution zone about it: wider, place by place, by the 95 % horizontal band
// and, on the side where the true line may lie, by the displacement that
// bleed-over may have caused. Where the trace may have followed another line, it
// holds both: the line drawn and the line's own course carried on.
func Draw(c *trace.Centerline, findings []trace.Finding, rule trace.Tolerance, setup trace.LineSetup) (tolerance, caution trace.Zone, err error) {
	half, assumed := HalfWidth(rule, setup)
	tolerance = trace.Zone{HalfWidthM: half, MeasuredFrom: rule.MeasuredFrom, Rule: rule.Rule}
	if assumed {
		tolerance.AssumedDiameterM = receiver.UsualDiameterM
	}
	caution = tolerance
	caution.Confidence = 0.95 // derived: as the bands are
	for _, p := range c.Parts {
		area, err := geo.Buffer(p.Path(), half)
		if err != nil {
			return tolerance, caution, fmt.Errorf("tolerance zone of line %s: %w", setup.Name, err)
		}
		tolerance.Area = append(tolerance.Area, area...)
		_, path, left, right := cautionWidths(p, findings, half)
		path, left, right = pastEnds(p, path, left, right)
		area, err = geo.BufferVariable(path, left, right)
		if err != nil {
			return tolerance, caution, fmt.Errorf("caution zone of line %s: %w", setup.Name, err)
		}
		caution.Area = append(caution.Area, area...)
	}
	strips, err := ownCourses(c, findings, half)
	if err != nil {
		return tolerance, caution, fmt.Errorf("caution zone of line %s: %w", setup.Name, err)
	}
	caution.Area = append(caution.Area, strips...)
	if len(c.Parts) > 1 || len(strips) > 0 {
		if tolerance.Area, err = geo.Union(tolerance.Area); err != nil {
			return tolerance, caution, fmt.Errorf("tolerance zone of line %s: %w", setup.Name, err)
		}
		if caution.Area, err = geo.Union(caution.Area); err != nil {
			return tolerance, caution, fmt.Errorf("caution zone of line %s: %w", setup.Name, err)
		}
	}
	return tolerance, caution, nil
}

// ownCourses is the caution zone about the courses that the line itself may
// take where the trace may have followed another line.
func ownCourses(c *trace.Centerline, findings []trace.Finding, half float64) (out orb.MultiPolygon, err error) {
	widths := sync.OnceValue(func() stripWidths { return newStripWidths(c, half) })
	for _, f := range findings {
		for _, s := range f.Beside() {
			w := widths().of(f, s)
			area, err := geo.BufferVariable(s.Path, w, w)
			if err != nil {
				return nil, err
			}
			out = append(out, area...)
		}
	}
	return out, nil
}

// stripWidths are half-widths of the zone about courses beside a line.
type stripWidths struct {
	half     float64
	line     *geo.PolylineIndex
	vertices []trace.Vertex // of all parts, those whose band is known
}

func newStripWidths(c *trace.Centerline, half float64) stripWidths {
	w := stripWidths{half: half, line: c.Polyline().Index()}
	for _, p := range c.Parts {
		for _, v := range p.Vertices {
			if trace.Known(v.Horizontal95M) {
				w.vertices = append(w.vertices, v)
			}
		}
	}
	return w
}

// of is the half-width at each place of a course. One that bleed-over leaves open sets out
// from the trace and errs with it: by its own error, and by the band of the drawn line
// abreast of it, as the bands of a suspected stretch do.
func (w stripWidths) of(f trace.Finding, s trace.CourseStrip) []float64 {
	_, bleed := f.(finding.BleedOver)
	out := make([]float64, len(s.Path))
	for i, h := range s.Half95M {
		out[i] = w.half + h
		if bleed {
			out[i] += w.bandAt(w.line.Nearest(s.Path[i]).StationM)
		}
	}
	return out
}

// bandAt is the 95 % horizontal band at the vertex nearest to a station; 0 where none is
// known.
func (w stripWidths) bandAt(stationM float64) float64 {
	i := sort.Search(len(w.vertices), func(i int) bool { return w.vertices[i].StationM >= stationM })
	best, band := math.Inf(1), 0.0
	for _, k := range []int{i - 1, i} {
		if k < 0 || k >= len(w.vertices) {
			continue
		}
		if d := math.Abs(w.vertices[k].StationM - stationM); d < best {
			best, band = d, w.vertices[k].Horizontal95M
		}
	}
	return band
}

// cautionWidths returns the part's path, by stations, with the half-widths of the
// caution zone on both sides. Vertices are added where a suspected stretch begins and
// ends.
func cautionWidths(p trace.Part, findings []trace.Finding, half float64) (stations []float64, path []geo.XY, left, right []float64) {
	vs := p.Vertices
	stations = make([]float64, 0, len(vs))
	for _, v := range vs {
		stations = append(stations, v.StationM)
	}
	var bleeds []finding.BleedOver
	for _, f := range findings {
		b, ok := f.(finding.BleedOver)
		if !ok || len(b.OwnCourse) > 0 || b.WidenLeftM <= 0 && b.WidenRightM <= 0 || b.ToM < p.FromM() || b.FromM > p.ToM() {
			continue
		}
		bleeds = append(bleeds, b)
		for _, s := range []float64{b.FromM - trace.ZoneShoulderM, b.FromM, b.ToM, b.ToM + trace.ZoneShoulderM} {
			if s > p.FromM() && s < p.ToM() {
				stations = append(stations, s)
			}
		}
	}
	sort.Float64s(stations)
	k := 0
	for _, s := range stations {
		for k < len(vs)-2 && vs[k+1].StationM < s {
			k++
		}
		a, b := vs[k], vs[min(k+1, len(vs)-1)]
		f := 0.0
		if b.StationM > a.StationM {
			f = (s - a.StationM) / (b.StationM - a.StationM)
		}
		band := lerpKnown(a.Horizontal95M, b.Horizontal95M, f)
		wl, wr := 0.0, 0.0
		for _, bl := range bleeds {
			t := shoulder(s, bl.FromM, bl.ToM)
			toLeft, toRight := bl.ReachM(band)
			wl, wr = math.Max(wl, t*toLeft), math.Max(wr, t*toRight)
		}
		path = append(path, a.Pos.Lerp(b.Pos, f))
		left, right = append(left, half+band+wl), append(right, half+band+wr)
	}
	return stations, path, left, right
}

// pastEnds carries a zone on along the line as far as the part's ends may be off, where
// that is more than the band across, which the zone's round end holds already.
func pastEnds(p trace.Part, path []geo.XY, left, right []float64) ([]geo.XY, []float64, []float64) {
	n, last := len(path), len(p.Vertices)-1
	if at, ok := past(p.StartAlong95M, p.Vertices[0], path[1], path[0]); ok {
		path, left, right = slices.Insert(path, 0, at), slices.Insert(left, 0, left[0]), slices.Insert(right, 0, right[0])
		n++
	}
	if at, ok := past(p.EndAlong95M, p.Vertices[last], path[n-2], path[n-1]); ok {
		path, left, right = append(path, at), append(left, left[n-1]), append(right, right[n-1])
	}
	return path, left, right
}

// past is the place straight on past an end, of which v is the vertex; false where the band
// there holds it.
func past(along95M float64, v trace.Vertex, before, end geo.XY) (geo.XY, bool) {
	pastM, d := along95M, before.Dist(end)
	if trace.Known(v.Horizontal95M) {
		pastM -= v.Horizontal95M
	}
	if pastM <= leastPastM || d == 0 {
		return geo.XY{}, false
	}
	return before.Lerp(end, 1+pastM/d), true
}

// leastPastM is the least by which a zone is carried on. Judgement: what a tape shows.
const leastPastM = 0.01

// shoulder is 1 on [from, to] and falls to 0 over trace.ZoneShoulderM on both sides.
func shoulder(s, from, to float64) float64 {
	return math.Max(0, math.Min(1, 1-math.Max(from-s, s-to)/trace.ZoneShoulderM))
}

func lerpKnown(a, b, f float64) float64 {
	switch {
	case !trace.Known(a) && !trace.Known(b):
		return 0
	case !trace.Known(a):
		return b
	case !trace.Known(b):
		return a
	}
	return a + f*(b-a)
}

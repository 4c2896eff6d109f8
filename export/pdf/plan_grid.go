package pdf

import (
	"math"
	"strconv"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/geo"
)

// graticule is the net of meridians and parallels that a window shows. Over the
// ground of one sheet they are straight to far less than a line's width.
type graticule struct {
	stepDeg  float64
	digits   int
	lons     []float64
	lats     []float64
	min, max geo.LonLat
}

// gridMinMM is the least distance between coordinate ticks on paper.
const gridMinMM = 38

func (p *planView) graticule() graticule {
	min := geo.LonLat{LonDeg: math.Inf(1), LatDeg: math.Inf(1)}
	max := geo.LonLat{LonDeg: math.Inf(-1), LatDeg: math.Inf(-1)}
	for _, q := range p.Corners() {
		ll := p.s.Plane.LonLat(q)
		min = geo.LonLat{LonDeg: math.Min(min.LonDeg, ll.LonDeg), LatDeg: math.Min(min.LatDeg, ll.LatDeg)}
		max = geo.LonLat{LonDeg: math.Max(max.LonDeg, ll.LonDeg), LatDeg: math.Max(max.LatDeg, ll.LatDeg)}
	}
	if !min.Valid() || !max.Valid() || max.LonDeg-min.LonDeg > 30 {
		return graticule{}
	}
	// A degree of longitude is the shorter one on the ground.
	mPerDeg := 111320 * math.Max(0.05, math.Cos((min.LatDeg+max.LatDeg)/2*math.Pi/180))
	step := plan.RoundStep(gridMinMM / p.Scale.MMPerM() / mPerDeg)
	digits := int(math.Max(0, -math.Floor(math.Log10(step)+1e-9)))
	return graticule{step, digits, plan.Ticks(min.LonDeg, max.LonDeg, step), plan.Ticks(min.LatDeg, max.LatDeg, step), min, max}
}

// gridCrosses marks where meridians and parallels meet.
func (p *planView) gridCrosses() {
	g := p.graticule()
	if len(g.lons)*len(g.lats) > 2000 {
		return
	}
	for _, lon := range g.lons {
		for _, lat := range g.lats {
			at := p.ll(lon, lat)
			if p.inside(at, 1) {
				p.gridCross(at, p.ll(lon+g.stepDeg, lat).Sub(at).Unit())
				p.used[signGrid] = true
			}
		}
	}
}

func (p *planView) ll(lon, lat float64) plan.Pt {
	return p.Paper(p.s.Plane.XY(geo.LonLat{LonDeg: lon, LatDeg: lat}))
}

func (d *drafter) gridCross(at, dir plan.Pt) {
	n := dir.Normal()
	d.c.Line(at.Sub(dir.Scale(1.5)), at.Add(dir.Scale(1.5)), gridPen)
	d.c.Line(at.Sub(n.Scale(1.5)), at.Add(n.Scale(1.5)), gridPen)
}

// coordinates writes where meridians and parallels leave the window.
func (p *planView) coordinates() {
	g := p.graticule()
	e := &edgeTexts{planView: p}
	for _, lon := range g.lons {
		e.add(p.ll(lon, g.min.LatDeg), p.ll(lon, g.max.LatDeg), degreeWords(lon, g.digits, "E", "W"))
	}
	for _, lat := range g.lats {
		e.add(p.ll(g.min.LonDeg, lat), p.ll(g.max.LonDeg, lat), degreeWords(lat, g.digits, "N", "S"))
	}
}

func degreeWords(v float64, digits int, plus, minus string) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', digits, 64) + "°"
	if v < 0 {
		return s + " " + minus
	}
	return s + " " + plus
}

// edgeTexts sets coordinates around a window, none over another.
type edgeTexts struct {
	*planView
	taken [4][][2]float64 // by side: top, right, bottom, left
}

// add ticks a line of the net at both places where it leaves the window.
func (e *edgeTexts) add(a, b plan.Pt, s string) {
	for _, run := range plan.ClipPath([]plan.Pt{a, b}, e.Window) {
		e.tick(run[0], run[len(run)-1], s)
		e.tick(run[len(run)-1], run[0], s)
	}
}

func (e *edgeTexts) tick(at, inner plan.Pt, s string) {
	w := e.Window
	f := e.font(paper.Regular, 0.78)
	f.Color = paper.Gray(60)
	half := e.c.Width(s, f)/2 + 1
	side, along, lo, hi := -1, 0.0, 0.0, 0.0
	out, run := plan.Pt{}, plan.Pt{X: 1}
	switch {
	case math.Abs(at.Y-w.Y) < 1e-6:
		side, along, lo, hi, out = 0, at.X, w.X, w.Right(), plan.Pt{Y: -1}
	case math.Abs(at.X-w.Right()) < 1e-6:
		side, along, lo, hi, out, run = 1, at.Y, w.Y, w.Bottom(), plan.Pt{X: 1}, plan.Pt{Y: -1}
	case math.Abs(at.Y-w.Bottom()) < 1e-6:
		side, along, lo, hi, out = 2, at.X, w.X, w.Right(), plan.Pt{Y: 1}
	case math.Abs(at.X-w.X) < 1e-6:
		side, along, lo, hi, out, run = 3, at.Y, w.Y, w.Bottom(), plan.Pt{X: -1}, plan.Pt{Y: -1}
	default:
		return
	}
	e.c.Line(at, at.Add(inner.Sub(at).Unit().Scale(2)), gridPen)
	if along-half < lo || along+half > hi {
		return
	}
	for _, t := range e.taken[side] {
		if along-half < t[1] && t[0] < along+half {
			return
		}
	}
	e.taken[side] = append(e.taken[side], [2]float64{along - half, along + half})
	e.c.TextAlong(at.Add(out.Scale(coordsMM/2)), run, s, f)
	e.used[signGrid] = true
}

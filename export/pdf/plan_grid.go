package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/geo"
	"loamline.example/trace"
)

// graticule is the net that a window shows: meridians and parallels, or the
// eastings and northings of the job's own system. Over the ground of one sheet its
// lines are straight to far less than a line's width.
type graticule struct {
	step           float64 // degrees, or the system's unit
	digits         int
	xs, ys         []float64
	minX, minY     float64
	maxX, maxY     float64
	plusX, minusX  string
	plusY, minusY  string
	unit           string
	paper          func(x, y float64) plan.Pt
	metresInAUnitX float64
}

// gridMinMM is the least distance between coordinate ticks on paper.
const gridMinMM = 38

// gridLayer is the net of coordinates, in the window and around it.
type gridLayer struct{ *planView }

func (p *gridLayer) graticule() graticule {
	if c := p.s.Output.CRS; c.Code != 0 && !c.Geographic() {
		return p.ownGrid()
	}
	g := graticule{plusX: "E", minusX: "W", plusY: "N", minusY: "S", unit: "°", paper: p.ll}
	g.bounds(p.Corners(), func(q geo.XY) (x, y float64, ok bool) {
		ll := p.s.Plane.LonLat(q)
		return ll.LonDeg, ll.LatDeg, ll.Valid()
	})
	if !(g.maxX-g.minX <= 30) {
		return graticule{}
	}
	// A degree of longitude is the shorter one on the ground.
	g.metresInAUnitX = 111320 * math.Max(0.05, math.Cos((g.minY+g.maxY)/2*math.Pi/180))
	return g.ticked(p.Scale.MMPerM())
}

// ownGrid is the net of the job's output system.
func (p *gridLayer) ownGrid() graticule {
	c := p.s.Output.CRS
	g := graticule{plusX: "E", minusX: "E", plusY: "N", minusY: "N", metresInAUnitX: c.UnitM, paper: func(x, y float64) plan.Pt {
		ll, err := p.s.Output.Unproject(x*c.UnitM, y*c.UnitM)
		if err != nil {
			return plan.Pt{X: math.NaN(), Y: math.NaN()}
		}
		return p.ll(ll.LonDeg, ll.LatDeg)
	}}
	g.bounds(p.Corners(), func(q geo.XY) (x, y float64, ok bool) {
		x, y, err := p.s.Output.FromWGS84(p.s.Plane.LonLat(q))
		return x, y, err == nil
	})
	if !(g.maxX-g.minX < 1e6) {
		return graticule{}
	}
	return g.ticked(p.Scale.MMPerM())
}

// bounds are NaN where a corner has no coordinates.
func (g *graticule) bounds(corners [4]geo.XY, of func(geo.XY) (x, y float64, ok bool)) {
	g.minX, g.minY, g.maxX, g.maxY = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, q := range corners {
		x, y, ok := of(q)
		if !ok {
			x, y = math.NaN(), math.NaN()
		}
		g.minX, g.maxX = math.Min(g.minX, x), math.Max(g.maxX, x)
		g.minY, g.maxY = math.Min(g.minY, y), math.Max(g.maxY, y)
	}
}

// ticked sets the lines of the net at a round distance.
func (g graticule) ticked(mmPerM float64) graticule {
	g.step = plan.RoundStep(gridMinMM / mmPerM / g.metresInAUnitX)
	g.digits = int(math.Max(0, -math.Floor(math.Log10(g.step)+1e-9)))
	g.xs, g.ys = plan.Ticks(g.minX, g.maxX, g.step), plan.Ticks(g.minY, g.maxY, g.step)
	return g
}

// gridWords says what the coordinates on the sheets are.
func gridWords(s *trace.Sheet) string {
	c := s.Output.CRS
	if c.Code == 0 || c.Geographic() {
		return "WGS 84 latitude and longitude in degrees"
	}
	unit := map[string]string{"m": "metres", "ft": "international feet", "ftUS": "US survey feet"}[c.Unit]
	return "eastings and northings of " + c.ID() + " (" + c.Name + ") in " + unit
}

// crosses marks where the lines of the net meet.
func (p *gridLayer) crosses() {
	g := p.graticule()
	if len(g.xs)*len(g.ys) > 2000 {
		return
	}
	for _, x := range g.xs {
		for _, y := range g.ys {
			at := g.paper(x, y)
			if p.inside(at, 1) {
				p.gridCross(at, g.paper(x+g.step, y).Sub(at).Unit())
				p.used[signGrid] = true
			}
		}
	}
}

func (p *gridLayer) ll(lon, lat float64) plan.Pt {
	return p.Paper(p.s.Plane.XY(geo.LonLat{LonDeg: lon, LatDeg: lat}))
}

// coordinates writes where the lines of the net leave the window.
func (p *gridLayer) coordinates() {
	g := p.graticule()
	e := &edgeTexts{gridLayer: p}
	for _, x := range g.xs {
		e.add(g.paper(x, g.minY), g.paper(x, g.maxY), g.words(x, g.plusX, g.minusX))
	}
	for _, y := range g.ys {
		e.add(g.paper(g.minX, y), g.paper(g.maxX, y), g.words(y, g.plusY, g.minusY))
	}
}

func (g graticule) words(v float64, plus, minus string) string {
	sign := ""
	if v < 0 && plus == minus {
		sign = "-"
	}
	s := sign + strconv.FormatFloat(math.Abs(v), 'f', g.digits, 64) + g.unit
	if v < 0 {
		return s + " " + minus
	}
	return s + " " + plus
}

// edgeTexts sets coordinates around a window, none over another.
type edgeTexts struct {
	*gridLayer
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
	f := e.font(paper.Regular, 0.92)
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

package siteplan

import (
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace/siteplan/pdfobject"
)

// mostViews bounds a page's viewports, mostCorners the points that place one.
const (
	mostViews   = 200
	mostCorners = 1000
)

// viewport is a part of a page that lies somewhere on the ground (ISO 32000-2, 12.9 and
// 12.10): a map frame on the sheet.
type viewport struct {
	box    [4]float64 // in user space; its first corner is where the unit square's is
	ground []float64  // /GPTS: latitude and longitude, in degrees of the system's own frame
	on     []float64  // /LPTS: the same points on the unit square
	code   int        // of its system, 0 where it is not named
	wkt    string
}

// unitSquare are /LPTS where none are given (ISO 32000-2, table 269).
var unitSquare = []float64{0, 0, 0, 1, 1, 1, 1, 0}

// geoViewport is the largest viewport of a page with a geospatial measure, as other
// readers take it, and how many there are.
func geoViewport(o *pdfobject.File, page pdfobject.Dict) (*viewport, int) {
	var out *viewport
	n, largest := 0, 0.0
	views := o.List(page["VP"])
	for _, v := range views[:min(len(views), mostViews)] {
		d := o.Dict(v)
		m := o.Dict(d["Measure"])
		box := o.Numbers(d["BBox"])
		if o.Text(m["Subtype"]) != "GEO" || len(box) != 4 {
			continue
		}
		n++
		area := math.Abs((box[2] - box[0]) * (box[3] - box[1]))
		if !(area > largest) {
			continue
		}
		largest = area
		gcs := o.Dict(m["GCS"])
		code, _ := o.Number(gcs["EPSG"])
		out = &viewport{box: [4]float64(box), ground: o.Numbers(m["GPTS"]), on: o.Numbers(m["LPTS"]),
			code: int(code), wkt: o.Text(gcs["WKT"])}
		if m["LPTS"] == nil {
			out.on = unitSquare
		}
	}
	return out, n
}

// system is which reference system the viewport's figures are in.
func (p *page) system() geoTags {
	var t geoTags
	if p.view == nil {
		return t
	}
	t.code = p.view.code
	if t.code == 0 && p.view.wkt != "" {
		if c, err := geo.FromWKT(p.view.wkt); err == nil {
			t.code = c.Code
		} else {
			t.described = p.view.wkt[:min(len(p.view.wkt), 60)]
		}
	}
	return t
}

// mostOffPoints is how far the points of a viewport may lie off the affine picture that
// they make, in units of the paper: a third of a pixel of a screen.
const mostOffPoints = 0.3

// place finds where the paper lies from the points of its viewport, if there is one.
func (p *page) place(t *geoTags, c geo.CRS) error {
	v := p.view
	if v == nil {
		return nil
	}
	n := len(v.ground) / 2
	if n < 3 || n > mostCorners || len(v.ground) != len(v.on) || len(v.ground)%2 != 0 {
		return refused(p.file, pdfHint, "its geospatial viewport is placed by %d figures for %d corners, where three corners or more are wanted with two figures each", len(v.ground), len(v.on)/2)
	}
	from, to := make([]geo.XY, n), make([]geo.XY, n)
	for i := range n {
		from[i] = p.toPaper(v.box[0]+v.on[2*i]*(v.box[2]-v.box[0]), v.box[1]+v.on[2*i+1]*(v.box[3]-v.box[1]))
		at := geo.LonLat{LonDeg: v.ground[2*i+1], LatDeg: v.ground[2*i]}
		if !at.Valid() {
			return refused(p.file, pdfHint, "its geospatial viewport has a corner at latitude %.10g, longitude %.10g, which is none", at.LatDeg, at.LonDeg)
		}
		to[i] = geo.XY{X: at.LonDeg, Y: at.LatDeg}
		if !c.Geographic() {
			e, north, err := c.Project(at)
			if err != nil {
				return refused(p.file, "check the crs", "a corner of its geospatial viewport: %v", err)
			}
			to[i] = geo.XY{X: e / c.UnitM, Y: north / c.UnitM}
		}
	}
	t.figures, t.placed = affineThrough(from, to), true
	back, worst := t.figures.Inverse(), 0.0
	for i := range n {
		worst = math.Max(worst, back.Apply(to[i].X, to[i].Y).Dist(from[i]))
	}
	if !(worst <= mostOffPoints) {
		return refused(p.file, "export it in the projected system that it was drawn in, or as GeoTIFF", "the corners of its geospatial viewport make no flat picture in %s: they lie up to %.3g points off", c.ID(), worst)
	}
	t.by = "its geospatial viewport"
	if p.views > 1 {
		t.by = fmt.Sprintf("its geospatial viewport, the largest of %d", p.views)
	}
	return nil
}

// affineThrough is the affine transformation that brings points nearest to where they
// belong, in least squares about their middle; it is not finite where they lie on one
// line.
func affineThrough(from, to []geo.XY) geo.Affine {
	var a, b geo.XY
	for i := range from {
		a, b = a.Add(from[i]), b.Add(to[i])
	}
	a, b = a.Scale(1/float64(len(from))), b.Scale(1/float64(len(to)))
	var uu, uv, vv float64
	var du, dv geo.XY
	for i := range from {
		p, q := from[i].Sub(a), to[i].Sub(b)
		uu, uv, vv = uu+p.X*p.X, uv+p.X*p.Y, vv+p.Y*p.Y
		du, dv = du.Add(q.Scale(p.X)), dv.Add(q.Scale(p.Y))
	}
	d := uu*vv - uv*uv
	t := geo.Affine{A: (du.X*vv - dv.X*uv) / d, B: (dv.X*uu - du.X*uv) / d, D: (du.Y*vv - dv.Y*uv) / d, E: (dv.Y*uu - du.Y*uv) / d}
	t.C, t.F = b.X-t.A*a.X-t.B*a.Y, b.Y-t.D*a.X-t.E*a.Y
	return t
}

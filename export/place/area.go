package place

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"

	"loamline.example/geo"
)

// Area converts polygons of the plane to rounded degrees as RFC 7946 wants
// them: outer rings counter-clockwise, holes clockwise, closed with the same
// position, cut at the antimeridian, and valid after rounding. Rounding never
// makes a zone narrower: its outline goes outwards by as much first. Where that
// makes a ring touch or cross itself the zone is widened by millimetres more.
func (d Degrees) Area(mp orb.MultiPolygon) ([][][]LonLatE8, error) {
	polys := d.rings(mp, RoundingM)
	for _, widenM := range []float64{0.003, 0.01, 0.03} {
		if areValid(polys) {
			return d.cutArea(polys)
		}
		wider, err := widened(mp, widenM)
		if err != nil {
			return nil, err
		}
		// What was widened by more than rounding takes need not go outwards again, which
		// crosses the two sides of a narrow slit.
		if polys = d.rings(wider, RoundingM); !areValid(polys) {
			polys = d.rings(wider, 0)
		}
	}
	if !areValid(polys) {
		return nil, fmt.Errorf("a zone has no valid outline at 1e-8 degrees, not even 3 cm wider")
	}
	return d.cutArea(polys)
}

// rings converts and rounds every ring, taken outwards by so much first; rings that
// vanish are left out.
func (d Degrees) rings(mp orb.MultiPolygon, outM float64) [][][]LonLatE8 {
	var out [][][]LonLatE8
	for _, poly := range mp {
		var rings [][]LonLatE8
		for k, ring := range poly {
			r := d.ring(ring, outM)
			if len(r) < 4 || twiceArea(r) == 0 {
				if k == 0 {
					break
				}
				continue
			}
			wind(r, k == 0)
			rings = append(rings, r)
		}
		if len(rings) > 0 {
			out = append(out, rings)
		}
	}
	return out
}

// ring rounds first and closes then, without repeated positions.
func (d Degrees) ring(ring orb.Ring, outM float64) []LonLatE8 {
	path := outwards(ring, outM)
	if len(path) > 0 {
		path = append(path, path[0])
	}
	dense := DensePath(path)
	out := make([]LonLatE8, 0, len(dense))
	for _, q := range dense {
		if p := d.XY(q); len(out) == 0 || p != out[len(out)-1] {
			out = append(out, p)
		}
	}
	if n := len(out); n > 1 && out[0] != out[n-1] {
		out = append(out, out[0])
	}
	return out
}

// twiceArea is twice the signed area of a closed ring, positive where it runs
// counter-clockwise (RFC 7946, 3.1.6), in squared units of 1e-8 degrees.
func twiceArea(r []LonLatE8) float64 {
	sum, o := 0.0, r[0]
	for i := 1; i < len(r); i++ {
		ax, ay := float64(r[i-1].Lon-o.Lon), float64(r[i-1].Lat-o.Lat)
		bx, by := float64(r[i].Lon-o.Lon), float64(r[i].Lat-o.Lat)
		sum += ax*by - ay*bx
	}
	return sum
}

// wind turns a ring into the right direction.
func wind(r []LonLatE8, outer bool) {
	if (twiceArea(r) > 0) != outer {
		slices.Reverse(r)
	}
}

// cutArea cuts polygons at the antimeridian and brings what lies beyond home.
func (d Degrees) cutArea(polys [][][]LonLatE8) ([][][]LonLatE8, error) {
	var out [][][]LonLatE8
	for _, rings := range polys {
		near, far := d.sides(rings[0])
		switch {
		case near && far:
			cut, err := d.cutPolygon(rings)
			if err != nil {
				return nil, err
			}
			out = append(out, cut...)
		case far:
			out = append(out, d.bringHome(rings))
		default:
			out = append(out, rings)
		}
	}
	return out, nil
}

// sides reports on which sides of the antimeridian a ring lies.
func (d Degrees) sides(r []LonLatE8) (near, far bool) {
	for _, p := range r {
		if p.Lon != d.seam {
			if d.beyond(p.Lon) {
				far = true
			} else {
				near = true
			}
		}
	}
	return near, far
}

func (d Degrees) bringHome(rings [][]LonLatE8) [][]LonLatE8 {
	for _, r := range rings {
		for i := range r {
			r[i].Lon = d.otherSide(r[i].Lon)
		}
	}
	return rings
}

// cutPolygon intersects a polygon with both sides of the antimeridian.
func (d Degrees) cutPolygon(rings [][]LonLatE8) ([][][]LonLatE8, error) {
	g := toGeom([][][]LonLatE8{rings})
	var out [][][]LonLatE8
	for _, far := range []bool{false, true} {
		lo, hi := d.seam-fullTurn/4, d.seam
		if far == (d.seam > 0) {
			lo, hi = d.seam, d.seam+fullTurn/4
		}
		half := geom.NewEnvelope(geom.XY{X: float64(lo), Y: -91e8}, geom.XY{X: float64(hi), Y: 91e8}).AsGeometry()
		part, err := geom.Intersection(g, half)
		if err != nil {
			return nil, fmt.Errorf("cutting a zone at the antimeridian: %w", err)
		}
		for _, poly := range fromGeom(part) {
			if far {
				poly = d.bringHome(poly)
			}
			out = append(out, poly)
		}
	}
	return out, nil
}

// areValid reports whether rounded polygons are valid as OGC Simple Features
// define it. Polygons of one area may not overlap.
func areValid(polys [][][]LonLatE8) bool {
	if len(polys) == 1 && len(polys[0]) == 1 { // as most are: soon told where the ring keeps clear of itself
		ring, o := make([]geo.XY, len(polys[0][0])), polys[0][0][0]
		for i, p := range polys[0][0] {
			ring[i] = geo.XY{X: float64(p.Lon - o.Lon), Y: float64(p.Lat - o.Lat)}
		}
		if geo.IsSimple(ring) {
			return true
		}
	}
	return toGeom(polys).Validate() == nil
}

// toGeom hands polygons over in units of 1e-8 degrees, so that they stay whole
// numbers.
func toGeom(polys [][][]LonLatE8) geom.Geometry {
	out := make([]geom.Polygon, len(polys))
	for i, rings := range polys {
		lines := make([]geom.LineString, len(rings))
		for k, r := range rings {
			xy := make([]float64, 0, 2*len(r))
			for _, p := range r {
				xy = append(xy, float64(p.Lon), float64(p.Lat))
			}
			lines[k] = geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
		}
		out[i] = geom.NewPolygon(lines)
	}
	return geom.NewMultiPolygon(out).AsGeometry()
}

// fromGeom is the reverse of toGeom, rounded, closed and wound.
func fromGeom(g geom.Geometry) [][][]LonLatE8 {
	var out [][][]LonLatE8
	for _, part := range g.Dump() {
		poly, ok := part.AsPolygon()
		if !ok {
			continue
		}
		var rings [][]LonLatE8
		for k, ls := range poly.DumpRings() {
			seq := ls.Coordinates()
			var r []LonLatE8
			for i := range seq.Length() {
				xy := seq.GetXY(i)
				p := LonLatE8{ToE8(xy.X / 1e8), ToE8(xy.Y / 1e8)}
				if len(r) == 0 || p != r[len(r)-1] {
					r = append(r, p)
				}
			}
			if len(r) < 4 || twiceArea(r) == 0 {
				continue
			}
			wind(r, k == 0)
			rings = append(rings, r)
		}
		if len(rings) > 0 {
			out = append(out, rings)
		}
	}
	return out
}

// widened is the area grown outwards by a few millimetres.
func widened(mp orb.MultiPolygon, byM float64) (orb.MultiPolygon, error) {
	polys := make([]geom.Geometry, 0, len(mp))
	for _, poly := range mp {
		var lines []geom.LineString
		for _, ring := range poly {
			var xy []float64
			for _, p := range ring {
				xy = append(xy, p[0], p[1])
			}
			lines = append(lines, geom.NewLineString(geom.NewSequence(xy, geom.DimXY)))
		}
		b, err := geom.Buffer(geom.NewPolygon(lines).AsGeometry(), byM, geom.BufferSimplifyFactor(0))
		if err != nil {
			return nil, fmt.Errorf("widening a zone by %g m: %w", byM, err)
		}
		polys = append(polys, b)
	}
	all, err := geom.UnionMany(polys)
	if err != nil {
		return nil, fmt.Errorf("joining a zone: %w", err)
	}
	var out orb.MultiPolygon
	for _, part := range all.Dump() {
		poly, ok := part.AsPolygon()
		if !ok {
			continue
		}
		var p orb.Polygon
		for _, ls := range poly.DumpRings() {
			var r orb.Ring
			seq := ls.Coordinates()
			for i := range seq.Length() {
				xy := seq.GetXY(i)
				r = append(r, orb.Point{xy.X, xy.Y})
			}
			p = append(p, r)
		}
		out = append(out, p)
	}
	return out, nil
}

package geo

import (
	"errors"
	"fmt"
	"sort"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// Union returns the union of zones in the plane, valid and wound as Buffer.
func Union(zones ...orb.MultiPolygon) (orb.MultiPolygon, error) {
	var parts []geom.Geometry
	for _, z := range zones {
		parts = append(parts, geomOf(z).Dump()...)
	}
	if len(parts) == 0 {
		return nil, nil
	}
	return guarded(func() (geom.Geometry, error) { return geom.UnionMany(parts) })
}

func geomOf(mp orb.MultiPolygon) geom.Geometry {
	polys := make([]geom.Polygon, len(mp))
	for k, p := range mp {
		rings := make([]geom.LineString, len(p))
		for i, r := range p {
			rings[i] = lineOf(len(r), func(k int) (float64, float64) { return r[k][0], r[k][1] })
		}
		polys[k] = geom.NewPolygon(rings)
	}
	return geom.NewMultiPolygon(polys).AsGeometry()
}

// dissolve returns what a closed ring winds around at least once.
func dissolve(ring []XY) (orb.MultiPolygon, error) {
	l := lineOf(len(ring), func(k int) (float64, float64) { return ring[k].X, ring[k].Y })
	raw := geom.NewPolygon([]geom.LineString{l}).AsGeometry()
	// A buffer of width 0 counts windings and keeps what is wound around.
	return guarded(func() (geom.Geometry, error) { return geom.Buffer(raw, 0) })
}

func lineOf(n int, at func(int) (float64, float64)) geom.LineString {
	c := make([]float64, 0, 2*n)
	for k := range n {
		x, y := at(k)
		c = append(c, x, y)
	}
	return geom.NewLineString(geom.NewSequence(c, geom.DimXY))
}

// guarded runs a geometry operation, turns a panic of the library into an error
// and the result into a multipolygon in canonical form.
func guarded(op func() (geom.Geometry, error)) (mp orb.MultiPolygon, err error) {
	defer func() {
		if r := recover(); r != nil {
			mp, err = nil, fmt.Errorf("geometry library: %v", r)
		}
	}()
	g, err := op()
	if err != nil {
		return nil, err
	}
	if err := g.Validate(); err != nil {
		return nil, err
	}
	return canonical(g.ForceCCW())
}

// canonical turns a polygonal geometry into a multipolygon whose bytes depend on
// its shape alone: rings start at their lowest leftmost point, holes and polygons
// are sorted by it.
func canonical(g geom.Geometry) (orb.MultiPolygon, error) {
	var polys []geom.Polygon
	switch {
	case g.IsPolygon():
		polys = []geom.Polygon{g.MustAsPolygon()}
	case g.IsMultiPolygon():
		polys = g.MustAsMultiPolygon().Dump()
	default:
		return nil, fmt.Errorf("a zone came out as %s", g.Type())
	}
	var out orb.MultiPolygon
	for _, p := range polys {
		if p.IsEmpty() {
			continue
		}
		var poly orb.Polygon
		for _, r := range p.DumpRings() {
			poly = append(poly, rotated(ringOf(r.Coordinates())))
		}
		holes := poly[1:]
		sort.Slice(holes, func(i, j int) bool { return before(holes[i][0], holes[j][0]) })
		out = append(out, poly)
	}
	if len(out) == 0 {
		return nil, errors.New("a zone came out empty")
	}
	sort.Slice(out, func(i, j int) bool { return before(out[i][0][0], out[j][0][0]) })
	return out, nil
}

// rotated returns a ring without its closing point, closed and starting at its
// leftmost, then lowest point.
func rotated(open orb.Ring) orb.Ring {
	first := 0
	for i, p := range open {
		if before(p, open[first]) {
			first = i
		}
	}
	ring := make(orb.Ring, 0, len(open)+1)
	ring = append(ring, open[first:]...)
	ring = append(ring, open[:first]...)
	return append(ring, ring[0])
}

func ringOf(seq geom.Sequence) orb.Ring {
	ring := make(orb.Ring, seq.Length()-1)
	for i := range ring {
		q := seq.GetXY(i)
		ring[i] = orb.Point{q.X, q.Y}
	}
	return ring
}

func before(a, b orb.Point) bool {
	return a[0] < b[0] || a[0] == b[0] && a[1] < b[1]
}

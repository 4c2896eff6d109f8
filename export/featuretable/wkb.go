package featuretable

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/ewkb"

	"loamline.example/export/layer"
	"loamline.example/export/place"
)

// Codes of well-known binary (OGC 06-103r4, 8.2.8).
const (
	Point           = 1
	LineString      = 2
	MultiPoint      = 4
	MultiLineString = 5
	MultiPolygon    = 6
)

// Geometry is a feature's geometry, ready to be written. Lines of roles other
// than centerline and all areas are multi-geometries, so that a table holds one
// type.
type Geometry struct {
	Code   uint32
	point  place.XY
	Points []place.XY
	lines  [][]place.XY
	areas  [][][]place.XY
}

// Code is the well-known binary type of a role's geometries.
func Code(l layer.Layer) uint32 {
	switch {
	case l.Shape == layer.ShapePoint:
		return Point
	case l.Shape == layer.ShapeArea:
		return MultiPolygon
	case l.Role == layer.Centerline.Role:
		return LineString
	}
	return MultiLineString
}

// Place places the geometry of a feature; ok is false where it has none.
func Place(l layer.Layer, f *layer.Feature, p place.Placer) (g Geometry, ok bool, err error) {
	g.Code = Code(l)
	if err := f.CheckPlace(); err != nil {
		return g, false, err
	}
	switch {
	case f.NoPlace || (l.Shape == layer.ShapeLine && len(f.Path) < 2):
		return g, false, nil
	case l.Shape == layer.ShapePoint:
		g.point, err = p.Point(f.At)
	case l.Shape == layer.ShapeLine:
		g.lines, err = p.Lines(f.Path)
	default:
		g.areas, err = p.Areas(f.Area)
		ok = len(g.areas) > 0
		return g, ok, err
	}
	return g, err == nil, err
}

// Parts are the written positions: one point, lines, or areas of rings, of which the
// first is the outer one.
func (g Geometry) Parts() (point place.XY, lines [][]place.XY, areas [][][]place.XY) {
	return g.point, g.lines, g.areas
}

// Bounds returns the extent.
func (g Geometry) Bounds() (lo, hi place.XY) {
	lo, hi = place.XY{X: math.Inf(1), Y: math.Inf(1)}, place.XY{X: math.Inf(-1), Y: math.Inf(-1)}
	add := func(p place.XY) {
		lo = place.XY{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y)}
		hi = place.XY{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y)}
	}
	if g.Code == Point {
		add(g.point)
	}
	for _, l := range g.lines {
		for _, p := range l {
			add(p)
		}
	}
	for _, a := range g.areas {
		for _, p := range a[0] {
			add(p)
		}
	}
	return lo, hi
}

// AppendWKB writes little-endian well-known binary; a srid other than zero makes
// it PostGIS's extension.
func (g Geometry) AppendWKB(b []byte, srid uint32) []byte {
	return append(b, ewkb.MustMarshal(g.orb(), int(srid), binary.LittleEndian)...)
}

func (g Geometry) orb() orb.Geometry {
	switch g.Code {
	case Point:
		return orb.Point{g.point.X, g.point.Y}
	case MultiPoint:
		return orb.MultiPoint(points(g.Points))
	case LineString:
		return orb.LineString(points(g.lines[0]))
	case MultiLineString:
		out := make(orb.MultiLineString, len(g.lines))
		for i, l := range g.lines {
			out[i] = points(l)
		}
		return out
	}
	out := make(orb.MultiPolygon, len(g.areas))
	for i, rings := range g.areas {
		for _, r := range rings {
			out[i] = append(out[i], points(r))
		}
	}
	return out
}

func points(of []place.XY) []orb.Point {
	out := make([]orb.Point, len(of))
	for i, p := range of {
		out[i] = orb.Point{p.X, p.Y}
	}
	return out
}

// AppendGPKG writes a GeoPackage geometry (OGC 12-128, 2.1.3): header, envelope
// for all but points, well-known binary.
func (g Geometry) AppendGPKG(b []byte, srsID int) []byte {
	flags := byte(1) // little-endian, no envelope
	if g.Code != Point {
		flags |= 1 << 1
	}
	b = append(b, 'G', 'P', 0, flags)
	b = binary.LittleEndian.AppendUint32(b, uint32(srsID))
	if g.Code != Point {
		lo, hi := g.Bounds()
		for _, v := range []float64{lo.X, hi.X, lo.Y, hi.Y} {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
	}
	return g.AppendWKB(b, 0)
}

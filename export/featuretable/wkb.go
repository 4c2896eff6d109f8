package featuretable

import (
	"encoding/binary"
	"math"

	"loamline.example/export/layer"
	"loamline.example/export/place"
)

// Codes of well-known binary (OGC 06-103r4, 8.2.8) and the flag by which
// PostGIS's extension of it announces a reference system.
const (
	Point           = 1
	LineString      = 2
	polygon         = 3
	MultiPoint      = 4
	MultiLineString = 5
	MultiPolygon    = 6
	ewkbSRID        = 0x20000000
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
	code := g.Code
	if srid != 0 {
		code |= ewkbSRID
	}
	b = append(b, 1)
	b = binary.LittleEndian.AppendUint32(b, code)
	if srid != 0 {
		b = binary.LittleEndian.AppendUint32(b, srid)
	}
	switch g.Code {
	case Point:
		return appendXY(b, g.point)
	case MultiPoint:
		b = binary.LittleEndian.AppendUint32(b, uint32(len(g.Points)))
		for _, p := range g.Points {
			b = appendXY(binary.LittleEndian.AppendUint32(append(b, 1), Point), p)
		}
	case LineString:
		return appendXYs(b, g.lines[0])
	case MultiLineString:
		b = binary.LittleEndian.AppendUint32(b, uint32(len(g.lines)))
		for _, l := range g.lines {
			b = appendXYs(binary.LittleEndian.AppendUint32(append(b, 1), LineString), l)
		}
	case MultiPolygon:
		b = binary.LittleEndian.AppendUint32(b, uint32(len(g.areas)))
		for _, rings := range g.areas {
			b = binary.LittleEndian.AppendUint32(append(b, 1), polygon)
			b = binary.LittleEndian.AppendUint32(b, uint32(len(rings)))
			for _, r := range rings {
				b = appendXYs(b, r)
			}
		}
	}
	return b
}

func appendXYs(b []byte, pts []place.XY) []byte {
	b = binary.LittleEndian.AppendUint32(b, uint32(len(pts)))
	for _, p := range pts {
		b = appendXY(b, p)
	}
	return b
}

func appendXY(b []byte, p place.XY) []byte {
	b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p.X))
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(p.Y))
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

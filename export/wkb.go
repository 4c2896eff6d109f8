package export

import (
	"encoding/binary"
	"math"
)

// Codes of well-known binary (OGC 06-103r4, 8.2.8) and the flag by which
// PostGIS's extension of it announces a reference system.
const (
	wkbPoint           = 1
	wkbLineString      = 2
	wkbPolygon         = 3
	wkbMultiPoint      = 4
	wkbMultiLineString = 5
	wkbMultiPolygon    = 6
	ewkbSRID           = 0x20000000
)

// geometry is a feature's geometry, ready to be written. Lines of roles other
// than centerline and all areas are multi-geometries, so that a table holds one
// type.
type geometry struct {
	code   uint32
	point  xy
	points []xy
	lines  [][]xy
	areas  [][][]xy
}

// geometryCode is the well-known binary type of a role's geometries.
func geometryCode(l layer) uint32 {
	switch {
	case l.Shape == shapePoint:
		return wkbPoint
	case l.Shape == shapeArea:
		return wkbMultiPolygon
	case l.Role == centerlineLayer.Role:
		return wkbLineString
	}
	return wkbMultiLineString
}

// geometryOf places the geometry of a feature; ok is false where it has none.
func geometryOf(l layer, f *feature, p placer) (g geometry, ok bool, err error) {
	g.code = geometryCode(l)
	if err := f.checkPlace(); err != nil {
		return g, false, err
	}
	switch {
	case f.NoPlace || (l.Shape == shapeLine && len(f.Path) < 2):
		return g, false, nil
	case l.Shape == shapePoint:
		g.point, err = p.point(f.At)
	case l.Shape == shapeLine:
		g.lines, err = p.lines(f.Path)
	default:
		g.areas, err = p.areas(f.Area)
		ok = len(g.areas) > 0
		return g, ok, err
	}
	return g, err == nil, err
}

// bounds returns the extent.
func (g geometry) bounds() (lo, hi xy) {
	lo, hi = xy{math.Inf(1), math.Inf(1)}, xy{math.Inf(-1), math.Inf(-1)}
	add := func(p xy) {
		lo = xy{math.Min(lo.x, p.x), math.Min(lo.y, p.y)}
		hi = xy{math.Max(hi.x, p.x), math.Max(hi.y, p.y)}
	}
	if g.code == wkbPoint {
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

// appendWKB writes little-endian well-known binary; a srid other than zero makes
// it PostGIS's extension.
func (g geometry) appendWKB(b []byte, srid uint32) []byte {
	code := g.code
	if srid != 0 {
		code |= ewkbSRID
	}
	b = append(b, 1)
	b = binary.LittleEndian.AppendUint32(b, code)
	if srid != 0 {
		b = binary.LittleEndian.AppendUint32(b, srid)
	}
	switch g.code {
	case wkbPoint:
		return appendXY(b, g.point)
	case wkbMultiPoint:
		b = binary.LittleEndian.AppendUint32(b, uint32(len(g.points)))
		for _, p := range g.points {
			b = appendXY(binary.LittleEndian.AppendUint32(append(b, 1), wkbPoint), p)
		}
	case wkbLineString:
		return appendXYs(b, g.lines[0])
	case wkbMultiLineString:
		b = binary.LittleEndian.AppendUint32(b, uint32(len(g.lines)))
		for _, l := range g.lines {
			b = appendXYs(binary.LittleEndian.AppendUint32(append(b, 1), wkbLineString), l)
		}
	case wkbMultiPolygon:
		b = binary.LittleEndian.AppendUint32(b, uint32(len(g.areas)))
		for _, rings := range g.areas {
			b = binary.LittleEndian.AppendUint32(append(b, 1), wkbPolygon)
			b = binary.LittleEndian.AppendUint32(b, uint32(len(rings)))
			for _, r := range rings {
				b = appendXYs(b, r)
			}
		}
	}
	return b
}

func appendXYs(b []byte, pts []xy) []byte {
	b = binary.LittleEndian.AppendUint32(b, uint32(len(pts)))
	for _, p := range pts {
		b = appendXY(b, p)
	}
	return b
}

func appendXY(b []byte, p xy) []byte {
	b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p.x))
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(p.y))
}

// appendGPKG writes a GeoPackage geometry (OGC 12-128, 2.1.3): header, envelope
// for all but points, well-known binary.
func (g geometry) appendGPKG(b []byte, srsID int) []byte {
	flags := byte(1) // little-endian, no envelope
	if g.code != wkbPoint {
		flags |= 1 << 1
	}
	b = append(b, 'G', 'P', 0, flags)
	b = binary.LittleEndian.AppendUint32(b, uint32(srsID))
	if g.code != wkbPoint {
		lo, hi := g.bounds()
		for _, v := range []float64{lo.x, hi.x, lo.y, hi.y} {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
	}
	return g.appendWKB(b, 0)
}

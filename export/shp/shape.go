package shp

import (
	"encoding/binary"
	"math"

	"loamline.example/export/featuretable"
	"loamline.example/export/place"
)

// Shape types of the white paper.
const (
	shapeNull  = 0
	shapePoint = 1
	shapeLine  = 3
	shapeArea  = 5
	shapeLineZ = 13
)

// shapefile gathers the records of a main file and their places in it.
type shapefile struct {
	kind       uint32
	content    []byte
	index      []byte
	records    int
	lo, hi     place.XY
	loZ, hiZ   float64
	headerSize int
}

func newShapefile(kind uint32) *shapefile {
	return &shapefile{kind: kind, lo: place.XY{X: math.Inf(1), Y: math.Inf(1)}, hi: place.XY{X: math.Inf(-1), Y: math.Inf(-1)},
		loZ: math.Inf(1), hiZ: math.Inf(-1), headerSize: 100}
}

func word(b []byte, v uint32) []byte { return binary.LittleEndian.AppendUint32(b, v) }
func real(b []byte, v float64) []byte {
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
}
func xy(b []byte, p place.XY) []byte   { return real(real(b, p.X), p.Y) }
func bigEnd(b []byte, v uint32) []byte { return binary.BigEndian.AppendUint32(b, v) }

// record adds a record: number and length in 16-bit words, then the shape.
func (f *shapefile) record(shape []byte) {
	f.records++
	at := uint32(f.headerSize+len(f.content)) / 2
	f.index = bigEnd(bigEnd(f.index, at), uint32(len(shape))/2)
	f.content = bigEnd(bigEnd(f.content, uint32(f.records)), uint32(len(shape))/2)
	f.content = append(f.content, shape...)
}

// add adds a feature; one without a place is a null shape.
func (f *shapefile) add(g featuretable.Geometry, placed bool) {
	if !placed {
		f.record(word(nil, shapeNull))
		return
	}
	point, lines, areas := g.Parts()
	if f.kind == shapePoint {
		f.grow(point, point)
		f.record(xy(word(nil, shapePoint), point))
		return
	}
	for _, rings := range areas {
		for i, r := range rings {
			lines = append(lines, turned(r, i > 0))
		}
	}
	f.record(f.paths(lines))
}

// turned winds a ring as the white paper wants it: outer rings clockwise, holes
// counter-clockwise.
func turned(ring []place.XY, hole bool) []place.XY {
	twice := 0.0
	for i := 1; i < len(ring); i++ {
		// About the first position: figures of a grid are large.
		a, b := place.XY{X: ring[i-1].X - ring[0].X, Y: ring[i-1].Y - ring[0].Y}, place.XY{X: ring[i].X - ring[0].X, Y: ring[i].Y - ring[0].Y}
		twice += a.X*b.Y - b.X*a.Y
	}
	if (twice > 0) == hole {
		return ring
	}
	out := make([]place.XY, len(ring))
	for i, p := range ring {
		out[len(ring)-1-i] = p
	}
	return out
}

// paths is a shape of several parts.
func (f *shapefile) paths(lines [][]place.XY) []byte {
	lo, hi := place.XY{X: math.Inf(1), Y: math.Inf(1)}, place.XY{X: math.Inf(-1), Y: math.Inf(-1)}
	points := 0
	for _, l := range lines {
		points += len(l)
		for _, p := range l {
			lo, hi = place.XY{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, place.XY{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
		}
	}
	f.grow(lo, hi)
	b := xy(xy(word(nil, f.kind), lo), hi)
	b = word(word(b, uint32(len(lines))), uint32(points))
	at := 0
	for _, l := range lines {
		b = word(b, uint32(at))
		at += len(l)
	}
	for _, l := range lines {
		for _, p := range l {
			b = xy(b, p)
		}
	}
	return b
}

// addSolid adds a line with heights.
func (f *shapefile) addSolid(path []place.XY, heights []float64) {
	b := f.paths([][]place.XY{path})
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, z := range heights {
		lo, hi = min(lo, z), max(hi, z)
	}
	f.loZ, f.hiZ = min(f.loZ, lo), max(f.hiZ, hi)
	b = real(real(b, lo), hi)
	for _, z := range heights {
		b = real(b, z)
	}
	f.record(b)
}

func (f *shapefile) grow(lo, hi place.XY) {
	f.lo = place.XY{X: min(f.lo.X, lo.X), Y: min(f.lo.Y, lo.Y)}
	f.hi = place.XY{X: max(f.hi.X, hi.X), Y: max(f.hi.Y, hi.Y)}
}

// files are the main file and its index.
func (f *shapefile) files() (shp, shx []byte) {
	return append(f.header(len(f.content)), f.content...), append(f.header(len(f.index)), f.index...)
}

func (f *shapefile) header(content int) []byte {
	b := bigEnd(nil, 9994)
	for range 5 {
		b = bigEnd(b, 0)
	}
	b = bigEnd(b, uint32(f.headerSize+content)/2)
	b = word(word(b, 1000), f.kind)
	lo, hi, loZ, hiZ := f.lo, f.hi, f.loZ, f.hiZ
	if !(lo.X <= hi.X) {
		lo, hi = place.XY{}, place.XY{}
	}
	if !(loZ <= hiZ) {
		loZ, hiZ = 0, 0
	}
	b = real(real(xy(xy(b, lo), hi), loZ), hiZ)
	return real(real(b, 0), 0)
}

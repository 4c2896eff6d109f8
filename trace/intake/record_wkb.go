package intake

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"loamline.example/geo"
)

// maxWKBDepth bounds collections in collections.
const maxWKBDepth = 4

var (
	errShortWKB = errors.New("its geometry is cut short")
	errTooDeep  = errors.New("its geometry has collections in collections in collections")
)

// wkbShape reads a feature's geometry from well-known binary: that of OGC 06-103r4
// with Z, M or both (codes from 1000 on), or the extended form of PostGIS with the
// same in its upper bits. Heights and measures are passed over.
func wkbShape(b []byte, frame geo.Frame, areas bool) shape {
	if len(b) == 0 {
		return shape{kind: "no geometry"}
	}
	r := wkbReader{b: b, frame: frame, areas: areas}
	s := shape{}
	s.kind, s.err = r.geometry(0)
	s.lines = r.lines
	if s.err == nil && len(s.lines) == 0 && (s.kind == "LineString" || s.kind == "MultiLineString") {
		s.kind = "no geometry" // an empty one
	}
	return s
}

type wkbReader struct {
	b     []byte
	order binary.ByteOrder
	frame geo.Frame
	areas bool // areas are wanted too
	lines [][]geo.LonLat

	// extent takes the positions instead, those of points too, where only it is wanted.
	extent *box
}

// wkbExtent is the box about a geometry in the layer's own system; ok is false where
// it has none or it cannot be told.
func wkbExtent(b []byte, frame geo.Frame) (extent box, ok bool) {
	if len(b) == 0 {
		return emptyBox(), false
	}
	extent = emptyBox()
	r := wkbReader{b: b, frame: frame, areas: true, extent: &extent}
	kind, err := r.geometry(0)
	size := extent.east - extent.west + extent.north - extent.south
	return extent, err == nil && kind != unknownKind && size >= 0 && !math.IsInf(size, 1)
}

func (r *wkbReader) uint32() (uint32, error) {
	if len(r.b) < 4 {
		return 0, errShortWKB
	}
	v := r.order.Uint32(r.b)
	r.b = r.b[4:]
	return v, nil
}

// header reads what a geometry begins with: its kind as OGC 06-103r4 numbers
// them, and how many numbers a position has.
func (r *wkbReader) header() (kind uint32, numbers int, err error) {
	if len(r.b) < 5 {
		return 0, 0, errShortWKB
	}
	r.order = binary.BigEndian
	if r.b[0] == 1 {
		r.order = binary.LittleEndian
	}
	r.b = r.b[1:]
	code, err := r.uint32()
	if err != nil {
		return 0, 0, err
	}
	numbers = 2
	if code&0x20000000 != 0 { // a spatial reference follows
		if _, err := r.uint32(); err != nil {
			return 0, 0, err
		}
	}
	for _, bit := range []uint32{0x80000000, 0x40000000} {
		if code&bit != 0 {
			numbers++
		}
	}
	code &= 0x1fffffff
	switch code / 1000 {
	case 1, 2:
		numbers++
	case 3:
		numbers += 2
	}
	return code % 1000, numbers, nil
}

// geometry reads one geometry and returns what GeoJSON calls its kind. A curve is
// the lines or the area that it bounds.
func (r *wkbReader) geometry(depth int) (string, error) {
	kind, numbers, err := r.header()
	if err != nil {
		return "", err
	}
	switch kind {
	case 1:
		return "Point", r.point(numbers)
	case 2:
		return "LineString", r.keep(r.positions(numbers))
	case 3:
		return "Polygon", r.rings(numbers)
	case 4:
		return "MultiPoint", r.pieces(depth)
	case 5:
		return "MultiLineString", r.parts(depth)
	case 6:
		return "MultiPolygon", r.parts(depth)
	case 7:
		return "GeometryCollection", r.pieces(depth)
	case 8:
		return "LineString", r.keep(r.arcs(numbers))
	case 9:
		return "LineString", r.keep(r.compound())
	case 10:
		return "Polygon", r.curvedRings(depth)
	case 11:
		return "MultiLineString", r.parts(depth)
	case 12:
		return "MultiPolygon", r.parts(depth)
	}
	return unknownKind, nil
}

const unknownKind = "an unknown geometry"

// point reads a position where the extent is wanted.
func (r *wkbReader) point(numbers int) error {
	if r.extent == nil {
		return nil
	}
	if len(r.b) < 8*numbers {
		return errShortWKB
	}
	x, y := math.Float64frombits(r.order.Uint64(r.b)), math.Float64frombits(r.order.Uint64(r.b[8:]))
	r.b = r.b[8*numbers:]
	return r.keep([]xy{{x, y}}, nil)
}

// pieces reads what is neither a line nor an area where the extent is wanted.
func (r *wkbReader) pieces(depth int) error {
	if r.extent == nil {
		return nil
	}
	return r.parts(depth)
}

func (r *wkbReader) parts(depth int) error {
	n, err := r.uint32()
	if err != nil || depth >= maxWKBDepth {
		if err == nil && r.extent != nil {
			err = errTooDeep
		}
		return err
	}
	for range n {
		if _, err := r.geometry(depth + 1); err != nil {
			return err
		}
	}
	return nil
}

// rings reads an area's rings, or passes over them.
func (r *wkbReader) rings(numbers int) error {
	n, err := r.uint32()
	if err != nil {
		return err
	}
	for range n {
		if !r.areas {
			if err := r.pass(numbers); err != nil {
				return err
			}
			continue
		}
		if err := r.keep(r.positions(numbers)); err != nil {
			return err
		}
	}
	return nil
}

func (r *wkbReader) pass(numbers int) error {
	n, err := r.uint32()
	if err != nil {
		return err
	}
	if uint64(len(r.b)) < uint64(n)*uint64(8*numbers) {
		return errShortWKB
	}
	r.b = r.b[int(n)*8*numbers:]
	return nil
}

// xy is a position as it is written, in the layer's own system.
type xy struct{ x, y float64 }

// positions reads a list of them; nil where there is none.
func (r *wkbReader) positions(numbers int) ([]xy, error) {
	n, err := r.uint32()
	if err != nil {
		return nil, err
	}
	size := 8 * numbers
	if uint64(len(r.b)) < uint64(n)*uint64(size) {
		return nil, errShortWKB
	}
	if n == 0 {
		return nil, nil
	}
	line := make([]xy, n)
	for i := range line {
		line[i] = xy{math.Float64frombits(r.order.Uint64(r.b)), math.Float64frombits(r.order.Uint64(r.b[8:]))}
		r.b = r.b[size:]
	}
	return line, nil
}

// keep brings a line to WGS 84.
func (r *wkbReader) keep(raw []xy, err error) error {
	if err != nil || len(raw) == 0 {
		return err
	}
	if r.extent != nil {
		for _, p := range raw {
			r.extent.add(p.x, p.y) // NaN stays, and makes the extent unknown
		}
		return nil
	}
	line := make([]geo.LonLat, len(raw))
	for i, p := range raw {
		if line[i], err = r.frame.Place(p.x, p.y); err != nil {
			return fmt.Errorf("position %d: %w", i+1, err)
		}
	}
	r.lines = append(r.lines, line)
	return nil
}

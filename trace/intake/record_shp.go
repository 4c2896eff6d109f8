package intake

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
)

// shapefile is the parts of one Shapefile; only shp must be there.
type shapefile struct {
	shp, dbf, prj, cpg io.Reader
}

// readShapefile reads a Shapefile whose main file is at hand, with what lies
// beside it. Each part is an input of its own.
func (l *layerReader) readShapefile(s *trace.Source, shp io.Reader) error {
	parts := map[string][]byte{}
	for _, ending := range []string{".dbf", ".prj", ".cpg"} {
		if l.ref.Beside == nil {
			break
		}
		f, there := l.ref.Beside(ending)
		if !there {
			continue
		}
		err := fingerprint(s, f, trace.InputReference, func(r io.Reader) (err error) {
			parts[ending], err = io.ReadAll(r)
			return err
		})
		if err != nil {
			return err
		}
	}
	return l.readShapes(shapefile{shp: shp, dbf: readerOf(parts[".dbf"]), prj: readerOf(parts[".prj"]), cpg: readerOf(parts[".cpg"])})
}

func readerOf(b []byte) io.Reader {
	if b == nil {
		return nil
	}
	return strings.NewReader(string(b))
}

// readShapes reads the parts of a Shapefile by ESRI's white paper "ESRI Shapefile
// Technical Description" (July 1998): a header of 100 bytes, then records of a
// header in big-endian (number, length in 16-bit words) and a shape in
// little-endian. Shapes with Z and M are read without them.
func (l *layerReader) readShapes(f shapefile) error {
	if err := l.shapeSystem(f.prj); err != nil {
		return err
	}
	table, err := newDBF(f.dbf, f.cpg)
	if err != nil {
		return &trace.Problem{File: l.file, Cause: "the table (.dbf) of this Shapefile cannot be read: " + err.Error(), Hint: "save the layer again, all its files together"}
	}
	if table == nil && l.ref.NameColumn != "" {
		return &trace.Problem{File: l.file, Field: "name_column", Value: l.ref.NameColumn, Cause: "the Shapefile has no table (.dbf)", Hint: "put the .dbf beside the .shp"}
	}
	r := bufio.NewReaderSize(f.shp, 1<<16)
	kind, err := shapeHeader(r)
	if err != nil {
		return l.badShape(0, err)
	}
	if !l.ref.Background && shapeKinds[kind] == "Polygon" {
		return areasProblem(l.file, "the Shapefile holds areas and no line")
	}
	var record []byte
	for number := 1; ; number++ {
		record, err = shapeRecord(r, record, number)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return l.badShape(number, err)
		}
		s, err := shapeOf(record, l.frame, l.ref.Background)
		if err != nil {
			return l.badShape(number, err)
		}
		row, err := table.next()
		if err != nil {
			return &trace.Problem{File: l.file, Cause: fmt.Sprintf("row %d of the table (.dbf): %v", number, err), Hint: "the Shapefile's files do not belong together, or one is cut short: save the layer again"}
		}
		l.take(s, l.fromColumns(row, nil), 0)
	}
	return nil
}

func (l *layerReader) badShape(number int, err error) error {
	where := ""
	if number > 0 {
		where = fmt.Sprintf("shape %d: ", number)
	}
	return &trace.Problem{File: l.file, Cause: "this Shapefile cannot be read: " + where + err.Error(), Err: err, Hint: "save the layer again, all its files together"}
}

// shapeSystem takes the system from the .prj. A Shapefile without one says nothing
// of its system; then it must be stated, for figures of a grid pass for degrees only
// where they are small.
func (l *layerReader) shapeSystem(prj io.Reader) error {
	if l.ref.CRS != "" {
		return nil
	}
	hint := "name its system in its [[reference]]: crs = \"EPSG:…\""
	if prj == nil {
		return &trace.Problem{File: l.file, Field: "crs", Cause: "the Shapefile has no .prj, so that its reference system is not known", Hint: hint}
	}
	text, err := io.ReadAll(io.LimitReader(prj, 1<<20))
	if err != nil {
		return err
	}
	c, err := geo.FromWKT(string(text))
	if err != nil {
		return &trace.Problem{File: l.file, Field: "crs", Cause: "the .prj of this Shapefile: " + err.Error(), Err: err, Hint: hint}
	}
	return l.ownSystem(c.ID())
}

// shapeKinds names the shape types; those from 11 on have Z, from 21 on M.
var shapeKinds = map[uint32]string{0: "no geometry", 1: "Point", 3: "LineString", 5: "Polygon", 8: "MultiPoint", 11: "Point", 13: "LineString",
	15: "Polygon", 18: "MultiPoint", 21: "Point", 23: "LineString", 25: "Polygon", 28: "MultiPoint", 31: "an unknown geometry"}

const (
	shapeFileCode = 9994
	shapeVersion  = 1000
)

func shapeHeader(r io.Reader) (kind uint32, err error) {
	var h [100]byte
	if _, err := io.ReadFull(r, h[:]); err != nil {
		return 0, errors.New("its header is cut short")
	}
	if binary.BigEndian.Uint32(h[:]) != shapeFileCode || binary.LittleEndian.Uint32(h[28:]) != shapeVersion {
		return 0, errors.New("its header is no Shapefile's")
	}
	kind = binary.LittleEndian.Uint32(h[32:])
	if shapeKinds[kind] == "" {
		return 0, fmt.Errorf("shape type %d is none", kind)
	}
	return kind, nil
}

// shapeRecord reads the content of the next record into a buffer.
func shapeRecord(r io.Reader, buf []byte, number int) ([]byte, error) {
	var h [8]byte
	if _, err := io.ReadFull(r, h[:]); err != nil {
		if errors.Is(err, io.EOF) {
			return nil, io.EOF
		}
		return nil, errors.New("the file ends in the middle of a record's header")
	}
	n := 2 * int64(binary.BigEndian.Uint32(h[4:]))
	if got := binary.BigEndian.Uint32(h[:]); int64(got) != int64(number) {
		return nil, fmt.Errorf("its record number is %d", got)
	}
	if n < 4 || n > maxFeatureBytes {
		return nil, fmt.Errorf("a record of %d bytes", n)
	}
	if int64(cap(buf)) < n {
		buf = make([]byte, n)
	}
	buf = buf[:n]
	if _, err := io.ReadFull(r, buf); err != nil {
		return nil, errors.New("the file ends in the middle of a record")
	}
	return buf, nil
}

// shapeOf reads a shape. What does not hold together is an error of the file;
// a position that is none is an error of the shape.
func shapeOf(b []byte, frame geo.Frame, areas bool) (shape, error) {
	code := binary.LittleEndian.Uint32(b)
	s := shape{kind: shapeKinds[code]}
	if s.kind == "" {
		return s, fmt.Errorf("shape type %d is none", code)
	}
	if s.kind != "LineString" && (s.kind != "Polygon" || !areas) {
		return s, nil
	}
	if len(b) < 44 {
		return s, errors.New("it is cut short")
	}
	parts, points := int64(binary.LittleEndian.Uint32(b[36:])), int64(binary.LittleEndian.Uint32(b[40:]))
	if parts > points || int64(len(b)) < 44+4*parts+16*points {
		return s, fmt.Errorf("%d parts and %d points do not fit into it", parts, points)
	}
	if parts == 0 {
		s.kind = "no geometry"
		return s, nil
	}
	xy := b[44+4*parts:]
	begin := func(k int64) int64 {
		if k == parts {
			return points
		}
		return int64(binary.LittleEndian.Uint32(b[44+4*k:]))
	}
	for k := range parts {
		from, to := begin(k), begin(k+1)
		if from > to || to > points {
			return s, errors.New("its parts do not follow each other")
		}
		line := make([]geo.LonLat, 0, to-from)
		for i := from; i < to; i++ {
			x, y := math.Float64frombits(binary.LittleEndian.Uint64(xy[16*i:])), math.Float64frombits(binary.LittleEndian.Uint64(xy[16*i+8:]))
			p, err := frame.Place(x, y)
			if err != nil {
				s.err = fmt.Errorf("position %d: %w", i+1, err)
				return s, nil
			}
			line = append(line, p)
		}
		s.lines = append(s.lines, line)
	}
	return s, nil
}

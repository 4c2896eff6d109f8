package export

import (
	"fmt"
	"io"
	"strconv"

	"loamline/trace"
)

// GeoJSON writes the sheet as one FeatureCollection of RFC 7946: WGS 84,
// longitude first, in degrees of at most 8 decimals; outer rings
// counter-clockwise; cut at the antimeridian; null where a number is not known.
// The foreign member loamline tells what the map rests on.
//
// It streams: memory does not grow with the number of features.
func GeoJSON(w io.Writer, s *trace.Sheet) error {
	e := &geojsonWriter{w: w, degrees: newDegrees(s.Plane)}
	e.raw(`{"type":"FeatureCollection","loamline":`)
	if err := e.member(s); err != nil {
		return err
	}
	e.raw(`,"features":[`)
	ids := map[string]int{}
	first := true
	for _, l := range layers() {
		for f := range l.Each(s) {
			if !first {
				e.raw(",")
			}
			first = false
			if err := e.feature(l, f, ids); err != nil {
				return fmt.Errorf("line %q, %s: %w", f.Line, l.Role, err)
			}
		}
	}
	e.raw("\n]")
	e.boundingBox()
	e.raw("}\n")
	return e.flush()
}

// geojsonWriter appends to a buffer and hands it on when it is long.
type geojsonWriter struct {
	degrees
	w   io.Writer
	b   []byte
	box box
	err error
}

func (e *geojsonWriter) raw(s string) { e.b = append(e.b, s...) }

func (e *geojsonWriter) flush() error {
	if e.err == nil {
		_, e.err = e.w.Write(e.b)
	}
	e.b = e.b[:0]
	return e.err
}

// feature writes one feature. Its id is role, line and a running number, which
// stay the same as long as the job does.
func (e *geojsonWriter) feature(l layer, f *feature, ids map[string]int) error {
	e.raw("\n{\"type\":\"Feature\",\"id\":")
	key := l.Role + "/" + f.Line
	ids[key]++
	e.b = appendString(e.b, key+"/"+strconv.Itoa(ids[key]))
	e.raw(`,"geometry":`)
	if err := e.geometry(l, f); err != nil {
		return err
	}
	e.raw(`,"properties":{"role":`)
	e.b = appendString(e.b, l.Role)
	e.raw(`,"line":`)
	e.b = appendString(e.b, f.Line)
	e.raw(`,"utility":`)
	e.b = appendString(e.b, string(StyleOf(f.Utility).Utility))
	for i, c := range l.Columns {
		e.raw(`,"` + c.Name + `":`)
		e.b = appendValue(e.b, c, f.Values[i])
	}
	e.raw("}}")
	if len(e.b) > 1<<16 {
		return e.flush()
	}
	return nil
}

// boundingBox writes the extent of all features (RFC 7946, 5); west is greater
// than east where it holds the antimeridian (5.2).
func (e *geojsonWriter) boundingBox() {
	if !e.box.set {
		return
	}
	e.raw(`,"bbox":[`)
	for i, v := range []e8{e.home(e.box.west), e.box.south, e.home(e.box.east), e.box.north} {
		if i > 0 {
			e.raw(",")
		}
		e.b = appendFixed(e.b, int64(v), degreeDecimals)
	}
	e.raw("]")
}

// member writes the foreign member loamline.
func (e *geojsonWriter) member(s *trace.Sheet) error {
	text, err := memberText(s)
	e.raw(text)
	return err
}

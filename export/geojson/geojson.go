package geojson

import (
	"fmt"
	"io"
	"strconv"

	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/member"
	"loamline.example/export/place"
	"loamline.example/export/style"
	"loamline.example/trace"
)

// Write writes the sheet as one FeatureCollection of RFC 7946: WGS 84,
// longitude first, in degrees of at most 8 decimals; outer rings
// counter-clockwise; cut at the antimeridian; null where a number is not known.
// The foreign member loamline tells what the map rests on.
//
// It streams: memory does not grow with the number of features.
func Write(w io.Writer, s *trace.Sheet) error {
	return WriteSharing(w, s, &place.Areas{Degrees: place.NewDegrees(s.Plane)})
}

// WriteSharing is Write with the zones of the sheet as others write them too.
func WriteSharing(w io.Writer, s *trace.Sheet, areas *place.Areas) error {
	e := &writer{w: w, Areas: areas}
	e.raw(`{"type":"FeatureCollection","loamline":`)
	if err := e.member(s); err != nil {
		return err
	}
	e.raw(`,"features":[`)
	ids := map[string]int{}
	first := true
	for _, l := range layer.All() {
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

// writer appends to a buffer and hands it on when it is long.
type writer struct {
	*place.Areas
	w   io.Writer
	b   []byte
	box place.Box
	err error
}

func (e *writer) raw(s string) { e.b = append(e.b, s...) }

func (e *writer) flush() error {
	if e.err == nil {
		_, e.err = e.w.Write(e.b)
	}
	e.b = e.b[:0]
	return e.err
}

// feature writes one feature. Its id is role, line and a running number, which
// stay the same as long as the job does.
func (e *writer) feature(l layer.Layer, f *layer.Feature, ids map[string]int) error {
	e.raw("\n{\"type\":\"Feature\",\"id\":")
	key := l.Role + "/" + f.Line
	ids[key]++
	e.b = literal.AppendJSON(e.b, key+"/"+strconv.Itoa(ids[key]))
	e.raw(`,"geometry":`)
	if err := e.geometry(l, f); err != nil {
		return err
	}
	e.raw(`,"properties":{"role":`)
	e.b = literal.AppendJSON(e.b, l.Role)
	e.raw(`,"line":`)
	e.b = literal.AppendJSON(e.b, f.Line)
	e.raw(`,"utility":`)
	e.b = literal.AppendJSON(e.b, string(style.Of(f.Utility).Utility))
	for i, c := range l.Columns {
		e.raw(`,"`)
		e.raw(c.Name)
		e.raw(`":`)
		e.b = layer.AppendJSON(e.b, c, f.Values[i])
	}
	e.raw("}}")
	if len(e.b) > 1<<16 {
		return e.flush()
	}
	return nil
}

// boundingBox writes the extent of all features (RFC 7946, 5); west is greater
// than east where it holds the antimeridian (5.2).
func (e *writer) boundingBox() {
	if !e.box.Set {
		return
	}
	e.raw(`,"bbox":[`)
	for i, v := range []place.E8{e.Home(e.box.West), e.box.South, e.Home(e.box.East), e.box.North} {
		if i > 0 {
			e.raw(",")
		}
		e.b = literal.AppendFixed(e.b, int64(v), place.DegreeDecimals)
	}
	e.raw("]")
}

// member writes the foreign member loamline.
func (e *writer) member(s *trace.Sheet) error {
	text, err := member.Text(s)
	e.raw(text)
	return err
}

package intake

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
)

// feature is what a layer's feature is read for. Member names match in any
// case, which encoding/json sees to.
type feature struct {
	ID         any        `json:"id"`
	Geometry   *geometry  `json:"geometry"`
	Properties properties `json:"properties"`

	name  any  // of the column of names, where one is asked for
	named bool // it is there
}

type properties struct {
	Name     any `json:"name"`
	Line     any `json:"line"`
	Label    any `json:"label"`
	ID       any `json:"id"`
	ObjectID any `json:"objectid"`
	FID      any `json:"fid"`
	Utility  any `json:"utility"`
	DepthM   any `json:"depth_m"`
	DepthFt  any `json:"depth_ft"`
	DepthIn  any `json:"depth_in"`
	DepthCm  any `json:"depth_cm"`
}

type geometry struct {
	Type        string          `json:"type"`
	Coordinates json.RawMessage `json:"coordinates"`
}

// toldFeatures is how many wrong features of a layer are told one by one.
const toldFeatures = 20

// maxRecordDepthM bounds what a record's depth can be; deeper ones are a slip
// of the unit.
const maxRecordDepthM = 100.0

// next decodes a feature of the list.
func (rd *recordReader) next() (f feature, err error) {
	if rd.ref.NameColumn == "" {
		return f, rd.dec.Decode(&f)
	}
	var raw struct {
		ID         any             `json:"id"`
		Geometry   *geometry       `json:"geometry"`
		Properties json.RawMessage `json:"properties"`
	}
	if err := rd.dec.Decode(&raw); err != nil {
		return f, err
	}
	f.ID, f.Geometry = raw.ID, raw.Geometry
	return f, rd.fill(&f, raw.Properties)
}

// properties decodes those of a feature that stands alone.
func (rd *recordReader) properties(f *feature) error {
	var raw json.RawMessage
	if err := rd.dec.Decode(&raw); err != nil {
		return err
	}
	return rd.fill(f, raw)
}

// fill takes a feature's properties, with the column of names.
func (rd *recordReader) fill(f *feature, raw json.RawMessage) error {
	if len(raw) == 0 {
		return nil
	}
	if err := json.Unmarshal(raw, &f.Properties); err != nil {
		return err
	}
	if rd.ref.NameColumn == "" {
		return nil
	}
	all := map[string]any{}
	if err := json.Unmarshal(raw, &all); err != nil {
		return err
	}
	f.name, f.named = rd.column(all)
	return nil
}

// column is the value of the column of names; the layer's columns are kept for
// who named one that is not there.
func (l *layerReader) column(all map[string]any) (v any, named bool) {
	if v, named = all[l.ref.NameColumn]; named {
		return v, true
	}
	for name, v := range all {
		if strings.EqualFold(name, l.ref.NameColumn) {
			return v, true
		}
	}
	if l.fields == nil {
		l.fields = slices.Sorted(maps.Keys(all))
	}
	return nil, false
}

func (rd *recordReader) row() int { return rd.lines.line(rd.dec.InputOffset()) }

// add takes a feature.
func (rd *recordReader) add(f feature) {
	p := f.Properties
	a := attributes{utility: p.Utility, named: f.named,
		name: f.name, depth: p.DepthM, depthFactor: 1}
	if rd.ref.NameColumn == "" {
		a.name = firstName(p.Name, p.Line, p.Label, p.ID, p.ObjectID, p.FID, f.ID)
	}
	a.orDepth(p.DepthFt, p.DepthIn, p.DepthCm)
	rd.take(f.shape(rd.frame, rd.ref.Background), a, rd.row())
}

// firstName is the first that is a name: a text or a number.
func firstName(values ...any) any {
	for _, v := range values {
		switch v := v.(type) {
		case string:
			if strings.TrimSpace(v) != "" {
				return v
			}
		case float64, int64:
			return v
		}
	}
	return nil
}

// shape reads a feature's geometry; areas only where they are wanted.
func (f feature) shape(frame geo.Frame, areas bool) (s shape) {
	if f.Geometry == nil {
		return shape{kind: "no geometry"}
	}
	s.kind = f.Geometry.Type
	p := positionParser{text: f.Geometry.Coordinates, frame: frame}
	switch {
	case s.kind == "LineString":
		s.lines = make([][]geo.LonLat, 1)
		s.lines[0], s.err = p.line()
	case s.kind == "MultiLineString", s.kind == "Polygon" && areas:
		s.lines, s.err = p.lines()
	case s.kind == "MultiPolygon" && areas:
		s.lines, s.err = p.polygons()
	case s.kind != "Point" && s.kind != "MultiPoint" && s.kind != "Polygon" && s.kind != "MultiPolygon" && s.kind != "GeometryCollection":
		s.kind = "an unknown geometry"
	}
	return s
}

func lower(v any) any {
	if s, ok := v.(string); ok {
		return strings.ToLower(strings.TrimSpace(s))
	}
	return v
}

// orDepth takes the first other depth that is given where there is none in metres.
func (a *attributes) orDepth(ft, in, cm any) {
	for _, u := range []struct {
		v any
		f float64
	}{{ft, geo.FootM}, {in, geo.InchM}, {cm, 0.01}} {
		if a.depth == nil {
			a.depth, a.depthFactor = u.v, u.f
		}
	}
}

// depths spreads a number over all n vertices, or takes a list with one number
// a vertex. It is not ok if there is a depth that cannot be used.
func (a attributes) depths(n int) (depthM []float64, ok bool) {
	given, factor := a.depth, a.depthFactor
	depthM, ok = make([]float64, n), true
	set := func(i int, v any) {
		d, number := v.(float64)
		d *= factor
		if depthM[i] = trace.Unknown; number && d > 0 && d <= maxRecordDepthM {
			depthM[i] = d
		} else if v != nil {
			ok = false
		}
	}
	list, isList := given.([]any)
	if isList && len(list) != n {
		given, isList, list = "a list of another length", false, nil
	}
	for i := range depthM {
		if isList {
			set(i, list[i])
		} else {
			set(i, given)
		}
	}
	return depthM, ok
}

// positionParser reads nested lists of numbers; encoding/json takes several
// times as long for them, and they are nearly all of a city's layer.
type positionParser struct {
	text  []byte
	at    int
	frame geo.Frame
}

var errNoPositions = fmt.Errorf("its coordinates are not a list of positions")

// lines reads a list of lines, or of an area's rings.
func (p *positionParser) lines() ([][]geo.LonLat, error) {
	var lines [][]geo.LonLat
	if !p.take('[') {
		return nil, errNoPositions
	}
	for !p.take(']') {
		line, err := p.line()
		if err != nil {
			return nil, err
		}
		lines = append(lines, line)
		p.take(',')
	}
	return lines, nil
}

// polygons reads the rings of several areas.
func (p *positionParser) polygons() ([][]geo.LonLat, error) {
	var rings [][]geo.LonLat
	if !p.take('[') {
		return nil, errNoPositions
	}
	for !p.take(']') {
		more, err := p.lines()
		if err != nil {
			return nil, err
		}
		rings = append(rings, more...)
		p.take(',')
	}
	return rings, nil
}

// take passes over a character, if it is the next one.
func (p *positionParser) take(c byte) bool {
	for p.at < len(p.text) && (p.text[p.at] == ' ' || p.text[p.at] == '\n' || p.text[p.at] == '\r' || p.text[p.at] == '\t') {
		p.at++
	}
	if p.at < len(p.text) && p.text[p.at] == c {
		p.at++
		return true
	}
	return false
}

func (p *positionParser) line() ([]geo.LonLat, error) {
	if !p.take('[') {
		return nil, errNoPositions
	}
	var line []geo.LonLat
	for !p.take(']') {
		pos, err := p.position()
		if err != nil {
			return nil, err
		}
		line = append(line, pos)
		p.take(',')
	}
	return line, nil
}

func (p *positionParser) position() (geo.LonLat, error) {
	if !p.take('[') {
		return geo.LonLat{}, errNoPositions
	}
	v := [2]float64{math.NaN(), math.NaN()}
	n := 0
	for ; !p.take(']'); n++ {
		number, ok := p.number()
		if !ok {
			return geo.LonLat{}, errNoPositions
		}
		if n < 2 {
			v[n] = number
		}
		p.take(',')
	}
	if n < 2 {
		return geo.LonLat{}, fmt.Errorf("a position has fewer than two numbers")
	}
	return p.frame.Place(v[0], v[1])
}

func (p *positionParser) number() (float64, bool) {
	from := p.at
	for p.at < len(p.text) {
		if c := p.text[p.at]; c != '-' && c != '+' && c != '.' && c != 'e' && c != 'E' && (c < '0' || c > '9') {
			break
		}
		p.at++
	}
	v, err := strconv.ParseFloat(string(p.text[from:p.at]), 64)
	return v, err == nil
}

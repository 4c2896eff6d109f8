package intake

import (
	"encoding/json"
	"fmt"
	"math"
	"path"
	"strconv"
	"strings"

	"loamline/geo"
	"loamline/trace"
)

// feature is what a layer's feature is read for. Member names match in any
// case, which encoding/json sees to.
type feature struct {
	ID         any       `json:"id"`
	Geometry   *geometry `json:"geometry"`
	Properties struct {
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
	} `json:"properties"`
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

// add takes the lines of a feature.
func (rd *recordReader) add(f feature) {
	rd.feature++
	if f.Geometry == nil {
		rd.skipped["no geometry"]++
		return
	}
	var lines [][]geo.LonLat
	var err error
	switch f.Geometry.Type {
	case "LineString":
		lines = make([][]geo.LonLat, 1)
		lines[0], err = parseLine(f.Geometry.Coordinates, rd.frame)
	case "MultiLineString":
		lines, err = parseLines(f.Geometry.Coordinates, rd.frame)
	case "Point", "MultiPoint", "Polygon", "MultiPolygon", "GeometryCollection":
		rd.skipped[f.Geometry.Type]++
		return
	default:
		rd.skipped["an unknown geometry"]++
		return
	}
	for _, l := range lines {
		if err == nil && len(l) < 2 {
			err = fmt.Errorf("a line has %d positions; it needs two", len(l))
		}
	}
	if err != nil {
		rd.leave(f, err)
		return
	}
	kind := rd.utility
	_ = utility(&kind)(lower(f.Properties.Utility)) // somebody else's classes say nothing here
	for _, l := range lines {
		depths, ok := f.depths(len(l))
		if !ok {
			rd.deepless++
		}
		rd.records = append(rd.records, trace.GeoRecord{Name: rd.nameOf(f), Source: rd.file, Utility: kind, Path: l, DepthM: depths})
	}
}

// leave reports a feature that cannot be used.
func (rd *recordReader) leave(f feature, err error) {
	if rd.wrong++; rd.wrong <= toldFeatures {
		rd.problems = append(rd.problems, trace.Problem{File: rd.file, Row: rd.lines.line(rd.dec.InputOffset()), Warn: true,
			Field: fmt.Sprintf("feature %d", rd.feature), Value: trace.Shorten(rd.nameOf(f)), Cause: err.Error(), Hint: "it is left out; correct it in the layer"})
	}
}

func lower(v any) any {
	if s, ok := v.(string); ok {
		return strings.ToLower(strings.TrimSpace(s))
	}
	return v
}

func (rd *recordReader) nameOf(f feature) string {
	p := f.Properties
	for _, v := range []any{p.Name, p.Line, p.Label, p.ID, p.ObjectID, p.FID, f.ID} {
		switch v := v.(type) {
		case string:
			if v = strings.TrimSpace(v); len(v) > trace.MaxNameBytes {
				return cutText(v, trace.MaxNameBytes, true)
			} else if v != "" {
				return v
			}
		case float64:
			return strconv.FormatFloat(v, 'f', -1, 64)
		}
	}
	base := path.Base(rd.file)
	return fmt.Sprintf("%s %d", strings.TrimSuffix(base, path.Ext(base)), rd.feature)
}

// depths spreads a number over all n vertices, or takes a list with one number
// a vertex. It is not ok if there is a depth that cannot be used.
func (f feature) depths(n int) (depthM []float64, ok bool) {
	given, factor := f.Properties.DepthM, 1.0
	for _, u := range []struct {
		v any
		f float64
	}{{f.Properties.DepthFt, geo.FootM}, {f.Properties.DepthIn, geo.InchM}, {f.Properties.DepthCm, 0.01}} {
		if given == nil {
			given, factor = u.v, u.f
		}
	}
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

// parseLine reads the coordinates of a LineString, which are known to be JSON.
func parseLine(raw []byte, frame geo.Frame) ([]geo.LonLat, error) {
	p := positionParser{text: raw, frame: frame}
	line, err := p.line()
	return line, err
}

// parseLines reads the coordinates of a MultiLineString.
func parseLines(raw []byte, frame geo.Frame) ([][]geo.LonLat, error) {
	p := positionParser{text: raw, frame: frame}
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

// positionParser reads nested lists of numbers; encoding/json takes several
// times as long for them, and they are nearly all of a city's layer.
type positionParser struct {
	text  []byte
	at    int
	frame geo.Frame
}

var errNoPositions = fmt.Errorf("its coordinates are no list of positions")

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
	return framed(p.frame, v[0], v[1])
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

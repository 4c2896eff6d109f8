package intake

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/setting"
)

// layerReader gathers the records of one reference layer, whatever its format:
// the format's reader brings the features, and here is decided what becomes of
// each.
type layerReader struct {
	file     string
	ref      ReferenceFile
	epoch    float64 // of the layer's positions
	frame    geo.Frame
	records  []trace.GeoRecord
	problems []trace.Problem
	skipped  map[string]int // features by what they are instead of lines
	feature  int            // features so far, the one at hand included
	number   int            // of the feature at hand in its layer; 0 takes its place in the order
	wrong    int            // features left out for what is in them
	deepless int            // lines whose depth could not be used
	nameless int            // features without the column of names
	fields   []string       // names of the first feature's properties, where a column of names is asked for
}

// newLayerReader starts with the frame that is stated beside the layer.
func newLayerReader(ref ReferenceFile, epoch float64) (*layerReader, error) {
	frame, err := geo.NewFrame(ref.CRS, ref.Datum, epoch)
	if err != nil {
		return nil, &trace.Problem{File: ref.Name, Cause: err.Error(), Err: err, Hint: "name the frame of the layer in its [[reference]]: crs, datum and epoch"}
	}
	return &layerReader{file: ref.Name, ref: ref, epoch: epoch, frame: frame, skipped: map[string]int{}}, nil
}

// ownSystem takes the system that the layer itself names, as "EPSG:2229". What is
// stated beside the layer goes before it.
func (l *layerReader) ownSystem(crs string) error {
	if l.ref.CRS != "" {
		return nil
	}
	frame, err := geo.NewFrame(crs, l.ref.Datum, l.epoch)
	if err != nil {
		return &trace.Problem{File: l.file, Field: "crs", Value: crs, Cause: err.Error(), Err: err,
			Hint: "name the layer's system in its [[reference]]: crs = \"EPSG:…\", or save the layer in one that is known"}
	}
	l.frame = frame
	return nil
}

// shape is a feature's geometry, in WGS 84.
type shape struct {
	kind  string // as GeoJSON names it; "no geometry" where there is none
	lines [][]geo.LonLat
	err   error // what is wrong with it
}

// attributes are what a feature is read for.
type attributes struct {
	name, utility any
	depth         any // a number or a list
	depthFactor   float64
	named         bool // the column of names is there
}

// take decides about one feature; row is its line of the file, 0 where it has none.
func (l *layerReader) take(s shape, a attributes, row int) {
	l.feature++
	if l.ref.NameColumn != "" && !a.named {
		l.nameless++
	}
	areas := strings.HasSuffix(s.kind, "Polygon")
	switch {
	case s.err != nil:
		l.leave(a, row, s.err)
		return
	case areas && !l.ref.Background, !areas && !strings.HasSuffix(s.kind, "LineString"):
		l.skipped[s.kind]++
		return
	}
	for _, line := range s.lines {
		if len(line) < 2 {
			l.leave(a, row, fmt.Errorf("a line has %d positions; it needs two", len(line)))
			return
		}
	}
	kind := l.ref.Utility
	_ = utility(&kind)(lower(a.utility)) // somebody else's classes say nothing here
	name := l.nameOf(a)
	for _, line := range s.lines {
		if isPlace(line) {
			l.skipped[placeKind]++
			continue
		}
		if l.ref.Background {
			l.records = append(l.records, trace.GeoRecord{Name: name, Source: l.file, Path: line, Background: true})
			continue
		}
		depths, ok := a.depths(len(line))
		if !ok {
			l.deepless++
		}
		l.records = append(l.records, trace.GeoRecord{Name: name, Source: l.file, Utility: kind, Path: line, DepthM: depths})
	}
}

// placeKind is a line that is drawn as one and has no length: a valve, a pole.
const placeKind = "a line without length"

// isPlace reports whether all positions of a line are one place, to a millimetre or so.
func isPlace(line []geo.LonLat) bool {
	const tinyDeg = 1e-8
	for _, p := range line[1:] {
		if d := p.LatDeg - line[0].LatDeg; d > tinyDeg || d < -tinyDeg {
			return false
		}
		if d := p.LonDeg - line[0].LonDeg; d > tinyDeg || d < -tinyDeg {
			return false
		}
	}
	return true
}

// leave reports a feature that cannot be used.
func (l *layerReader) leave(a attributes, row int, err error) {
	if l.wrong++; l.wrong <= toldFeatures {
		l.problems = append(l.problems, trace.Problem{File: l.file, Row: row, Warn: true,
			Field: fmt.Sprintf("feature %d", l.numbered()), Value: trace.Shorten(l.nameOf(a)), Cause: err.Error(), Hint: "it is left out; correct it in the layer"})
	}
}

func (l *layerReader) nameOf(a attributes) string {
	switch v := a.name.(type) {
	case string:
		if v = strings.TrimSpace(v); len(v) > setting.MaxNameBytes {
			return cutText(v, setting.MaxNameBytes, true)
		} else if v != "" {
			return v
		}
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case int64:
		return strconv.FormatInt(v, 10)
	}
	base := path.Base(l.file)
	if l.ref.Layer != "" {
		base = l.ref.Layer
	}
	return fmt.Sprintf("%s %d", strings.TrimSuffix(base, path.Ext(base)), l.numbered())
}

// numbered is by what the feature at hand is found in its layer, from 1.
func (l *layerReader) numbered() int {
	if l.number != 0 {
		return l.number
	}
	return l.feature
}

// tellSkipped says what was left out, by kinds.
func (l *layerReader) tellSkipped() {
	warn := func(n int, cause, hint string) {
		if n > 0 {
			l.problems = append(l.problems, trace.Problem{File: l.file, Warn: true, Cause: fmt.Sprintf(cause, n), Hint: hint})
		}
	}
	only, instead := "only lines are records of lines", "leave them out, or save them as lines if they are lines"
	if l.ref.Background {
		only, instead = "only lines and areas are drawn as background", "leave them out of the layer"
	}
	warn(l.wrong-toldFeatures, "%d more features cannot be used", "correct them, or leave them out of the layer")
	for _, kind := range []string{"Point", "MultiPoint", placeKind, "Polygon", "MultiPolygon", "GeometryCollection", "no geometry", "an unknown geometry"} {
		warn(l.skipped[kind], "%d features with "+kind+" are not used: "+only, instead)
	}
	warn(l.deepless, "%d lines have a depth that cannot be used", "depth_m (or _ft, _in, _cm) is a number, or a list with one number per vertex, and more than 0")
	if l.wrong > 0 && !l.ref.Background {
		first := slices.IndexFunc(l.problems, func(p trace.Problem) bool { return strings.HasPrefix(p.Field, "feature ") })
		l.problems[first].Check = remark.LayerIncomplete{Source: l.file, N: l.wrong}
	}
	if len(l.records) == 0 && len(l.problems) == 0 {
		l.problems = append(l.problems, trace.Problem{File: l.file, Warn: true, Cause: "there is no line in the layer", Hint: layerHint, Check: remark.LayerFar{Source: l.file}})
	}
}

// finish gives the records out, or the error for which none can be used.
func (l *layerReader) finish() ([]trace.GeoRecord, []trace.Problem, error) {
	if l.ref.NameColumn != "" && l.feature > 0 && l.nameless == l.feature {
		hint := "the layer's features have no properties"
		if len(l.fields) > 0 {
			hint = "name_column is one of: " + strings.Join(l.fields, ", ")
		}
		return nil, nil, &trace.Problem{File: l.file, Field: "name_column", Value: l.ref.NameColumn, Cause: "no feature of the layer has this column", Hint: hint}
	}
	if len(l.records) == 0 && l.wrong > 0 {
		first := l.problems[0]
		first.Cause = fmt.Sprintf("none of the %d lines can be used; the first: %s", l.wrong, first.Cause)
		first.Warn, first.Hint = false, layerHint
		return nil, nil, &first
	}
	if err := l.wrongKind(); err != nil {
		return nil, nil, err
	}
	l.tellSkipped()
	return l.records, l.problems, nil
}

// wrongKind refuses a layer of areas where lines are wanted: it was named by
// mistake, or is background.
func (l *layerReader) wrongKind() error {
	areas := l.skipped["Polygon"] + l.skipped["MultiPolygon"]
	if len(l.records) > 0 || areas == 0 || areas < l.feature-l.skipped["no geometry"] {
		return nil
	}
	return areasProblem(l.file, fmt.Sprintf("the layer holds %d areas and no line", areas))
}

func areasProblem(file, cause string) *trace.Problem {
	return &trace.Problem{File: file, Cause: cause, Hint: "name a layer of lines, or, for kerbs and buildings, say role = \"background\" in its [[reference]]"}
}

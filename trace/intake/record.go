package intake

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"loamline/geo"
	"loamline/trace"
)

// layerHint is what to do with a layer that cannot be used as it is.
const layerHint = "save the layer as GeoJSON by RFC 7946: lines, longitude and latitude in WGS 84"

// ReadRecords reads the lines of a GeoJSON reference layer, feature by feature,
// so that a city's whole network takes no more memory than its lines. Lines and
// multi-lines count; features of other kinds, and those with an impossible
// position, are left out and told.
//
// A line's name is its property name, line, label, id, objectid or fid, in any
// case, else the feature's own id, else its number. Its utility is the property
// of that name if it is a class of ours, else the one given. Its depth, taken
// to the centre, is the number or the list (one a vertex) depth_m, depth_ft,
// depth_in or depth_cm. Heights in positions are no depths and are left out.
func ReadRecords(r io.Reader, file string, utility trace.Utility) ([]trace.GeoRecord, []trace.Problem, error) {
	frame, err := geo.NewFrame("", "", 0)
	if err != nil {
		return nil, nil, err
	}
	return newRecordReader(r, file, utility, frame).read()
}

func newRecordReader(r io.Reader, file string, utility trace.Utility, frame geo.Frame) *recordReader {
	rd := &recordReader{file: file, utility: utility, frame: frame, skipped: map[string]int{}, lines: &lineCounter{r: withoutSeparators{withoutMark(r)}}}
	rd.dec = json.NewDecoder(rd.lines)
	return rd
}

func (rd *recordReader) read() ([]trace.GeoRecord, []trace.Problem, error) {
	file := rd.file
	if err := rd.documents(); err != nil {
		var p *trace.Problem
		if errors.As(err, &p) {
			return nil, nil, err
		}
		cause, at := "this is no GeoJSON: "+err.Error(), rd.nextValue()
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			cause, at = "this is no whole GeoJSON: the file ends too early", rd.lines.read
		}
		return nil, nil, &trace.Problem{File: file, Row: rd.lines.line(at), Cause: cause, Err: err, Hint: layerHint}
	}
	if len(rd.records) == 0 && rd.wrong > 0 {
		first := rd.problems[0]
		first.Cause = fmt.Sprintf("none of the %d lines can be used; the first: %s", rd.wrong, first.Cause)
		first.Warn, first.Hint = false, layerHint
		return nil, nil, &first
	}
	rd.tellSkipped()
	return rd.records, rd.problems, nil
}

// recordReader is the state of reading one layer.
type recordReader struct {
	file     string
	utility  trace.Utility
	frame    geo.Frame
	given    bool // the frame was named beside the layer, which goes before its own word
	dec      *json.Decoder
	lines    *lineCounter
	records  []trace.GeoRecord
	problems []trace.Problem
	skipped  map[string]int // features by what they are instead of lines
	feature  int            // number of the feature at hand, from 1
	wrong    int            // features left out for what is in them
	deepless int            // lines whose depth could not be used
}

// withoutMark passes over a byte-order mark, which some programs put before JSON.
func withoutMark(r io.Reader) io.Reader {
	buf := bufio.NewReader(r)
	if head, _ := buf.Peek(len(byteOrderMark)); string(head) == byteOrderMark {
		_, _ = buf.Discard(len(byteOrderMark))
	}
	return buf
}

// documents walks every object of the file: one, or features line by line.
func (rd *recordReader) documents() error {
	for {
		if err := rd.document(); err != nil {
			return err
		}
		if !rd.dec.More() {
			// More is also false before what is no value at all.
			if _, err := rd.dec.Token(); !errors.Is(err, io.EOF) {
				return fmt.Errorf("something stands behind its end: %w", err)
			}
			return nil
		}
		rd.lines.pass(rd.dec.InputOffset())
	}
}

// withoutSeparators blanks the record separators of a text sequence (RFC 8142),
// which stand in no JSON text.
type withoutSeparators struct{ r io.Reader }

// Read implements io.Reader.
func (w withoutSeparators) Read(p []byte) (int, error) {
	const recordSeparator = 0x1e
	n, err := w.r.Read(p)
	for i, b := range p[:n] {
		if b == recordSeparator {
			p[i] = ' '
		}
	}
	return n, err
}

// document walks the top object without keeping it.
func (rd *recordReader) document() error {
	if t, err := rd.dec.Token(); err != nil {
		return err
	} else if t != json.Delim('{') {
		return errors.New("it does not begin with an object")
	}
	var kind string
	var whole feature
	hasFeatures := false
	for rd.dec.More() {
		key, err := rd.dec.Token()
		if err != nil {
			return err
		}
		switch key {
		case "features":
			hasFeatures = true
			err = rd.features()
		case "type":
			err = rd.dec.Decode(&kind)
		case "crs":
			err = rd.crs()
		case "geometry":
			err = rd.dec.Decode(&whole.Geometry)
		case "properties":
			err = rd.dec.Decode(&whole.Properties)
		case "id":
			err = rd.dec.Decode(&whole.ID)
		case "coordinates":
			whole.Geometry = &geometry{}
			err = rd.dec.Decode(&whole.Geometry.Coordinates)
		default:
			var unused json.RawMessage
			err = rd.dec.Decode(&unused)
		}
		if err != nil {
			return err
		}
		rd.lines.pass(rd.dec.InputOffset())
	}
	if _, err := rd.dec.Token(); err != nil {
		return err
	}
	switch kind {
	case "FeatureCollection":
		if !hasFeatures {
			return errors.New("the collection has no 'features'")
		}
		return nil
	case "Feature":
	case "LineString", "MultiLineString":
		if whole.Geometry == nil {
			return errors.New("the geometry has no 'coordinates'")
		}
		whole.Geometry.Type = kind
	default:
		return fmt.Errorf("its type is %q", kind)
	}
	rd.add(whole)
	return nil
}

// nextValue is the byte at which the value begins that could not be read.
func (rd *recordReader) nextValue() int64 {
	rest, _ := io.ReadAll(rd.dec.Buffered())
	return rd.dec.InputOffset() + int64(len(rest)-len(bytes.TrimLeft(rest, " \t\r\n,")))
}

func (rd *recordReader) features() error {
	if t, err := rd.dec.Token(); err != nil {
		return err
	} else if t != json.Delim('[') {
		return errors.New("'features' is no list")
	}
	for rd.dec.More() {
		rd.lines.pass(rd.dec.InputOffset())
		var f feature
		err := rd.dec.Decode(&f)
		var misfit *json.UnmarshalTypeError
		switch {
		case errors.As(err, &misfit):
			rd.feature++
			what := "it"
			if misfit.Field != "" {
				what = "its " + misfit.Field
			}
			rd.leave(feature{}, fmt.Errorf("it is no feature: %s is a JSON %s", what, misfit.Value))
		case err != nil:
			return err
		default:
			rd.add(f)
		}
	}
	_, err := rd.dec.Token()
	return err
}

// crs honours the old crs member, where it stands before the features and names a
// system that is known.
func (rd *recordReader) crs() error {
	var c *struct {
		Properties struct {
			Name string `json:"name"`
		} `json:"properties"`
	}
	if err := rd.dec.Decode(&c); err != nil {
		return err
	}
	if c == nil || rd.given {
		return nil
	}
	name := strings.ToUpper(c.Properties.Name)
	if strings.HasSuffix(name, "CRS84") || strings.HasSuffix(name, ":4326") {
		return nil
	}
	if frame, err := geo.NewFrame(crsName(name), "", rd.frame.Epoch); err == nil && rd.feature == 0 {
		rd.frame = frame
		return nil
	}
	return &trace.Problem{File: rd.file, Row: rd.lines.line(rd.dec.InputOffset()), Field: "crs", Value: c.Properties.Name,
		Cause: "the layer is not in WGS 84 degrees", Hint: layerHint}
}

// tellSkipped says what was left out, by kinds.
func (rd *recordReader) tellSkipped() {
	warn := func(n int, cause, hint string) {
		if n > 0 {
			rd.problems = append(rd.problems, trace.Problem{File: rd.file, Warn: true, Cause: fmt.Sprintf(cause, n), Hint: hint})
		}
	}
	warn(rd.wrong-toldFeatures, "%d more features cannot be used", "correct them, or leave them out of the layer")
	for _, kind := range []string{"Point", "MultiPoint", "Polygon", "MultiPolygon", "GeometryCollection", "no geometry", "an unknown geometry"} {
		warn(rd.skipped[kind], "%d features with "+kind+" are not used: only lines are records of lines", "leave them out, or save them as lines if they are lines")
	}
	warn(rd.deepless, "%d lines have a depth that cannot be used", "depth_m (or _ft, _in, _cm) is a number, or a list with one number a vertex, and more than 0")
	if len(rd.records) == 0 && len(rd.problems) == 0 {
		rd.problems = append(rd.problems, trace.Problem{File: rd.file, Warn: true, Cause: "there is no line in the layer", Hint: layerHint})
	}
}

package intake

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"loamline.example/trace"
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
	l, err := newLayerReader(ReferenceFile{File: File{Name: file}, Utility: utility}, 0)
	if err != nil {
		return nil, nil, err
	}
	if err := readGeoJSON(l, r); err != nil {
		return nil, nil, err
	}
	return l.finish()
}

// readGeoJSON reads the features of a GeoJSON layer.
func readGeoJSON(l *layerReader, r io.Reader) error {
	rd := &recordReader{layerReader: l, lines: &lineCounter{r: withoutSeparators{withoutMark(r)}}}
	rd.dec = json.NewDecoder(rd.lines)
	if err := rd.documents(); err != nil {
		var p *trace.Problem
		if errors.As(err, &p) {
			return err
		}
		cause, at := "this is not GeoJSON: "+err.Error(), rd.nextValue()
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			cause, at = "this is not a whole GeoJSON file: it ends too early", rd.lines.read
		}
		return &trace.Problem{File: l.file, Row: rd.lines.line(at), Cause: cause, Err: err, Hint: layerHint}
	}
	return nil
}

// recordReader is the state of reading one GeoJSON layer.
type recordReader struct {
	*layerReader
	dec   *json.Decoder
	lines *lineCounter
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
				return fmt.Errorf("there is text after its end: %w", err)
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
			err = rd.properties(&whole)
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
	case "LineString", "MultiLineString", "Polygon", "MultiPolygon":
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
		return errors.New("'features' is not a list")
	}
	for rd.dec.More() {
		rd.lines.pass(rd.dec.InputOffset())
		f, err := rd.next()
		var misfit *json.UnmarshalTypeError
		switch {
		case errors.As(err, &misfit):
			rd.feature++
			what := "it"
			if misfit.Field != "" {
				what = "its " + misfit.Field
			}
			rd.leave(attributes{}, rd.row(), fmt.Errorf("it is not a feature: %s is a JSON %s", what, misfit.Value))
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
	if c == nil || rd.ref.CRS != "" {
		return nil
	}
	name := strings.ToUpper(c.Properties.Name)
	if strings.HasSuffix(name, "CRS84") || strings.HasSuffix(name, ":4326") {
		return nil
	}
	if rd.feature == 0 && rd.ownSystem(crsName(name)) == nil {
		return nil
	}
	return &trace.Problem{File: rd.file, Row: rd.lines.line(rd.dec.InputOffset()), Field: "crs", Value: c.Properties.Name,
		Cause: "the layer is not in WGS 84 degrees", Hint: layerHint}
}

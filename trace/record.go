package trace

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"loamline/geo"
)

// GeoRecord is a line known from a reference layer, before it is brought into
// the job's plane. Positions are WGS 84 degrees.
type GeoRecord struct {
	Name    string
	Source  string
	Utility Utility
	Path    []geo.LonLat
	DepthM  []float64 // one a vertex, Unknown where not given
}

// geoFeature is what a layer's feature is read for.
type geoFeature struct {
	Type     string `json:"type"`
	ID       any    `json:"id"`
	Geometry *struct {
		Type        string          `json:"type"`
		Coordinates json.RawMessage `json:"coordinates"`
	} `json:"geometry"`
	Properties map[string]any `json:"properties"`
}

// ReadRecords reads the lines of a GeoJSON reference layer, feature by feature.
// Lines and multi-lines count; other geometries are skipped and told. A line's
// name is its property name, line, label or id in any case, its utility the
// property of that name if it is a class of ours, else the one given, and its
// depth (to the centre) the number or the list depth_m. Heights in positions
// are no depths and are left out.
func ReadRecords(r io.Reader, file string, utility Utility) ([]GeoRecord, []Problem, error) {
	rd := recordReader{file: file, utility: utility, skipped: map[string]int{}}
	dec := json.NewDecoder(r)
	if err := rd.document(dec); err != nil {
		var p *Problem
		if errors.As(err, &p) {
			return nil, nil, err
		}
		return nil, nil, &Problem{File: file, Cause: "this is no GeoJSON: " + err.Error(), Err: err,
			Hint: fmt.Sprintf("look at byte %d; a reference layer is a GeoJSON FeatureCollection of lines", dec.InputOffset())}
	}
	var problems []Problem
	for _, kind := range []string{"Point", "MultiPoint", "Polygon", "MultiPolygon", "GeometryCollection", "no geometry", "other"} {
		if n := rd.skipped[kind]; n > 0 {
			problems = append(problems, Problem{File: file, Warn: true, Cause: fmt.Sprintf("%d features with %s were skipped: only lines are records of lines", n, kind)})
		}
	}
	return rd.records, problems, nil
}

type recordReader struct {
	file    string
	utility Utility
	records []GeoRecord
	skipped map[string]int
	feature int
}

// document walks the top object without keeping it: a city's layer is large.
func (rd *recordReader) document(dec *json.Decoder) error {
	if t, err := dec.Token(); err != nil {
		return err
	} else if t != json.Delim('{') {
		return fmt.Errorf("it does not begin with an object")
	}
	single := map[string]json.RawMessage{}
	for dec.More() {
		key, err := dec.Token()
		if err != nil {
			return err
		}
		if key == "features" {
			if err := rd.features(dec); err != nil {
				return err
			}
			continue
		}
		var raw json.RawMessage
		if err := dec.Decode(&raw); err != nil {
			return err
		}
		if key == "crs" {
			if err := rd.crs(raw); err != nil {
				return err
			}
		}
		single[fmt.Sprint(key)] = raw
	}
	if _, err := dec.Token(); err != nil {
		return err
	}
	return rd.singleObject(single)
}

func (rd *recordReader) features(dec *json.Decoder) error {
	if t, err := dec.Token(); err != nil {
		return err
	} else if t != json.Delim('[') {
		return fmt.Errorf("'features' is no list")
	}
	for dec.More() {
		var f geoFeature
		if err := dec.Decode(&f); err != nil {
			return err
		}
		if err := rd.add(f); err != nil {
			return err
		}
	}
	_, err := dec.Token()
	return err
}

// singleObject reads a document that is one feature or one bare geometry.
func (rd *recordReader) singleObject(members map[string]json.RawMessage) error {
	var kind string
	_ = json.Unmarshal(members["type"], &kind)
	whole, err := json.Marshal(members)
	if err != nil {
		return err
	}
	switch kind {
	case "FeatureCollection":
		return nil
	case "Feature":
		var f geoFeature
		if err := json.Unmarshal(whole, &f); err != nil {
			return err
		}
		return rd.add(f)
	case "LineString", "MultiLineString":
		var f geoFeature
		if err := json.Unmarshal([]byte(`{"geometry":`+string(whole)+`}`), &f); err != nil {
			return err
		}
		return rd.add(f)
	}
	return fmt.Errorf("its type is %q", kind)
}

// crs accepts the old crs member where it says what RFC 7946 takes for granted.
func (rd *recordReader) crs(raw json.RawMessage) error {
	var c struct {
		Properties struct {
			Name string `json:"name"`
		} `json:"properties"`
	}
	_ = json.Unmarshal(raw, &c)
	name := strings.ToUpper(c.Properties.Name)
	if string(raw) == "null" || strings.HasSuffix(name, "CRS84") || strings.HasSuffix(name, ":4326") {
		return nil
	}
	return &Problem{File: rd.file, Field: "crs", Value: c.Properties.Name, Cause: "the layer is not in WGS 84 degrees",
		Hint: "save it as GeoJSON by RFC 7946 (longitude and latitude in WGS 84)"}
}

func (rd *recordReader) add(f geoFeature) error {
	rd.feature++
	if f.Geometry == nil {
		rd.skipped["no geometry"]++
		return nil
	}
	var lines [][][]float64
	var err error
	switch f.Geometry.Type {
	case "LineString":
		var line [][]float64
		err = json.Unmarshal(f.Geometry.Coordinates, &line)
		lines = [][][]float64{line}
	case "MultiLineString":
		err = json.Unmarshal(f.Geometry.Coordinates, &lines)
	case "Point", "MultiPoint", "Polygon", "MultiPolygon", "GeometryCollection":
		rd.skipped[f.Geometry.Type]++
		return nil
	default:
		rd.skipped["other"]++
		return nil
	}
	if err != nil {
		return rd.bad("its coordinates are no list of positions")
	}
	for _, line := range lines {
		rec := GeoRecord{Name: rd.nameOf(f), Source: rd.file, Utility: rd.utility}
		if u, ok := property(f.Properties, "utility").(string); ok {
			_ = utility(&rec.Utility)(u) // a class of somebody else's says nothing here
		}
		for _, p := range line {
			if len(p) < 2 {
				return rd.bad("a position has fewer than two numbers")
			}
			ll := geo.LonLat{LonDeg: p[0], LatDeg: p[1]}
			if !ll.Valid() {
				return rd.bad(fmt.Sprintf("%g, %g is no longitude and latitude: the layer seems to be in a projected system", p[0], p[1]))
			}
			rec.Path = append(rec.Path, ll)
		}
		rec.DepthM = depths(property(f.Properties, "depth_m"), len(rec.Path))
		if len(rec.Path) >= 2 {
			rd.records = append(rd.records, rec)
		}
	}
	return nil
}

func (rd *recordReader) bad(cause string) error {
	return &Problem{File: rd.file, Field: fmt.Sprintf("feature %d", rd.feature), Cause: cause,
		Hint: "save the layer as GeoJSON by RFC 7946 (longitude and latitude in WGS 84)"}
}

func (rd *recordReader) nameOf(f geoFeature) string {
	for _, key := range []string{"name", "line", "label", "id"} {
		switch v := property(f.Properties, key).(type) {
		case string:
			if v != "" {
				return v
			}
		case float64:
			return strconv.FormatFloat(v, 'f', -1, 64)
		}
	}
	if f.ID != nil {
		return fmt.Sprint(f.ID)
	}
	base := strings.TrimSuffix(strings.TrimSuffix(rd.file, ".geojson"), ".json")
	return fmt.Sprintf("%s %d", base, rd.feature)
}

// property finds a property by name in any case; of several spellings the first
// in order of their bytes counts.
func property(props map[string]any, name string) any {
	best := ""
	for k := range props {
		if strings.EqualFold(k, name) && (best == "" || k < best) {
			best = k
		}
	}
	if best == "" {
		return nil
	}
	return props[best]
}

// depths spreads a number over all vertices, or takes a list as long as the
// line; anything else is no depth.
func depths(v any, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = Unknown
	}
	switch v := v.(type) {
	case float64:
		for i := range out {
			out[i] = v
		}
	case []any:
		if len(v) != n {
			return out
		}
		for i, d := range v {
			if f, ok := d.(float64); ok {
				out[i] = f
			}
		}
	}
	return out
}

// planeRecords brings records into the job's plane. Those that lie wholly
// farther than a job reaches from its origin are left out.
func planeRecords(in []GeoRecord, plane geo.Plane) []Record {
	var out []Record
	for _, g := range in {
		near := false
		for _, ll := range g.Path {
			near = near || roughKm(ll, plane.Origin()) < strayKm
		}
		if !near {
			continue
		}
		r := Record{Name: g.Name, Source: g.Source, Utility: g.Utility, DepthM: g.DepthM}
		for _, ll := range g.Path {
			r.Path = append(r.Path, plane.XY(ll))
		}
		out = append(out, r)
	}
	return out
}

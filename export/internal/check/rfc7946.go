package check

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
)

// Violations lists where a text breaks RFC 7946 (Butler et al., August 2016)
// as a writer must follow it. It knows the rules that no schema can see:
// closure (3.1.6), winding (3.1.6), bounding boxes (5), the antimeridian
// (3.1.9), reference systems (4, B.1), foreign members (7.1) and unique names
// (11.1, I-JSON). It shares no code with the writer.
func Violations(text []byte) []string {
	c := &rfcChecker{}
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.UseNumber()
	root, err := c.read(dec)
	if err != nil {
		return []string{"not JSON: " + err.Error()}
	}
	if _, err := dec.Token(); err != io.EOF {
		c.fault("more than one JSON text")
	}
	obj, ok := root.(map[string]any)
	if !ok {
		return append(c.faults, "2: not an object")
	}
	c.object(obj)
	return c.faults
}

type rfcChecker struct{ faults []string }

func (c *rfcChecker) fault(format string, args ...any) {
	if len(c.faults) < 20 {
		c.faults = append(c.faults, fmt.Sprintf(format, args...))
	}
}

// read is a JSON reader that sees a name used twice.
func (c *rfcChecker) read(dec *json.Decoder) (any, error) {
	tok, err := dec.Token()
	if err != nil {
		return nil, err
	}
	switch tok {
	case json.Delim('{'):
		obj := map[string]any{}
		for dec.More() {
			name, err := dec.Token()
			if err != nil {
				return nil, err
			}
			if _, twice := obj[name.(string)]; twice {
				c.fault("11.1: %q twice in an object", name)
			}
			if obj[name.(string)], err = c.read(dec); err != nil {
				return nil, err
			}
		}
		_, err = dec.Token()
		return obj, err
	case json.Delim('['):
		list := []any{}
		for dec.More() {
			v, err := c.read(dec)
			if err != nil {
				return nil, err
			}
			list = append(list, v)
		}
		_, err = dec.Token()
		return list, err
	}
	return tok, nil
}

func (c *rfcChecker) object(o map[string]any) {
	if _, ok := o["crs"]; ok {
		c.fault("4: a crs member")
	}
	var forbidden []string
	switch o["type"] {
	case "FeatureCollection":
		forbidden = []string{"coordinates", "geometries", "geometry", "properties"}
		list, ok := o["features"].([]any)
		if !ok {
			c.fault("3.3: no features array")
		}
		for _, f := range list {
			if f, ok := f.(map[string]any); ok && f["type"] == "Feature" {
				c.object(f)
			} else {
				c.fault("3.3: something else than a Feature among the features")
			}
		}
	case "Feature":
		forbidden = []string{"coordinates", "geometries", "features"}
		c.feature(o)
	default:
		forbidden = []string{"geometry", "properties", "features"}
		c.geometry(o)
	}
	for _, name := range forbidden {
		if _, ok := o[name]; ok {
			c.fault("7.1: a %v holds %q", o["type"], name)
		}
	}
	if b, ok := o["bbox"]; ok {
		c.bbox(b, o)
	}
}

func (c *rfcChecker) feature(f map[string]any) {
	for _, name := range []string{"geometry", "properties"} {
		v, ok := f[name]
		if !ok {
			c.fault("3.2: a feature without %s", name)
		}
		if _, isObject := v.(map[string]any); v != nil && !isObject {
			c.fault("3.2: %s is neither object nor null", name)
		}
	}
	switch f["id"].(type) {
	case nil, string, json.Number:
	default:
		c.fault("3.2: an id that is neither string nor number")
	}
	if g, ok := f["geometry"].(map[string]any); ok {
		c.object(g)
	}
}

func (c *rfcChecker) geometry(g map[string]any) {
	coords := g["coordinates"]
	switch g["type"] {
	case "Point":
		c.position(coords)
	case "MultiPoint":
		for _, p := range c.list(coords) {
			c.position(p)
		}
	case "LineString":
		c.line(coords)
	case "MultiLineString":
		for _, l := range c.list(coords) {
			c.line(l)
		}
	case "Polygon":
		c.polygon(coords)
	case "MultiPolygon":
		for _, p := range c.list(coords) {
			c.polygon(p)
		}
	case "GeometryCollection":
		for _, m := range c.list(g["geometries"]) {
			if m, ok := m.(map[string]any); ok {
				c.object(m)
			}
		}
	default:
		c.fault("3: unknown type %v", g["type"])
	}
}

func (c *rfcChecker) list(v any) []any {
	l, ok := v.([]any)
	if !ok {
		c.fault("3.1: an array is missing")
	}
	return l
}

func (c *rfcChecker) position(v any) (p [2]float64) {
	l := c.list(v)
	if len(l) < 2 || len(l) > 3 {
		c.fault("3.1.1: a position of %d numbers", len(l))
		return p
	}
	for i := range l {
		n, ok := l[i].(json.Number)
		if !ok {
			c.fault("3.1.1: %v is no number", l[i])
			return p
		}
		if i < 2 {
			p[i], _ = n.Float64()
		}
	}
	if math.Abs(p[0]) > 180 || math.Abs(p[1]) > 90 {
		c.fault("4: %v is not longitude, latitude in degrees", p)
	}
	return p
}

func (c *rfcChecker) line(v any) {
	if n := len(c.positions(v)); n < 2 {
		c.fault("3.1.4: a LineString of %d positions", n)
	}
}

func (c *rfcChecker) positions(v any) [][2]float64 {
	var out [][2]float64
	for _, p := range c.list(v) {
		out = append(out, c.position(p))
	}
	for i := 1; i < len(out); i++ {
		if math.Abs(out[i][0]-out[i-1][0]) > 180 {
			c.fault("3.1.9: an edge from %v to %v crosses the antimeridian", out[i-1], out[i])
		}
	}
	return out
}

func (c *rfcChecker) polygon(v any) {
	for k, ring := range c.list(v) {
		r := c.positions(ring)
		if len(r) < 4 {
			c.fault("3.1.6: a ring of %d positions", len(r))
			continue
		}
		if r[0] != r[len(r)-1] {
			c.fault("3.1.6: a ring ends at %v but begins at %v", r[len(r)-1], r[0])
		}
		area := 0.0
		for i := 1; i < len(r); i++ {
			area += (r[i-1][0]-r[0][0])*(r[i][1]-r[0][1]) - (r[i-1][1]-r[0][1])*(r[i][0]-r[0][0])
		}
		if (area > 0) != (k == 0) {
			c.fault("3.1.6: ring %d winds the wrong way", k)
		}
	}
}

// bbox checks form and that every position lies inside.
func (c *rfcChecker) bbox(v any, o map[string]any) {
	l, ok := v.([]any)
	if !ok || (len(l) != 4 && len(l) != 6) {
		c.fault("5: a bbox that is not 4 or 6 numbers")
		return
	}
	n := make([]float64, len(l))
	for i := range l {
		num, _ := l[i].(json.Number)
		n[i], _ = num.Float64()
	}
	west, south, east, north := n[0], n[1], n[len(n)/2], n[len(n)/2+1]
	if south > north || math.Abs(west) > 180 || math.Abs(east) > 180 || south < -90 || north > 90 {
		c.fault("5: bbox %v", n)
	}
	eachPosition(o, func(lon, lat float64) {
		in := west <= lon && lon <= east
		if west > east {
			in = lon >= west || lon <= east
		}
		if !in || lat < south || lat > north {
			c.fault("5: %g, %g lies outside bbox %v", lon, lat, n)
		}
	})
}

// eachPosition visits every position below an object.
func eachPosition(v any, visit func(lon, lat float64)) {
	switch v := v.(type) {
	case map[string]any:
		for _, name := range []string{"features", "geometry", "geometries", "coordinates"} {
			eachPosition(v[name], visit)
		}
	case []any:
		if len(v) >= 2 {
			lon, ok1 := v[0].(json.Number)
			lat, ok2 := v[1].(json.Number)
			if ok1 && ok2 {
				x, _ := lon.Float64()
				y, _ := lat.Float64()
				visit(x, y)
				return
			}
		}
		for _, m := range v {
			eachPosition(m, visit)
		}
	}
}

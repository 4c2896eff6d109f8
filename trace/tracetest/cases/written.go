package cases

import (
	"encoding/json"
	"fmt"
	"math"

	"loamline.example/geo"
)

// written is a map as its reader has it: the GeoJSON, in a plane.
type written struct {
	plane    geo.Plane
	lines    map[string]*drawn
	advice   []told // without the frame's
	problems int
}

// drawn is what the map holds of one line.
type drawn struct {
	parts   []drawnPart
	caution []ring
	stated  []told // gaps and bleed-over stretches
}

// drawnPart is one unbroken centerline.
type drawnPart struct {
	path                          geo.Polyline
	stationM, depthM, depth95M    []float64
	horizontal95M, conductorElevM []float64
}

// ring is a ring of a zone; a place is inside where it is inside of an odd
// number of the rings of one polygon.
type ring struct {
	polygon int
	points  []geo.XY
}

// told is a stretch or a place of a line that the map tells of.
type told struct {
	line       string // "" for the whole job
	whole      bool   // of the line
	fromM, toM float64
	path       []geo.XY // where the stretch has its own geometry
	words      string
}

type rawMap struct {
	Features []struct {
		Properties json.RawMessage `json:"properties"`
		Geometry   struct {
			Type        string          `json:"type"`
			Coordinates json.RawMessage `json:"coordinates"`
		} `json:"geometry"`
	} `json:"features"`
	Member struct {
		Advice   []json.RawMessage `json:"advice"`
		Problems []json.RawMessage `json:"problems"`
	} `json:"loamline"`
}

type rawProperties struct {
	Role, Line   string
	Stations     []*float64 `json:"stations_m"`
	Depth        []*float64 `json:"depth_m"`
	Depth95      []*float64 `json:"depth_95_m"`
	Horizontal95 []*float64 `json:"horizontal_95_m"`
	Elev         []*float64 `json:"elev_m"`
	FromM        float64    `json:"from_m"`
	ToM          float64    `json:"to_m"`
	Grade, Why   string
}

// readMap reads the GeoJSON of a job into a plane.
func readMap(text []byte, plane geo.Plane) (*written, error) {
	var raw rawMap
	if err := json.Unmarshal(text, &raw); err != nil {
		return nil, fmt.Errorf("the map is no GeoJSON: %w", err)
	}
	m := &written{plane: plane, lines: map[string]*drawn{}, problems: len(raw.Member.Problems)}
	for i, f := range raw.Features {
		var head struct{ Role string }
		if err := json.Unmarshal(f.Properties, &head); err != nil {
			return nil, err
		}
		switch head.Role {
		case "centerline", "caution_zone", "gap", "bleed_over":
		default:
			continue
		}
		var p rawProperties
		if err := json.Unmarshal(f.Properties, &p); err != nil {
			return nil, fmt.Errorf("feature %d: %w", i, err)
		}
		d := m.lines[p.Line]
		if d == nil {
			d = &drawn{}
			m.lines[p.Line] = d
		}
		paths, err := m.paths(f.Geometry.Type, f.Geometry.Coordinates)
		if err != nil {
			return nil, fmt.Errorf("feature %d: %w", i, err)
		}
		switch p.Role {
		case "centerline":
			d.addCenterline(paths, p)
		case "caution_zone":
			d.caution = append(d.caution, paths.rings()...)
		case "gap":
			d.stated = append(d.stated, told{line: p.Line, fromM: p.FromM, toM: p.ToM, path: paths.all(), words: "gap: " + p.Why})
		case "bleed_over":
			d.stated = append(d.stated, told{line: p.Line, fromM: p.FromM, toM: p.ToM, words: "bleed-over: " + p.Grade})
		}
	}
	for _, a := range raw.Member.Advice {
		item, frame, err := m.readAdvice(a)
		if err != nil {
			return nil, err
		}
		if !frame {
			m.advice = append(m.advice, item)
		}
	}
	return m, nil
}

// addCenterline takes the parts of a centerline; the values run on over parts.
func (d *drawn) addCenterline(paths geometry, p rawProperties) {
	n := 0
	for _, path := range paths {
		if len(path.points) < 2 {
			n += len(path.points)
			continue
		}
		at := func(v []*float64) []float64 {
			out := make([]float64, len(path.points))
			for i := range out {
				if out[i] = unknown; n+i < len(v) && v[n+i] != nil {
					out[i] = *v[n+i]
				}
			}
			return out
		}
		d.parts = append(d.parts, drawnPart{geo.NewPolyline(path.points), at(p.Stations), at(p.Depth), at(p.Depth95), at(p.Horizontal95), at(p.Elev)})
		n += len(path.points)
	}
}

type geometryPath struct {
	polygon int
	points  []geo.XY
}

type geometry []geometryPath

func (g geometry) rings() []ring {
	var out []ring
	for _, p := range g {
		out = append(out, ring(p))
	}
	return out
}

func (g geometry) all() []geo.XY {
	var out []geo.XY
	for _, p := range g {
		out = append(out, p.points...)
	}
	return out
}

// paths reads lines and polygons as runs of places.
func (m *written) paths(kind string, text json.RawMessage) (geometry, error) {
	var polygons [][][][]float64
	var err error
	switch kind {
	case "Point":
		polygons = [][][][]float64{{make([][]float64, 1)}}
		err = json.Unmarshal(text, &polygons[0][0][0])
	case "LineString":
		polygons = [][][][]float64{make([][][]float64, 1)}
		err = json.Unmarshal(text, &polygons[0][0])
	case "Polygon", "MultiLineString":
		polygons = make([][][][]float64, 1)
		err = json.Unmarshal(text, &polygons[0])
	case "MultiPolygon":
		err = json.Unmarshal(text, &polygons)
	}
	var out geometry
	for i, polygon := range polygons {
		for _, run := range polygon {
			path := geometryPath{polygon: i}
			for _, c := range run {
				if len(c) < 2 {
					return nil, fmt.Errorf("a position has %d numbers", len(c))
				}
				path.points = append(path.points, m.plane.XY(geo.LonLat{LonDeg: c[0], LatDeg: c[1]}))
			}
			out = append(out, path)
		}
	}
	return out, err
}

// holds reports whether a place is in the caution zone.
func (d *drawn) holds(q geo.XY) bool {
	odd := map[int]bool{}
	for _, r := range d.caution {
		if inside(r.points, q) {
			odd[r.polygon] = !odd[r.polygon]
		}
	}
	for _, in := range odd {
		if in {
			return true
		}
	}
	return false
}

func inside(ring []geo.XY, q geo.XY) bool {
	in := false
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(b.X-a.X)*(q.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// value is a value between two vertices; NaN where either is not known.
func value(v []float64, i int, t float64) float64 { return v[i] + (v[i+1]-v[i])*t }

func known(v float64) bool { return !math.IsNaN(v) }

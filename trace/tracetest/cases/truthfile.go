package cases

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"loamline.example/geo"
)

// Roles of the features of a truth file.
const (
	roleLine    = "true_line"
	roleRead    = "true_reading"
	roleExposed = "true_exposure"
)

type truthFeature struct {
	Type       string          `json:"type"`
	Properties truthProperties `json:"properties"`
	Geometry   struct {
		Type        string `json:"type"`
		Coordinates any    `json:"coordinates"`
	} `json:"geometry"`
}

type truthProperties struct {
	Role   string `json:"role"`
	Line   string `json:"line"`
	DepthM any    `json:"depth_m"`
}

// GeoJSON writes a truth as a FeatureCollection in WGS 84.
func (t Truth) GeoJSON() ([]byte, error) {
	out := struct {
		Type     string         `json:"type"`
		Features []truthFeature `json:"features"`
	}{Type: "FeatureCollection", Features: []truthFeature{}}
	degrees := func(p geo.LonLat) [2]float64 {
		return [2]float64{math.Round(p.LonDeg*1e9) / 1e9, math.Round(p.LatDeg*1e9) / 1e9}
	}
	for _, l := range t.Lines {
		f := truthFeature{Type: "Feature", Properties: truthProperties{Role: roleLine, Line: l.Name}}
		var path [][2]float64
		for _, p := range l.Path {
			path = append(path, degrees(p))
		}
		if l.DepthM != nil {
			var depths []float64
			for _, d := range l.DepthM {
				depths = append(depths, math.Round(d*1000)/1000)
			}
			f.Properties.DepthM = depths
		}
		f.Geometry.Type, f.Geometry.Coordinates = "LineString", path
		out.Features = append(out.Features, f)
	}
	for role, places := range [][]Place{t.Read, t.Exposed} {
		for _, p := range places {
			f := truthFeature{Type: "Feature", Properties: truthProperties{Role: []string{roleRead, roleExposed}[role], Line: p.Line}}
			if known(p.DepthM) {
				f.Properties.DepthM = math.Round(p.DepthM*1000) / 1000
			}
			f.Geometry.Type, f.Geometry.Coordinates = "Point", degrees(p.At)
			out.Features = append(out.Features, f)
		}
	}
	b, err := json.MarshalIndent(out, "", " ")
	return append(b, '\n'), err
}

// ReadTruth reads the true lines of a truth file.
func ReadTruth(text []byte) (Truth, error) {
	var raw struct {
		Features []struct {
			Properties struct {
				Role, Line string
				Depth      []float64 `json:"depth_m"`
			}
			Geometry struct{ Coordinates json.RawMessage }
		}
	}
	if err := json.Unmarshal(text, &raw); err != nil {
		return Truth{}, err
	}
	var t Truth
	for _, f := range raw.Features {
		if f.Properties.Role != roleLine {
			continue
		}
		var path [][2]float64
		if err := json.Unmarshal(f.Geometry.Coordinates, &path); err != nil {
			return t, err
		}
		l := TrueLine{Name: f.Properties.Line, DepthM: f.Properties.Depth, GroundM: unknown}
		for _, p := range path {
			l.Path = append(l.Path, geo.LonLat{LonDeg: p[0], LatDeg: p[1]})
		}
		if l.DepthM != nil && len(l.DepthM) != len(l.Path) {
			return t, fmt.Errorf("line %s: %d depths at %d places", l.Name, len(l.DepthM), len(l.Path))
		}
		t.Lines = append(t.Lines, l)
	}
	if len(t.Lines) == 0 {
		return t, fmt.Errorf("no feature has the role %s", roleLine)
	}
	return t, nil
}

// ReadPlaces takes from a readings table in degrees where its readings and its
// exposures are.
func (t *Truth) ReadPlaces(table []byte) error {
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	if err != nil {
		return err
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[strings.ToLower(name)] = i
	}
	for n, r := range rows[1:] {
		number := func(name string) float64 {
			i, ok := column[name]
			if !ok {
				return unknown
			}
			v, err := strconv.ParseFloat(r[i], 64)
			if err != nil {
				return unknown
			}
			return v
		}
		p := Place{Line: r[column["line"]], At: geo.LonLat{LonDeg: number("lon"), LatDeg: number("lat")}, DepthM: unknown}
		if !known(p.At.LonDeg) || !known(p.At.LatDeg) {
			return fmt.Errorf("row %d has no position in degrees", n+2)
		}
		t.Read = append(t.Read, p)
		if i, ok := column["exposed"]; ok && r[i] == "yes" {
			for name, unit := range map[string]float64{"depth_m": 1, "depth_cm": 0.01, "depth_in": geo.InchM, "depth_ft": geo.FootM} {
				if d := number(name); known(d) {
					p.DepthM = d * unit
				}
			}
			t.Exposed = append(t.Exposed, p)
		}
	}
	return nil
}

package overlay

import (
	"encoding/json"
	"io"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

// feature is one of a collection, as RFC 7946 has it.
type feature struct {
	Type       string         `json:"type"`
	Properties map[string]any `json:"properties"`
	Geometry   geometry       `json:"geometry"`
}

type geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

// WriteGeoJSON writes both maps' lines and where they disagree (RFC 7946). The role of
// a feature is first_line, second_line or disagreement; stations and sides are the
// first map's.
func WriteGeoJSON(w io.Writer, first, second trace.Located, laid []compare.Overlay, u geo.Units) error {
	features := []feature{}
	add := func(vs []trace.LocatedVertex, properties map[string]any) {
		features = append(features, feature{"Feature", properties, geometryOf(vs)})
	}
	for _, m := range []struct {
		role string
		of   trace.Located
	}{{"first_line", first}, {"second_line", second}} {
		for _, l := range m.of.Lines {
			for _, part := range l.Parts {
				add(part, map[string]any{"role": m.role, "map": m.of.Name, "name": l.Name})
			}
		}
	}
	for i, o := range laid {
		for _, s := range o.Disagree {
			in := "position"
			if s.Depth {
				in = "depth"
			}
			for _, part := range first.Lines[i].Parts { // the first map's lines come first, in their order
				if stretch := within(part, s); len(stretch) > 0 {
					add(stretch, map[string]any{"role": "disagreement", "name": o.Line, "second_name": o.Other, "in": in,
						"from_m": rounded(s.FromM, 3), "to_m": rounded(s.ToM, 3), "largest_m": rounded(s.LargestM, 3), "allowed_m": rounded(s.AllowedM, 3), "words": StretchWords(s, u)})
				}
			}
		}
	}
	text, err := json.Marshal(map[string]any{"type": "FeatureCollection", "features": features, "loamline_comparison": map[string]any{
		"first": first.Name, "second": second.Name, "warning": Warning(first, second), "cautions": trace.Cautions(),
	}})
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// within are the vertices of a part that lie on a stretch.
func within(part []trace.LocatedVertex, s compare.OverlayStretch) []trace.LocatedVertex {
	var out []trace.LocatedVertex
	for _, v := range part {
		if v.StationM >= s.FromM && v.StationM <= s.ToM {
			out = append(out, v)
		}
	}
	return out
}

// geometryOf is a line, or a point where there is one vertex.
func geometryOf(vs []trace.LocatedVertex) geometry {
	var line [][2]float64
	for _, v := range vs {
		line = append(line, [2]float64{rounded(v.At.LonDeg, 9), rounded(v.At.LatDeg, 9)})
	}
	if len(line) == 1 {
		return geometry{"Point", line[0]}
	}
	return geometry{"LineString", line}
}

func rounded(x float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(x*p) / p
}

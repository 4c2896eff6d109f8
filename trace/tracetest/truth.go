package tracetest

import (
	"encoding/json"
	"math"

	"loamline.example/geo"
)

type geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

type feature struct {
	Type       string         `json:"type"`
	Properties map[string]any `json:"properties"`
	Geometry   geometry       `json:"geometry"`
}

func collection(fs []feature) ([]byte, error) {
	b, err := json.MarshalIndent(struct {
		Type     string    `json:"type"`
		Features []feature `json:"features"`
	}{"FeatureCollection", fs}, "", " ")
	return append(b, '\n'), err
}

func round(v float64, digits int) any {
	if math.IsNaN(v) {
		return nil
	}
	p := math.Pow10(digits)
	return math.Round(v*p) / p
}

func (j Job) degrees(p geo.XY) [2]float64 {
	ll := j.Plane.LonLat(p)
	return [2]float64{math.Round(ll.LonDeg*1e9) / 1e9, math.Round(ll.LatDeg*1e9) / 1e9}
}

// TruthGeoJSON returns the buried lines (role true_line, with the true depth at
// each vertex), the stretches with signal of another conductor (role
// true_coupling), and every reading's truth (role true_reading; offsets and
// shifts positive to the right of the buried path).
func (j Job) TruthGeoJSON() ([]byte, error) {
	var fs []feature
	for _, l := range j.Lines {
		fs = append(fs, j.trueLine(l))
	}
	for _, c := range j.Couplings {
		l, _ := j.LineNamed(c.Line)
		fs = append(fs, feature{"Feature", map[string]any{
			"role": "true_coupling", "line": c.Line, "neighbor": c.Neighbor, "jump": c.Jump,
			"from_m": round(c.FromM, 2), "to_m": round(c.ToM, 2),
			"ratio_real": round(real(c.Ratio), 3), "ratio_imaginary": round(imag(c.Ratio), 3),
		}, j.lineString(l.Path.Slice(c.FromM, c.ToM))})
	}
	for _, t := range j.Traces {
		for i, rd := range t.Readings {
			fs = append(fs, j.trueReading(i, rd))
		}
	}
	return collection(fs)
}

func (j Job) lineString(path []geo.XY) geometry {
	out := make([][2]float64, len(path))
	for i, p := range path {
		out[i] = j.degrees(p)
	}
	return geometry{"LineString", out}
}

func (j Job) trueLine(l Line) feature {
	depth, stations := make([]any, len(l.DepthM)), make([]any, len(l.DepthM))
	for i, d := range l.DepthM {
		depth[i], stations[i] = round(d, 3), round(l.Path.Station(i), 3)
	}
	return feature{"Feature", map[string]any{
		"role": "true_line", "line": l.Name, "utility": l.Utility, "depth_m": depth, "stations_m": stations,
		"traced_from_m": round(l.FromM, 2), "traced_to_m": round(l.ToM, 2), "on_record": l.Known, "unknown_to_all": l.Hidden,
	}, j.lineString(l.Path.Points)}
}

func (j Job) trueReading(row int, rd Reading) feature {
	t := rd.Truth
	return feature{"Feature", map[string]any{
		"role": "true_reading", "line": rd.Line, "point": rd.Point, "order": row + 1, "station_m": round(t.StationM, 3),
		"depth_m": round(t.DepthM, 3), "mark_offset_m": round(t.MarkOffsetM, 3), "sigma_m": round(t.SigmaM, 4),
		"blunder": t.Blunder, "depth_spike": t.DepthSpike, "neighbor": t.Neighbor, "jumped": t.Jumped,
		"peak_shift_m": round(t.PeakShiftM, 3), "clean_shift_m": round(t.CleanShiftM, 3),
		"shown_depth_m": round(t.ShownDepthM, 3), "clean_depth_m": round(t.CleanDepthM, 3), "displaced": t.Displaced(),
	}, geometry{"Point", j.degrees(rd.Pos)}}
}

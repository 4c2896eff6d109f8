package report

import (
	"loamline.example/cmd/loamline/internal/overlay"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

// Overlay is a second map's line laid over the first's. Stations, and left and
// right, are the first one's.
type Overlay struct {
	Line        string           `json:"line"`
	Second      string           `json:"second_line,omitempty"` // of the second map, where it has another name
	Paired      string           `json:"paired,omitempty"`      // by "name", "place" or "hand"
	FirstOnly   bool             `json:"first_only,omitempty"`
	SecondOnly  bool             `json:"second_only,omitempty"`
	MeanOffsetM *float64         `json:"mean_offset_m"`
	Words       []string         `json:"words"`
	Disagree    []OverlayStretch `json:"disagree"`
	Places      []OverlayPlace   `json:"places"`
}

// OverlayPlace compares at one station; null where a depth is not known.
type OverlayPlace struct {
	StationM         float64  `json:"station_m"`
	OffsetM          float64  `json:"offset_m"`
	OffsetAllowedM   float64  `json:"offset_allowed_m"`
	DepthDifferenceM *float64 `json:"depth_difference_m"`
	DepthAllowedM    *float64 `json:"depth_allowed_m"`
}

// OverlayStretch is where the maps disagree beyond both bands.
type OverlayStretch struct {
	FromM    float64 `json:"from_m"`
	ToM      float64 `json:"to_m"`
	In       string  `json:"in"` // "position" or "depth"
	LargestM float64 `json:"largest_m"`
	AllowedM float64 `json:"allowed_m"`
	Words    string  `json:"words"`
}

func overlayOf(o compare.Overlay, u geo.Units) Overlay {
	out := Overlay{Line: o.Line, FirstOnly: o.FirstOnly, SecondOnly: o.OtherOnly, Disagree: []OverlayStretch{}, Places: []OverlayPlace{}}
	for _, p := range o.Places {
		out.Places = append(out.Places, OverlayPlace{p.StationM, p.OffsetM, p.AllowedM, orNull(p.DepthDifferenceM), orNull(p.DepthAllowedM)})
	}
	for _, d := range o.Disagree {
		out.Disagree = append(out.Disagree, stretchOf(d, u))
	}
	out.Words = overlay.Words(o, u)
	if len(o.Places) > 0 {
		mean := o.MeanOffsetM()
		out.MeanOffsetM = &mean
	}
	return out
}

func stretchOf(d compare.OverlayStretch, u geo.Units) OverlayStretch {
	s := OverlayStretch{FromM: d.FromM, ToM: d.ToM, In: "position", LargestM: d.LargestM, AllowedM: d.AllowedM, Words: overlay.StretchWords(d, u)}
	if d.Depth {
		s.In = "depth"
	}
	return s
}

func orNull(v float64) *float64 {
	if !trace.Known(v) {
		return nil
	}
	return &v
}

// OverlaysOf lays a second map over a first, line by line by name.
func OverlaysOf(first, second trace.Located, u geo.Units) []Overlay {
	var out []Overlay
	for _, o := range compare.OverlayLocates(first, second) {
		out = append(out, overlayOf(o, u))
	}
	return out
}

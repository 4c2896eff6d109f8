package jobs

import (
	"context"
	"fmt"
	"math"

	"loamline/export/geojson"
	"loamline/export/words"
	"loamline/geo"
	"loamline/trace"
	"loamline/trace/locate"
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

// Overlay lays the map of one run over another's, line by line by name.
func (s *Store) Overlay(firstID string, first int, secondID string, second int, u geo.Units) ([]Overlay, error) {
	a, err := s.located(firstID, first)
	if err != nil {
		return nil, err
	}
	b, err := s.located(secondID, second)
	if err != nil {
		return nil, err
	}
	var out []Overlay
	for _, o := range locate.OverlayLocates(a, b) {
		out = append(out, overlayOf(o, u))
	}
	return out, nil
}

func (s *Store) located(id string, number int) (trace.Located, error) {
	o, f, err := s.Output(context.Background(), id, number, "geojson") // which is always there
	if err != nil {
		return trace.Located{}, err
	}
	defer f.Close()
	return geojson.ReadLocated(f, o.Name)
}

func overlayOf(o locate.Overlay, u geo.Units) Overlay {
	out := Overlay{Line: o.Line, FirstOnly: o.FirstOnly, SecondOnly: o.OtherOnly, Disagree: []OverlayStretch{}, Places: []OverlayPlace{}}
	for _, p := range o.Places {
		out.Places = append(out.Places, OverlayPlace{p.StationM, p.OffsetM, p.AllowedM, orNull(p.DepthDifferenceM), orNull(p.DepthAllowedM)})
	}
	for _, d := range o.Disagree {
		out.Disagree = append(out.Disagree, stretchOf(d, u))
	}
	switch {
	case o.FirstOnly:
		out.Words = []string{"Only the first map has this line."}
	case o.OtherOnly:
		out.Words = []string{"Only the second map has this line."}
	case len(o.Places) == 0:
		out.Words = []string{"The two locates do not run side by side anywhere."}
	default:
		mean := o.MeanOffsetM()
		out.MeanOffsetM = &mean
		out.Words = []string{fmt.Sprintf("Compared at %d stations; the second lies %s to the %s on average.", len(o.Places), u.Fine(math.Abs(mean)), sideWord(mean))}
		if len(o.Disagree) == 0 {
			out.Words = append(out.Words, "No difference beyond both bands; both maps could still be wrong in the same way.")
		}
	}
	return out
}

func stretchOf(d locate.OverlayStretch, u geo.Units) OverlayStretch {
	s := OverlayStretch{FromM: d.FromM, ToM: d.ToM, In: "position", LargestM: d.LargestM, AllowedM: d.AllowedM}
	what := fmt.Sprintf("the second lies up to %s to the %s", u.Fine(math.Abs(d.LargestM)), sideWord(d.LargestM))
	if d.Depth {
		s.In = "depth"
		what = fmt.Sprintf("the second reads up to %s %s", u.Fine(math.Abs(d.LargestM)), depthWord(d.LargestM))
	}
	s.Words = fmt.Sprintf("%s: %s, where both bands together explain %s", words.Range(u, d.FromM, d.ToM), what, u.Fine(d.AllowedM))
	return s
}

func sideWord(m float64) string {
	if m < 0 {
		return string(trace.Left)
	}
	return string(trace.Right)
}

func depthWord(m float64) string {
	if m < 0 {
		return "shallower"
	}
	return "deeper"
}

func orNull(v float64) *float64 {
	if !trace.Known(v) {
		return nil
	}
	return &v
}

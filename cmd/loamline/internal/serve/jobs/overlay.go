package jobs

import (
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

// HandPair is what a person says about one line of the first map: which line of
// the second it is, none where empty, and what to call it. Auto leaves the pairing
// to the program.
type HandPair struct {
	First, Second, Call string
	Auto                bool
}

// Comparison is a second locate laid over a first.
type Comparison struct {
	Lines         []Overlay
	First, Second trace.Located
}

// Compare lays the newest maps of two jobs over each other. Lines are paired by
// place and name; what a person says about a line goes before.
func (s *Store) Compare(first, second Job, u geo.Units, hand []HandPair) (Comparison, error) {
	var out Comparison
	var err error
	if first.LatestDone() == nil || second.LatestDone() == nil {
		return out, ErrNoRun
	}
	if out.First, err = s.located(first.ID, first.LatestDone().Number); err != nil {
		return out, err
	}
	if out.Second, err = s.located(second.ID, second.LatestDone().Number); err != nil {
		return out, err
	}
	pairs, said, err := pairsOf(out.First, out.Second, hand)
	if err != nil {
		return out, err
	}
	for _, o := range locate.OverlayPairs(out.First, out.Second, pairs) {
		line := overlayOf(o, u)
		h, isSaid := said[o.Line]
		byHand := isSaid && !h.Auto
		switch {
		case o.OtherOnly || o.FirstOnly && !byHand:
		case byHand:
			line.Paired = "hand"
		case o.Other == o.Line:
			line.Paired = "name"
		default:
			line.Paired = "place"
		}
		if o.Other != o.Line {
			line.Second = o.Other
		}
		if isSaid && h.Call != "" && !o.OtherOnly {
			line.Line = h.Call
			line.Words = append([]string{"This name is used here only: " + theLine(o) + "."}, line.Words...)
		}
		out.Lines = append(out.Lines, line)
	}
	return out, nil
}

func theLine(o locate.Overlay) string {
	if o.Other == "" {
		return "the first map calls it " + o.Line
	}
	return "the first map calls it " + o.Line + ", the second " + o.Other
}

// pairsOf pairs by hand first, then whatever is left by place and name.
func pairsOf(first, second trace.Located, hand []HandPair) ([]locate.Pair, map[string]HandPair, error) {
	said, taken := map[string]HandPair{}, map[string]string{}
	for _, h := range hand {
		if !hasLine(first, h.First) {
			return nil, nil, refuse(Problem{Field: "line", Value: h.First, Cause: "the first map has no line of this name"})
		}
		if h.Auto {
			said[h.First] = h
			continue
		}
		if h.Second != "" && !hasLine(second, h.Second) {
			return nil, nil, refuse(Problem{Field: "with", Value: h.Second, Cause: "the second map has no line of this name"})
		}
		if other, twice := taken[h.Second]; twice && h.Second != "" && other != h.First {
			return nil, nil, refuse(Problem{Field: "with", Value: h.Second, Cause: "this line is paired twice: with " + other + " and with " + h.First, Hint: "a line can be one other line only"})
		}
		said[h.First], taken[h.Second] = h, h.First
	}
	var restA, restB trace.Located
	for _, l := range first.Lines {
		if h, done := said[l.Name]; !done || h.Auto {
			restA.Lines = append(restA.Lines, l)
		}
	}
	for _, l := range second.Lines {
		if taken[l.Name] == "" {
			restB.Lines = append(restB.Lines, l)
		}
	}
	with := map[string]locate.Pair{}
	var only []locate.Pair
	for _, p := range locate.PairLines(restA, restB) {
		if p.First == "" {
			only = append(only, p)
		} else {
			with[p.First] = p
		}
	}
	var out []locate.Pair
	for _, l := range first.Lines {
		if h, byHand := said[l.Name]; byHand && !h.Auto {
			out = append(out, locate.Pair{First: l.Name, Second: h.Second})
		} else {
			out = append(out, with[l.Name])
		}
	}
	return append(out, only...), said, nil
}

func hasLine(m trace.Located, name string) bool {
	for _, l := range m.Lines {
		if l.Name == name {
			return true
		}
	}
	return false
}

func (s *Store) located(id string, number int) (trace.Located, error) {
	o, f, err := s.Output(id, number, "geojson")
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

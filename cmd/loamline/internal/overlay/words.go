package overlay

import (
	"fmt"
	"math"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

// Words sum up how a line of the second map lies over the first's.
func Words(o compare.Overlay, u geo.Units) []string {
	switch {
	case o.FirstOnly:
		return []string{"Only the first map has this line."}
	case o.OtherOnly:
		return []string{"Only the second map has this line."}
	case len(o.Places) == 0:
		return []string{"The two locates do not run side by side anywhere."}
	}
	mean := o.MeanOffsetM()
	out := []string{fmt.Sprintf("Compared at %d stations; the second lies %s to the %s on average.", len(o.Places), u.Fine(math.Abs(mean)), side(mean))}
	deep, all := o.DepthsCompared(), len(o.Places)
	if len(o.Disagree) == 0 {
		what := "No difference beyond both bands"
		switch {
		case deep == 0:
			what = "No difference in position beyond both bands"
		case deep < all:
			what = "No difference in position beyond both bands, nor in depth where both have one"
		}
		out = append(out, what+"; both maps could still be wrong in the same way.")
	}
	switch {
	case deep == 0:
		out = append(out, "Depths were not compared: nowhere do both maps have one with its band.")
	case deep < all:
		out = append(out, fmt.Sprintf("Depths were compared at %d of the %d stations: at the others one of the maps has none, or none that it states a band for.", deep, all))
	}
	return out
}

// StretchWords tell of a stretch where the maps disagree beyond both bands.
func StretchWords(s compare.OverlayStretch, u geo.Units) string {
	what := fmt.Sprintf("the second lies up to %s to the %s", u.Fine(math.Abs(s.LargestM)), side(s.LargestM))
	if s.Depth {
		deeper := "deeper"
		if s.LargestM < 0 {
			deeper = "shallower"
		}
		what = fmt.Sprintf("the second reads up to %s %s", u.Fine(math.Abs(s.LargestM)), deeper)
	}
	return fmt.Sprintf("%s: %s, where both bands together explain %s", words.Range(u, s.FromM, s.ToM), what, u.Fine(s.AllowedM))
}

// FrameWarning says why the frames of two maps make the comparison itself doubtful;
// nothing where both state the same.
func FrameWarning(first, second trace.Located) string {
	if first.Datum == second.Datum && first.Datum != "" {
		return ""
	}
	name := func(m trace.Located) string {
		switch {
		case m.Datum != "":
			return m.Datum
		case m.CRS != trace.DefaultJob().CRS && m.CRS != "":
			return "the frame of " + m.CRS
		}
		return "a frame that was not stated"
	}
	if first.Datum == "" && name(first) == name(second) {
		return "Neither map states the datum of its positions. Frames differ by decimetres up to about four metres: an offset between the maps may be theirs and not the line's."
	}
	return "The first map's positions were in " + name(first) + ", the second's in " + name(second) + ". Frames differ by decimetres up to about four metres: an offset between the maps may be theirs and not the line's."
}

func side(offsetM float64) string {
	if offsetM < 0 {
		return string(trace.Left)
	}
	return string(trace.Right)
}

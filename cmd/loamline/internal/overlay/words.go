package overlay

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loamline.example/export/style"
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
		return append([]string{"The two locates do not run side by side anywhere."}, mapsWords(o, u)...)
	}
	deep, all := o.DepthsCompared(), len(o.Places)
	out := []string{fmt.Sprintf("Compared at %d stations; on average the second lies %s%s.", all, offset(o.MeanOffsetM(), u), depthOffset(o, u))}
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
	return append(out, mapsWords(o, u)...)
}

// mapsWords tell what makes that nothing differs worth less: what the maps take the line
// for, how much of it one of them lacks, and where one does not trust it itself.
func mapsWords(o compare.Overlay, u geo.Units) []string {
	var out []string
	if o.Kinds[0] != "" {
		out = append(out, fmt.Sprintf("The first map has it as %s, the second as %s: one of the two is wrong, or they are two lines.",
			style.Of(o.Kinds[0]).Name, style.Of(o.Kinds[1]).Name))
	}
	which := [2]string{"first", "second"}
	for k, name := range which {
		if len(o.Places) > 0 && o.Lacks(k) {
			out = append(out, fmt.Sprintf("Of the %s's %s, %s have nothing of the %s beside them: there nothing was compared.",
				name, u.Long(o.LengthM[k]), u.Long(o.AloneM[k]), which[1-k]))
		}
	}
	for k, name := range which {
		if len(o.Doubted[k]) > 0 {
			out = append(out, fmt.Sprintf("The %s map itself says not to trust this line%s: see there why.", name, stretchList(o.Doubted[k], u)))
		}
	}
	return out
}

// stretchList names the first few stretches, by the stations of their own map; nothing where
// one of them is all of the line.
func stretchList(of []trace.LocatedStretch, u geo.Units) string {
	const named = 3
	var list []string
	for k, s := range of {
		switch {
		case !trace.Known(s.FromM) || !trace.Known(s.ToM):
			return ""
		case k < named:
			list = append(list, words.Range(u, s.FromM, s.ToM))
		}
	}
	said := " from " + strings.Join(list, ", ")
	if len(of) > named {
		said += fmt.Sprintf(" and %d more stretches", len(of)-named)
	}
	return said
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

// offset says where a mean offset puts the second line.
func offset(m float64, u geo.Units) string {
	if u.Fine(math.Abs(m)) == u.Fine(0) {
		return "in the same place"
	}
	return u.Fine(math.Abs(m)) + " to the " + side(m)
}

// depthOffset says how much deeper the second was read on average, where both maps have
// a depth with its band; nothing where they have none.
func depthOffset(o compare.Overlay, u geo.Units) string {
	sum := 0.0
	for _, p := range o.Places {
		if trace.Known(p.DepthDifferenceM) && trace.Known(p.DepthAllowedM) {
			sum += p.DepthDifferenceM
		}
	}
	mean := sum / float64(o.DepthsCompared())
	switch {
	case !trace.Known(mean):
		return ""
	case u.Fine(math.Abs(mean)) == u.Fine(0):
		return ", and was read equally deep"
	case mean < 0:
		return ", and was read " + u.Fine(-mean) + " shallower"
	}
	return ", and was read " + u.Fine(mean) + " deeper"
}

// farKm is how far apart maps lie that are of no one job: none is as long (judgement).
const farKm = 10

// Warning says what makes the comparison itself doubtful: both maps are one, they lie
// far apart, or their frames differ; nothing where none of it is so.
func Warning(first, second trace.Located) string {
	switch km := apartKm(first, second); {
	case sameMap(first, second):
		return "Both files hold the same map: that they agree shows nothing."
	case km > farKm:
		return fmt.Sprintf("These maps lie %.0f km apart: they are not of the same job.", km)
	}
	return frameWarning(first, second)
}

// sameMap reports that the lines of two maps are the same to the last digit.
func sameMap(first, second trace.Located) bool {
	same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
	return len(first.Lines) > 0 && slices.EqualFunc(first.Lines, second.Lines, func(a, b trace.LocatedLine) bool {
		return a.Name == b.Name && slices.EqualFunc(a.Parts, b.Parts, func(p, q []trace.LocatedVertex) bool {
			return slices.EqualFunc(p, q, func(v, w trace.LocatedVertex) bool {
				return v.At == w.At && same(v.StationM, w.StationM) && same(v.DepthM, w.DepthM) && same(v.Depth95M, w.Depth95M) && same(v.Horizontal95M, w.Horizontal95M)
			})
		})
	})
}

// apartKm is how far the nearest lines of two maps start from each other; 0 where one of
// them has none.
func apartKm(first, second trace.Located) float64 {
	least := math.Inf(1)
	for _, a := range first.Lines {
		for _, b := range second.Lines {
			if len(a.Parts) > 0 && len(b.Parts) > 0 && len(a.Parts[0]) > 0 && len(b.Parts[0]) > 0 {
				least = math.Min(least, geo.RoughKm(a.Parts[0][0].At, b.Parts[0][0].At))
			}
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// frameWarning says why the frames of two maps make the comparison itself doubtful;
// nothing where both state the same.
func frameWarning(first, second trace.Located) string {
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

package words

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// What is said of a place that was exposed.
var _ = worded("Exposed places", func(u geo.Units, f finding.ExposedCheck) told {
	return told{"Exposed at " + u.Long(f.StationM), exposedWords(u, f)}
})

func exposedWords(u geo.Units, f finding.ExposedCheck) []string {
	w := appendWords(nil, Remark(u, f.Remark))
	if len(w) > 0 {
		return w
	}
	s := "The line was exposed and measured here, " + u.Short(math.Abs(f.OffsetM)) + " " + sideOf(f.OffsetM) +
		" of the line as traced without it"
	if trace.Known(f.DepthDifferenceM) {
		word := "deeper"
		if f.DepthDifferenceM < 0 {
			word = "shallower"
		}
		s += "; the trace had read it " + u.Short(math.Abs(f.DepthDifferenceM)) + " " + word + " than measured"
	}
	return []string{s + "."}
}

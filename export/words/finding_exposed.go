package words

import (
	"loamline.example/geo"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// What is said of a place that was exposed.
var _ = worded("Exposed places", func(u geo.Units, f finding.ExposedCheck) told {
	return told{"Exposed at " + u.Long(f.StationM), exposedWords(u, f)}
})

func exposedWords(u geo.Units, f finding.ExposedCheck) []string {
	if w := appendWords(nil, Remark(u, f.Remark)); len(w) > 0 {
		return w
	}
	return []string{exposedFound(u, remark.ExposedFound{StationM: f.StationM, OffsetM: f.OffsetM, DepthDifferenceM: f.DepthDifferenceM})}
}

package words

import (
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// What is said of a stretch in doubt.
var _ = worded("In doubt", func(u geo.Units, f finding.Doubt) told {
	return told{doubtTitle(u, f), doubtWords(u, f)}
})

func doubtTitle(u geo.Units, f finding.Doubt) string {
	if !trace.Known(f.FromM) {
		return "In doubt: places beside the line"
	}
	return "In doubt, " + Range(u, f.FromM, f.ToM)
}

func doubtWords(u geo.Units, f finding.Doubt) []string {
	do := "Do not rely on the line drawn here: find it again or expose it."
	if BandHolds(f) {
		do = trustTheBand
	}
	return append(appendWords(nil, Remark(u, f.Why)), do)
}

// trustTheBand is what to do where the band holds what speaks against the line.
const trustTheBand = "Trust the band here, not the line drawn: expose before digging."

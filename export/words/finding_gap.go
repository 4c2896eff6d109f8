package words

import (
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// What is said of a stretch that is not traced.
var _ = worded("Not traced", func(u geo.Units, f finding.Gap) told {
	return told{gapTitle(u, f), gapWords(u, f)}
})

func gapTitle(u geo.Units, f finding.Gap) string {
	if !trace.Known(f.FromM) {
		return "Not traced: readings were taken beside the line"
	}
	return "Not traced, " + Range(u, f.FromM, f.ToM)
}

func gapWords(u geo.Units, f finding.Gap) []string {
	if !trace.Known(f.FromM) {
		w := []string{"The dashed line only joins the places of readings; it is not the line's route."}
		return append(appendWords(w, Remark(u, f.Why)), "The line may run anywhere there: trace again or expose.")
	}
	w := []string{"The dashed line only joins the ends; it is not the line's route."}
	return append(appendWords(w, Remark(u, f.Why)), "The line may run anywhere between: trace again or expose.")
}

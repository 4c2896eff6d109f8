package words

import (
	"cmp"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// What is said of a check made in the field.
var _ = worded("Checks made in the field", func(u geo.Units, f finding.FieldCheck) told {
	return told{checkTitle(f.Kind, f.Outcome) + ", at " + u.Long(f.StationM), appendWords(nil, Remark(u, f.Remark))}
})

var checkNames = map[trace.CheckKind]string{trace.CheckLift: "Lift check", trace.CheckAirCoupling: "Air coupling check"}

func checkTitle(kind trace.CheckKind, o trace.Outcome) string {
	name := cmp.Or(checkNames[kind], "Check")
	switch o {
	case trace.OutcomePassed:
		return name + " showed no sign of trouble"
	case trace.OutcomeInconclusive:
		return name + " is inconclusive"
	}
	return name + " failed"
}

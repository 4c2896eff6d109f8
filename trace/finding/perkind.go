package finding

import (
	"fmt"

	"loamline.example/trace"
)

// PerKind is what an output does with each kind of finding: the one registry of
// that output. A kind that has no own form there, where the field is nil or there is
// none, is left to Else: a kind of which no output has a form of its own needs no field.
//
// This is the only switch over the kinds.
type PerKind[T any] struct {
	BleedOver        func(BleedOver) T
	Gap              func(Gap) T
	Doubt            func(Doubt) T
	Crossing         func(Crossing) T
	FieldCheck       func(FieldCheck) T
	ExposedCheck     func(ExposedCheck) T
	RecordDifference func(RecordDifference) T
	Else             func(trace.Finding) T
}

// Of applies the function for the finding's kind. It panics where there is
// neither one nor Else: All shows that to a test.
func (k PerKind[T]) Of(f trace.Finding) T {
	switch f := f.(type) {
	case BleedOver:
		if k.BleedOver != nil {
			return k.BleedOver(f)
		}
	case Gap:
		if k.Gap != nil {
			return k.Gap(f)
		}
	case Doubt:
		if k.Doubt != nil {
			return k.Doubt(f)
		}
	case Crossing:
		if k.Crossing != nil {
			return k.Crossing(f)
		}
	case FieldCheck:
		if k.FieldCheck != nil {
			return k.FieldCheck(f)
		}
	case ExposedCheck:
		if k.ExposedCheck != nil {
			return k.ExposedCheck(f)
		}
	case RecordDifference:
		if k.RecordDifference != nil {
			return k.RecordDifference(f)
		}
	}
	if k.Else == nil {
		panic(fmt.Sprintf("finding: no form for a finding %T", f))
	}
	return k.Else(f)
}

package finding

import (
	"loamline.example/geo"
	"loamline.example/trace"
)

// RoleFieldCheck is the role of a FieldCheck.
const RoleFieldCheck = "field_check"

var _ = declare(FieldCheck{Line: "A", Kind: trace.CheckLift, At: specimenPath()[0], StationM: 0, Outcome: trace.OutcomePassed, Remark: trace.Verbatim("Depth grew by 0.31 m over a lift of 0.30 m.")})

// FieldCheck is a check made in the field and how it came out: a raised
// reading, or signs of air coupling.
type FieldCheck struct {
	Line     string
	Kind     trace.CheckKind
	At       geo.XY
	StationM float64
	Outcome  trace.Outcome
	Remark   trace.Remark
}

// Passed reports whether the check showed no sign of trouble and could have.
func (f FieldCheck) Passed() bool { return f.Outcome == trace.OutcomePassed }

// Role implements trace.Finding.
func (FieldCheck) Role() string { return RoleFieldCheck }

// OnLine implements trace.Finding.
func (f FieldCheck) OnLine() string { return f.Line }

// Span implements trace.Finding.
func (f FieldCheck) Span() (fromM, toM float64) { return f.StationM, f.StationM }

// Where implements trace.Finding.
func (f FieldCheck) Where() []geo.XY { return []geo.XY{f.At} }

// Beside implements trace.Finding.
func (FieldCheck) Beside() []trace.CourseStrip { return nil }

// NeedsEyes implements trace.Finding. A check that is inconclusive says nothing against the
// map, and nothing for it, and is told as what it is wherever checks are told.
func (f FieldCheck) NeedsEyes() bool { return f.Outcome == trace.OutcomeFailed }

// Finding implements trace.Finding.
func (FieldCheck) Finding() {}

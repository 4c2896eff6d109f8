package trace

import "loamline.example/geo"

// RoleFieldCheck is the role of a FieldCheck.
const RoleFieldCheck = "field_check"

var _ = declare(FieldCheck{Line: "A", Kind: CheckLift, At: specimenPath()[0], StationM: 0, Outcome: OutcomePassed, Remark: Verbatim("Depth grew by 0.31 m over a lift of 0.30 m.")})

// FieldCheck is a check made in the field and how it came out: a raised
// reading, or signs of air coupling.
type FieldCheck struct {
	Line     string
	Kind     CheckKind
	At       geo.XY
	StationM float64
	Outcome  Outcome
	Remark   Remark
}

// Outcome is how a check made in the field came out.
type Outcome string

// The outcomes. One that is inconclusive could not have told trouble from none:
// it is no pass.
const (
	OutcomePassed       Outcome = "passed" // no sign of trouble; never proof that there is none
	OutcomeFailed       Outcome = "failed"
	OutcomeInconclusive Outcome = "inconclusive"
)

// Passed reports whether the check showed no sign of trouble and could have.
func (f FieldCheck) Passed() bool { return f.Outcome == OutcomePassed }

// Role implements Finding.
func (FieldCheck) Role() string { return RoleFieldCheck }

// OnLine implements Finding.
func (f FieldCheck) OnLine() string { return f.Line }

// Span implements Finding.
func (f FieldCheck) Span() (fromM, toM float64) { return f.StationM, f.StationM }

// Where implements Finding.
func (f FieldCheck) Where() []geo.XY { return []geo.XY{f.At} }

// Beside implements Finding.
func (FieldCheck) Beside() []CourseStrip { return nil }

// NeedsEyes implements Finding. A check that is inconclusive says nothing against the
// map, and nothing for it, and is told as what it is wherever checks are told.
func (f FieldCheck) NeedsEyes() bool { return f.Outcome == OutcomeFailed }

func (FieldCheck) finding() {}

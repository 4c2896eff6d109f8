package trace

// Grade says how far bleed-over is suspected.
type Grade string

// The grades in rising order.
const (
	GradeWatch   Grade = "watch"
	GradeSuspect Grade = "suspect"
	GradeStrong  Grade = "strong"
)

// Side is a side of the line, seen in the direction of travel.
type Side string

// The sides.
const (
	Left  Side = "left"
	Right Side = "right"
)

// CheckKind is what a check made in the field was.
type CheckKind string

// The checks made in the field.
const (
	CheckLift        CheckKind = "lift"
	CheckAirCoupling CheckKind = "air_coupling"
)

// UnknownNeighbor is the name of a line whose signal is suspected where no known one is
// near.
const UnknownNeighbor = "unknown"

// Outcome is how a check made in the field came out.
type Outcome string

// The outcomes. One that is inconclusive could not have told trouble from none:
// it is no pass.
const (
	OutcomePassed       Outcome = "passed" // no sign of trouble; never proof that there is none
	OutcomeFailed       Outcome = "failed"
	OutcomeInconclusive Outcome = "inconclusive"
)

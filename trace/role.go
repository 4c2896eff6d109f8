package trace

// The roles of a map's features, the same in every output format. What an output does
// by role is a table keyed by these; no other place spells one.
const (
	RoleCenterline       = "centerline"
	RoleVertex           = "centerline_vertex"
	RoleToleranceZone    = "tolerance_zone"
	RoleCautionZone      = "caution_zone"
	RoleReading          = "reading"
	RoleBleedOver        = "bleed_over"
	RoleGap              = "gap"
	RoleDoubt            = "doubt"
	RoleCrossing         = "crossing"
	RoleFieldCheck       = "field_check"
	RoleExposedCheck     = "exposed_check"
	RoleRecordDifference = "record_difference"
)

// Roles are all roles.
func Roles() []string {
	return []string{RoleCenterline, RoleVertex, RoleToleranceZone, RoleCautionZone, RoleReading, RoleBleedOver, RoleGap, RoleDoubt,
		RoleCrossing, RoleFieldCheck, RoleExposedCheck, RoleRecordDifference}
}

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

// What a tolerance zone is measured from.
const (
	FromEdge       = "edge"       // the line's outer edge
	FromCenterline = "centerline" // its centre
)

package trace

// The roles of a map's features, the same in every output format. What an output does
// by role is a table keyed by these; no other place spells one.
const (
	RoleCenterline    = "centerline"
	RoleVertex        = "centerline_vertex"
	RoleToleranceZone = "tolerance_zone"
	RoleCautionZone   = "caution_zone"
	RoleReading       = "reading"
)

// Roles are all roles: those of what is drawn, and those of findings, which are
// declared with them.
func Roles() []string {
	out := []string{RoleCenterline, RoleVertex, RoleToleranceZone, RoleCautionZone, RoleReading}
	for _, f := range AllFindings() {
		out = append(out, f.Role())
	}
	return out
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

package trace

import (
	"slices"
	"strings"

	"loamline.example/geo"
)

// Finding is something that the map says about a line beyond where it lies. It
// tells all that a list, a summary or a drawing must have to show a kind that it
// has no own form for, so that none is passed over.
//
// Each kind is a file of its own, which declares it. The set is closed: AllFindings
// has one of each kind, and every exporter is tested with all of them. Whoever tells
// kinds apart does so with [PerKind].
type Finding interface {
	// Role is the feature's role in every output format.
	Role() string
	// OnLine names the line.
	OnLine() string
	// Span is the stretch in stations on the line, twice the same station for
	// one place; Unknown where it is about places beside the line.
	Span() (fromM, toM float64)
	// Where is where it is drawn: a path, or one place.
	Where() []geo.XY
	// Beside are courses beside the drawn line that the line may take instead,
	// or where it may lie though none is drawn; the caution zone holds them.
	Beside() []CourseStrip
	// NeedsEyes reports whether a person must look at it before anybody digs by
	// the map or it is passed on.
	NeedsEyes() bool
	finding()
}

// CourseStrip is a path that a line may follow, with the half-widths of its
// 95 % band.
type CourseStrip struct {
	Path    []geo.XY
	Half95M []float64
}

// specimens has one of each kind.
var specimens []Finding

// declare adds a kind, by one of it.
func declare(specimen Finding) Finding {
	specimens = append(specimens, specimen)
	return specimen
}

// AllFindings returns one of each kind, for tests that no exporter forgets one, in the
// order of their roles' names.
func AllFindings() []Finding {
	out := slices.Clone(specimens)
	slices.SortFunc(out, func(a, b Finding) int { return strings.Compare(a.Role(), b.Role()) })
	return out
}

// specimenPath is the stretch that specimens are about.
func specimenPath() []geo.XY { return []geo.XY{{X: 0, Y: 0}, {X: 10, Y: 0}} }

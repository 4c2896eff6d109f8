package trace

import "loamline.example/geo"

// Finding is something that the map says about a line beyond where it lies. It
// tells all that a list, a summary or a drawing must have to show a kind that it
// has no own form for, so that none is passed over.
//
// The kinds are in loamline.example/trace/finding, and nowhere else: every exporter is
// tested with one of each.
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
	// Finding marks a kind.
	Finding()
}

// CourseStrip is a path that a line may follow, with the half-widths of its
// 95 % band.
type CourseStrip struct {
	Path    []geo.XY
	Half95M []float64
}

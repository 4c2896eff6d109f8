package finding

import (
	"loamline.example/geo"
	"loamline.example/trace"
)

// RoleGap is the role of a Gap.
const RoleGap = "gap"

var _ = declare(Gap{Line: "A", FromM: 0, ToM: 10, Path: specimenPath(), Why: trace.Verbatim("no usable reading over 10.0 m")})

// Gap is a stretch with too few usable readings to be called traced.
type Gap struct {
	Line       string
	FromM, ToM float64
	Path       []geo.XY
	Why        trace.Remark
	// Courses are places where readings were taken though no line is drawn; the
	// caution zone holds them. FromM and ToM are Unknown then.
	Courses []trace.CourseStrip
	// Along is from where to where along the line such places lie: where the way to them
	// leaves it, and where it comes back. It is nil where that is not known.
	Along *[2]float64
	// PastM is how far past the end of the line the way to such places leads, if it does not
	// come back: negative before its start, 0 where it does not lead there.
	PastM float64
}

// Place is from where to where along the line a gap is, carried on past its ends where
// its places lie there; Unknown where it has no place along it.
func (f Gap) Place() (fromM, toM float64) {
	if f.Along == nil {
		return f.FromM, f.ToM
	}
	return f.Along[0] + min(f.PastM, 0), f.Along[1] + max(f.PastM, 0)
}

// Role implements trace.Finding.
func (Gap) Role() string { return RoleGap }

// OnLine implements trace.Finding.
func (f Gap) OnLine() string { return f.Line }

// Span implements trace.Finding.
func (f Gap) Span() (fromM, toM float64) { return f.FromM, f.ToM }

// Where implements trace.Finding.
func (f Gap) Where() []geo.XY { return f.Path }

// Beside implements trace.Finding.
func (f Gap) Beside() []trace.CourseStrip { return f.Courses }

// NeedsEyes implements trace.Finding.
func (Gap) NeedsEyes() bool { return true }

// Finding implements trace.Finding.
func (Gap) Finding() {}

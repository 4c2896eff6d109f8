package trace

import "loamline.example/geo"

// RoleGap is the role of a Gap.
const RoleGap = "gap"

var _ = declare(Gap{Line: "A", FromM: 0, ToM: 10, Path: specimenPath(), Why: Verbatim("no usable reading over 10.0 m")})

// Gap is a stretch with too few usable readings to be called traced.
type Gap struct {
	Line       string
	FromM, ToM float64
	Path       []geo.XY
	Why        Remark
	// Courses are places where readings were taken though no line is drawn; the
	// caution zone holds them. FromM and ToM are Unknown then.
	Courses []CourseStrip
}

// Role implements Finding.
func (Gap) Role() string { return RoleGap }

// OnLine implements Finding.
func (f Gap) OnLine() string { return f.Line }

// Span implements Finding.
func (f Gap) Span() (fromM, toM float64) { return f.FromM, f.ToM }

// Where implements Finding.
func (f Gap) Where() []geo.XY { return f.Path }

// Beside implements Finding.
func (f Gap) Beside() []CourseStrip { return f.Courses }

// NeedsEyes implements Finding.
func (Gap) NeedsEyes() bool { return true }

func (Gap) finding() {}

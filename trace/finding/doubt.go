package finding

import (
	"loamline.example/geo"
	"loamline.example/trace"
)

// RoleDoubt is the role of a Doubt.
const RoleDoubt = "doubt"

var _ = declare(Doubt{Line: "A", FromM: 2, ToM: 6, Path: specimenPath(), Why: trace.Verbatim("Two passes lie 0.60 m apart.")})

// Doubt is a stretch of a line, or places beside it, where the map must not be
// trusted as it stands: the finished line contradicts the readings, or they
// contradict each other.
type Doubt struct {
	Line       string
	FromM, ToM float64  // stations on the line; Unknown where it is about places off it
	Path       []geo.XY // the stretch, or the places
	ByExposure bool     // an exposed place contradicts the trace: to be told first
	// Courses are where the line may lie instead; the caution zone holds them.
	Courses []trace.CourseStrip
	Why     trace.Remark
	// Among is the worst of its sort on the line, where there are so many that they are one
	// item of what to check; else nil.
	Among trace.Remark
}

// Role implements trace.Finding.
func (Doubt) Role() string { return RoleDoubt }

// OnLine implements trace.Finding.
func (f Doubt) OnLine() string { return f.Line }

// Span implements trace.Finding.
func (f Doubt) Span() (fromM, toM float64) { return f.FromM, f.ToM }

// Where implements trace.Finding.
func (f Doubt) Where() []geo.XY { return f.Path }

// Beside implements trace.Finding.
func (f Doubt) Beside() []trace.CourseStrip { return f.Courses }

// NeedsEyes implements trace.Finding.
func (Doubt) NeedsEyes() bool { return true }

// Finding implements trace.Finding.
func (Doubt) Finding() {}

package trace

import "loamline.example/geo"

// RoleBleedOver is the role of a BleedOver.
const RoleBleedOver = "bleed_over"

var _ = declare(BleedOver{Line: "A", FromM: 0, ToM: 10, Path: specimenPath(), Grade: GradeStrong, Score: 0.97, Neighbor: "B",
	SeparationM: 0.9, Evidence: []Remark{Verbatim("Null lies 0.14 m right of peak over 9 readings.")},
	LikelyShiftM: 0.08, Shift95M: 0.05, LikelySide: Left, WidenLeftM: 0.13, WidenRightM: 0})

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

// BleedOver is a stretch where the signal is suspected to come, in part or in
// whole, from another line.
type BleedOver struct {
	Line         string
	FromM, ToM   float64
	Path         []geo.XY
	Grade        Grade
	Score        float64 // 0 to 1: how likely signal couples here, see package bleed
	Neighbor     string  // UnknownNeighbor where no known line is near
	SeparationM  float64
	Evidence     []Remark
	LikelyShiftM float64 // how far the true line probably lies from the mark; Unknown where none is given
	Shift95M     float64 // half-width of its 95 % band
	LikelySide   Side    // where the true line lies, seen from the mark; empty where none is given
	WidenLeftM   float64 // by how much the caution zone grows on each side
	WidenRightM  float64
	LnDepth95    float64       // bounds by how much the ln of a depth may be falsified; Unknown where nothing tells
	Jump         bool          // the trace left its line and lies on the neighbour
	OwnCourse    []CourseStrip // of a jump: where the line itself may lie meanwhile
}

// Role implements Finding.
func (BleedOver) Role() string { return RoleBleedOver }

// OnLine implements Finding.
func (f BleedOver) OnLine() string { return f.Line }

// Span implements Finding.
func (f BleedOver) Span() (fromM, toM float64) { return f.FromM, f.ToM }

// Where implements Finding.
func (f BleedOver) Where() []geo.XY { return f.Path }

// Beside implements Finding.
func (f BleedOver) Beside() []CourseStrip { return f.OwnCourse }

// NeedsEyes implements Finding.
func (BleedOver) NeedsEyes() bool { return true }

func (BleedOver) finding() {}

package finding

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

// RoleBleedOver is the role of a BleedOver.
const RoleBleedOver = "bleed_over"

var _ = declare(BleedOver{Line: "A", FromM: 0, ToM: 10, Path: specimenPath(), Grade: trace.GradeStrong, Score: 0.97, Neighbor: "B",
	SeparationM: 0.9, Evidence: []trace.Remark{trace.Verbatim("Null lies 0.14 m right of peak over 9 readings.")},
	LikelyShiftM: 0.08, Shift95M: 0.05, LikelySide: trace.Left, WidenLeftM: 0.13, WidenRightM: 0})

// BleedOver is a stretch where the signal is suspected to come, in part or in
// whole, from another line.
type BleedOver struct {
	Line         string
	FromM, ToM   float64
	Path         []geo.XY
	Grade        trace.Grade
	Score        float64 // probability that the mark is displaced there by more than 0.10 m or the depth by more than 25 %
	Neighbor     string  // trace.UnknownNeighbor where no known line is near
	SeparationM  float64
	Evidence     []trace.Remark
	LikelyShiftM float64    // how far the true line probably lies from the mark; Unknown where none is given
	Shift95M     float64    // half-width of its 95 % band
	LikelySide   trace.Side // where the true line lies, seen from the mark; empty where none is given
	WidenLeftM   float64    // by how much the caution zone grows on each side
	WidenRightM  float64
	LnDepth95    float64             // bounds by how much the ln of a depth may be falsified; Unknown where nothing tells
	Jump         bool                // the trace left its line and lies on the neighbour
	OwnCourse    []trace.CourseStrip // of a jump: where the line itself may lie meanwhile
}

// Role implements trace.Finding.
func (BleedOver) Role() string { return RoleBleedOver }

// OnLine implements trace.Finding.
func (f BleedOver) OnLine() string { return f.Line }

// Span implements trace.Finding.
func (f BleedOver) Span() (fromM, toM float64) { return f.FromM, f.ToM }

// Where implements trace.Finding.
func (f BleedOver) Where() []geo.XY { return f.Path }

// ReachM is how far the line may lie from the drawn one by the finding, on either side and
// beyond its own 95 % band: what is likely counts with its band.
func (f BleedOver) ReachM(bandM float64) (leftM, rightM float64) {
	leftM, rightM = f.WidenLeftM, f.WidenRightM
	if !trace.Known(f.LikelyShiftM) || !trace.Known(f.Shift95M) {
		return leftM, rightM
	}
	to, away := f.LikelyShiftM+f.Shift95M-bandM, f.Shift95M-f.LikelyShiftM-bandM
	if f.LikelySide == trace.Left {
		to, away = away, to
	}
	return math.Max(leftM, away), math.Max(rightM, to)
}

// Beside implements trace.Finding.
func (f BleedOver) Beside() []trace.CourseStrip { return f.OwnCourse }

// NeedsEyes implements trace.Finding.
func (BleedOver) NeedsEyes() bool { return true }

// Finding implements trace.Finding.
func (BleedOver) Finding() {}

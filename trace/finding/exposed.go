package finding

import (
	"loamline.example/geo"
	"loamline.example/trace"
)

// RoleExposedCheck is the role of a ExposedCheck.
const RoleExposedCheck = "exposed_check"

var _ = declare(ExposedCheck{Line: "A", Point: "P1", At: specimenPath()[0], StationM: 0, OffsetM: 0.05, DepthDifferenceM: -0.1, Remark: trace.Verbatim("Exposed 0.05 m right of the trace.")})

// ExposedCheck compares the traced line with a place where it was exposed and
// measured.
type ExposedCheck struct {
	Line             string
	Point            string
	At               geo.XY
	StationM         float64
	OffsetM          float64 // exposed point from the line as traced without it, positive to the right
	DepthDifferenceM float64 // traced depth minus measured depth; Unknown without both
	Remark           trace.Remark
}

// Role implements trace.Finding.
func (ExposedCheck) Role() string { return RoleExposedCheck }

// OnLine implements trace.Finding.
func (f ExposedCheck) OnLine() string { return f.Line }

// Span implements trace.Finding.
func (f ExposedCheck) Span() (fromM, toM float64) { return f.StationM, f.StationM }

// Where implements trace.Finding.
func (f ExposedCheck) Where() []geo.XY { return []geo.XY{f.At} }

// Beside implements trace.Finding.
func (ExposedCheck) Beside() []trace.CourseStrip { return nil }

// NeedsEyes implements trace.Finding. An exposure that contradicts the trace is a Doubt as
// well; the comparison alone asks nothing.
func (ExposedCheck) NeedsEyes() bool { return false }

// Finding implements trace.Finding.
func (ExposedCheck) Finding() {}

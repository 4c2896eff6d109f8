package finding

import (
	"loamline.example/geo"
	"loamline.example/trace"
)

// RoleRecordDifference is the role of a RecordDifference.
const RoleRecordDifference = "record_difference"

var _ = declare(RecordDifference{Line: "A", Record: "city-water", FromM: 0, ToM: 10, Path: specimenPath(), MeanOffsetM: 1.2, LargestOffsetM: 1.4, AllowedM: 0.5})

// RecordDifference is a stretch where a record (a reference layer) lies
// farther from the trace than both bands allow.
type RecordDifference struct {
	Line           string
	Record         string
	FromM, ToM     float64
	Path           []geo.XY
	MeanOffsetM    float64 // record from trace, positive to the right
	LargestOffsetM float64
	AllowedM       float64 // what both bands explain
}

// Role implements trace.Finding.
func (RecordDifference) Role() string { return RoleRecordDifference }

// OnLine implements trace.Finding.
func (f RecordDifference) OnLine() string { return f.Line }

// Span implements trace.Finding.
func (f RecordDifference) Span() (fromM, toM float64) { return f.FromM, f.ToM }

// Where implements trace.Finding.
func (f RecordDifference) Where() []geo.XY { return f.Path }

// Beside implements trace.Finding.
func (RecordDifference) Beside() []trace.CourseStrip { return nil }

// NeedsEyes implements trace.Finding.
func (RecordDifference) NeedsEyes() bool { return true }

// Finding implements trace.Finding.
func (RecordDifference) Finding() {}

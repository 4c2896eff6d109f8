package bleed

import (
	"context"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Path is a line in the plane with what is known of its depth and position.
type Path struct {
	Name      string
	Points    []geo.XY
	DepthM    []float64     // one a point, NaN where unknown
	SigmaM    []float64     // one-sigma position error across the line, one a point
	Reference bool          // from a record, not traced
	DoubtM    float64       // how far off a record may lie for its frame alone
	DoubtWhy  string        // why: "its frame is not stated"
	Utility   trace.Utility // class of utility, empty where unknown
}

// Line is the traced line under test. Its readings may come in any order and with
// any fate: raised ones are for lift checks alone, and of those set aside only a
// jump onto another line is judged.
type Line struct {
	Path
	Readings    []trace.Reading
	AntennaGapM float64 // NaN where unknown
	Transmitter *geo.XY
	// TransmitterInferred tells that its place is where its field was read.
	TransmitterInferred bool
	PowerW              float64
	TeesM               []float64 // stations where a branch that was traced leaves it
	Ways                []Way     // other ways of the same line, along branches
	// Exclude lists paths of the index that are no neighbours: the line itself
	// and records of it.
	Exclude []int

	rd []reading // of the readings, what the detector goes by, in station order
}

// Stretch is a suspected stretch; see the map's bleed_over role.
type Stretch struct {
	FromM, ToM              float64
	Grade                   trace.Grade
	Score                   float64
	Neighbor                string // Unknown where no known line is near
	SeparationM             float64
	Evidence                []trace.Remark
	ShiftM, Shift95M        float64    // true line from the mark; NaN where none is given
	Side                    trace.Side // empty where none is given
	WidenLeftM, WidenRightM float64    // what the caution zone must add on each side
	// LnDepth95 bounds, at 95 %, by how much the coupling falsifies the ln of a
	// depth; NaN where nothing tells, as where the depth is another line's.
	LnDepth95 float64
	Jump      bool
	Own       []trace.CourseStrip // of a jump: where the line's own course may lie

	onward []trace.CourseStrip // of a jump that begins with the trace: the neighbour's course past it
}

// Unknown is the neighbour's name where no known line is near.
const Unknown = trace.UnknownNeighbor

// Report is what the detector can say of a line.
type Report struct {
	Stretches []Stretch
	Notes     []trace.Remark // checks made, and checks not possible for want of a column
	Advice    []trace.Remark // what to try next
}

// Detect tests one line against the paths of an index and against a neighbour
// that is not among them. The only error is the context's.
func Detect(ctx context.Context, line Line, others *Index) (Report, error) {
	line.rd = inStationOrder(line.Readings)
	whole := newColumns(line)
	col := whole
	rep := Report{Notes: col.notes()}
	if len(col.rd) >= 3 {
		near := others.neighbours(line, whole)
		jumped := jumps(line, whole, others, near)
		said, possible := likelyJumps(jumped)
		col = whole.without(said)
		found, moves, err := coupled(ctx, col, near)
		if err != nil {
			return Report{}, err
		}
		stretches := col.stretches(found, near)
		undrawn := newUnmapped(line, col)
		stretches = append(stretches, undrawn.jointShiftStretches(moves, append(slices.Clone(said), stretches...))...)
		together := undrawn.withDepth()
		stretches = append(stretches, undrawn.levelRuns(together, append(slices.Clone(said), stretches...))...)
		rises, falls := undrawn.currentSteps(together, append(slices.Clone(said), stretches...))
		stretches = append(stretches, rises...)
		stretches = append(stretches, undrawn.nullsApart(append(slices.Clone(said), stretches...))...)
		fallen := falls(append(slices.Clone(said), stretches...))
		undrawn.otherLegs(stretches, near)
		stretches = append(stretches, undrawn.insideOfBends()...)
		undrawn.wentOver(stretches)
		stretches = append(stretches, undrawn.farSides(stretches, said)...)
		rest := col.orTheRest(said, stretches)
		said = append(append(said, confirmed(possible, stretches)...), rest...)
		on := newUnmapped(line, whole).turnedOn(append(slices.Clone(said), stretches...))
		rep.Stretches = inOrder(said, append(append(stretches, fallen...), on...), near, col)
		col.toNextReadings(rep.Stretches)
	}
	rep.Advice = col.advice(rep.Stretches)
	return rep, nil
}

package bleed

import (
	"context"

	"loamline/geo"
)

// Reading is one reading over the line, in station order. Numbers that the
// instrument did not give are NaN.
type Reading struct {
	Pos         geo.XY
	StationM    float64
	OffsetM     float64 // of the reading from the centerline, positive to the right
	TimeS       float64
	HAccM       float64
	Fix         int // -1 where not given
	DepthM      float64
	CurrentMA   float64
	Signal      float64
	SignalLow   float64
	SignalHigh  float64
	NullOffsetM float64
	FreqHz      float64
	Phase       int8   // +1 with, -1 against, 0 not given
	Hookup      string // direct, clamp, induction, passive or empty
	SetAside    bool   // the position is not in the centerline: only a jump is judged by it
	Index       int    // of the caller
}

// Path is a line in the plane with what is known of its depth and position.
type Path struct {
	Name      string
	Points    []geo.XY
	DepthM    []float64 // one a point, NaN where unknown
	SigmaM    []float64 // one-sigma position error across the line, one a point
	Reference bool      // from a record, not traced
	DoubtM    float64   // how far off a record may lie for its frame alone
	DoubtWhy  string    // why: "its frame is not stated"
	Utility   string    // class of utility, empty where unknown
}

// Line is the traced line under test.
type Line struct {
	Path
	Readings    []Reading
	AntennaGapM float64 // NaN where unknown
	Transmitter *geo.XY
	// TransmitterHeard tells that its place is where its field was read.
	TransmitterHeard bool
	PowerW           float64
	// Exclude lists paths of the index that are no neighbours: the line itself
	// and records of it.
	Exclude []int
}

// Stretch is a suspected stretch; see the map's bleed_over role.
type Stretch struct {
	FromM, ToM              float64
	Grade                   string // watch, suspect or strong
	Score                   float64
	Neighbor                string // Unknown where no known line is near
	SeparationM             float64
	Evidence                []string
	ShiftM, Shift95M        float64 // true line from the mark; NaN where none is given
	Side                    string  // left or right, empty where none is given
	WidenLeftM, WidenRightM float64 // what the caution zone must add on each side
	// LnDepth95 bounds, at 95 %, by how much the coupling falsifies the ln of a
	// depth; NaN where nothing tells, as where the depth is another line's.
	LnDepth95 float64
	Jump      bool
	Own       []Strip // of a jump: where the line's own course may lie
}

// Unknown is the neighbour's name where no known line is near.
const Unknown = "unknown"

// The grades in rising order.
const (
	Watch   = "watch"
	Suspect = "suspect"
	Strong  = "strong"
)

// Report is what the detector can say of a line.
type Report struct {
	Stretches []Stretch
	Notes     []string // checks made, and checks not possible for want of a column
	Advice    []string // what to try next
}

// Detect tests one line against the paths of an index and against a neighbour
// that is not among them. Units chooses how evidence is worded. The only error
// is the context's.
func Detect(ctx context.Context, line Line, others *Index, units geo.Units) (Report, error) {
	col := newColumns(line)
	rep := Report{Notes: col.notes()}
	if len(col.rd) >= 3 {
		near := others.exposures(line, col)
		jumped := jumps(line, col, others, near, units)
		said, possible := likelyJumps(jumped)
		col.leaveOut(said)
		found, err := coupled(ctx, col, near)
		if err != nil {
			return Report{}, err
		}
		stretches := col.stretches(found, near, units)
		said = append(said, confirmed(possible, stretches)...)
		rep.Stretches = inOrder(said, stretches, near, col, units)
	}
	rep.Advice = col.advice(rep.Stretches)
	return rep, nil
}

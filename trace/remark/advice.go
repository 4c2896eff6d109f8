package remark

import (
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// NoLine: nothing could be drawn from a line's readings.
type NoLine struct {
	Line     string
	Readings []trace.Reading
}

// LookAt: a finding that asks to be looked at.
type LookAt struct {
	Line    string // it is a finding of
	Finding trace.Finding
	Within  []trace.Finding // of a stretch not traced: places in it where readings were taken
}

// WatchedCrossing: a crossing with a known line, and what is to be watched there.
type WatchedCrossing struct {
	Line     string
	Crossing finding.Crossing
	Watched  finding.BleedOver
	Reach    Reach
}

// OnLine: something to be checked on a line.
type OnLine struct {
	Line     string
	StationM float64 // Unknown: all of it
	What     trace.Remark
}

// FarTransmitter: a transmitter that cannot stand where it is said to.
type FarTransmitter struct{ Km float64 }

// LayerUncertain: a layer whose frame leaves open where its lines are.
type LayerUncertain struct {
	Source string
	Doubt  RecordDoubt
}

// FrameDoubt: how far the whole map may lie off because of its frame.
type FrameDoubt struct {
	OffM   float64
	Datum  string // the one stated, else a local one that it might be
	Stated bool
}

// DepthsTenfold: depths that were left out as if a decimal point were lost.
type DepthsTenfold struct{ N int }

// ElevationsLeap: elevations that were left out.
type ElevationsLeap struct{ N int }

// UnitChanged: depths that change by the ratio of two units.
type UnitChanged struct {
	BeforeM, AfterM float64
	Row             int32  // line of the table
	Unit, Other     string // the units of that ratio: "metres", "feet"
}

// Contradicted: a problem of rows that are told on the line too.
type Contradicted struct {
	Line string
	What trace.Remark
}

// AllDeep: a line whose depths are deeper throughout than the method reads well.
type AllDeep struct {
	Line           string
	LimitM, FirstM float64
}

// PointsLost: depths that are ten times those of their neighbours.
type PointsLost struct {
	Line   string
	N      int
	FirstM float64
}

// ElevationsOff: elevations that stand out from those around them.
type ElevationsOff struct {
	Line   string
	N      int
	FirstM float64
}

// AntennasImplied: depths and signals that suppose antennas as no receiver has them.
type AntennasImplied struct {
	ApartM float64
	Deeper bool // too close together: at given signals a depth is as that distance
}

// DepthsAgainstAntennas: depths that are not those of the antennas.
type DepthsAgainstAntennas struct{ Times, GapM float64 }

// DepthsAgainstAntennasInPart: depths of a part of a line that stand to those of the
// antennas otherwise than the rest.
type DepthsAgainstAntennasInPart struct {
	Times          float64
	FromRow, ToRow int32 // lines of the table
}

// DisplayAtEnd: depths that stay at the most that the display can show.
type DisplayAtEnd struct {
	N      int
	DepthM float64
	Row    int32 // line of the table
}

// DepthsFrozen: depths that stay at one figure where others do not.
type DepthsFrozen struct {
	N      int
	DepthM float64
	Row    int32 // line of the table
}

// DepthsSeries: depths that step by exactly one amount.
type DepthsSeries struct {
	N              int
	FromRow, ToRow int32 // lines of the table
}

// DepthsPasted: depths that are those of earlier rows in their order.
type DepthsPasted struct {
	N                         int
	FromRow, ToRow, AsFromRow int32 // lines of the table
}

// DepthsAllAlike: depths that are one figure all along a line.
type DepthsAllAlike struct {
	N      int
	DepthM float64
}

// ElevationsStep: ground that rises or falls between two neighbours and is steady on
// either side.
type ElevationsStep struct {
	StepM          float64
	FromRow, ToRow int32 // lines of the table
}

// RowsUnplaced: rows of a line without a usable position.
type RowsUnplaced struct {
	N, Of int
	Row   int32 // of one of them, and
	Why   trace.Remark
}

// DepthsTooDeep: depths that no receiver reads.
type DepthsTooDeep struct {
	N, Of         int
	DeepestM      float64
	Table, Header string // where they stand; "" where that is not one column
}

// RowsWithTwoPositions: rows of a line that were set aside for that.
type RowsWithTwoPositions struct{ N int }

// DepthsOutside: depths drawn outside what was read.
type DepthsOutside struct{ OffM float64 }

// ExposedBeside: an exposed place that the trace's accuracy does not explain.
type ExposedBeside struct{ OffM, AllowedM float64 }

// ExposedOneWay: where the line heads otherwise than at its exposed places, these do not
// show how far off the trace is.
type ExposedOneWay struct{ UnseenM float64 }

// ExposedBeyond: an exposed place past the end of what was traced.
type ExposedBeyond struct{ BeyondM float64 }

// ExposedDeeper: a measured depth that no receiver's error explains, or that of the
// receiver does not which the other exposures showed.
type ExposedDeeper struct {
	MeasuredM, ReadM float64
	OthersAgree      bool
}

// ExposedToTop: a measured depth that half the line's diameter explains better than the
// receiver's error.
type ExposedToTop struct{ MeasuredM, ReadM, HalfM float64 }

// ExposedOtherGround: a measured depth that ground cut or filled explains better than the
// receiver's error.
type ExposedOtherGround struct{ MeasuredM, ReadM float64 }

// DepthsWrongOn: an exposed depth of another line of the day, which no receiver's error
// explains: whatever made it wrong may have made these wrong.
type DepthsWrongOn struct {
	Other            string
	MeasuredM, ReadM float64
}

// PositionsUnbounded: nothing bounds the error of the positions.
type PositionsUnbounded struct{ OffM float64 }

// PositionsOfOtherFix: positions shown as RTK fixed scatter as no such fix does.
type PositionsOfOtherFix struct{ OffM float64 }

// PositionsRounded: the digits of the positions hide where the line lies.
type PositionsRounded struct{ OffM float64 }

func (NoLine) Remark()                      {}
func (LookAt) Remark()                      {}
func (WatchedCrossing) Remark()             {}
func (OnLine) Remark()                      {}
func (FarTransmitter) Remark()              {}
func (LayerUncertain) Remark()              {}
func (FrameDoubt) Remark()                  {}
func (DepthsTenfold) Remark()               {}
func (ElevationsLeap) Remark()              {}
func (UnitChanged) Remark()                 {}
func (Contradicted) Remark()                {}
func (AllDeep) Remark()                     {}
func (PointsLost) Remark()                  {}
func (ElevationsOff) Remark()               {}
func (AntennasImplied) Remark()             {}
func (DepthsAgainstAntennas) Remark()       {}
func (DepthsAgainstAntennasInPart) Remark() {}
func (DepthsFrozen) Remark()                {}
func (DepthsSeries) Remark()                {}
func (DepthsPasted) Remark()                {}
func (DepthsAllAlike) Remark()              {}
func (DisplayAtEnd) Remark()                {}
func (ElevationsStep) Remark()              {}
func (RowsUnplaced) Remark()                {}
func (DepthsTooDeep) Remark()               {}
func (RowsWithTwoPositions) Remark()        {}
func (DepthsOutside) Remark()               {}
func (ExposedBeside) Remark()               {}
func (ExposedOneWay) Remark()               {}
func (ExposedBeyond) Remark()               {}
func (ExposedDeeper) Remark()               {}
func (ExposedToTop) Remark()                {}
func (ExposedOtherGround) Remark()          {}
func (DepthsWrongOn) Remark()               {}
func (PositionsUnbounded) Remark()          {}
func (PositionsOfOtherFix) Remark()         {}
func (PositionsRounded) Remark()            {}

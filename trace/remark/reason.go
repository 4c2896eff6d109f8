package remark

import (
	"loamline.example/geo"
	"loamline.example/trace"
)

// Reason is why a reading was set aside or changed, where no figure belongs to it.
type Reason string

// The reasons without a figure.
const (
	NoPosition        Reason = "no_position"
	NoPositionNorTime Reason = "no_position_nor_time" // by which a GNSS log could give one
	ZeroPosition      Reason = "zero_position"
	NoCourse          Reason = "no_course"
	NoZone            Reason = "no_zone"
	ZeroDepth         Reason = "zero_depth"
	DepthFromAntennas Reason = "depth_from_antennas"
)

// NotInLog: no position, and none in the GNSS logs for a reason that each has.
type NotInLog struct{ Why string }

// NoFix: a fix that is no measurement.
type NoFix struct{ Fix trace.Fix }

// Swapped: latitude and longitude look swapped.
type Swapped struct{ At geo.LonLat }

// LongitudeOver: a longitude that goes round the globe.
type LongitudeOver struct{ LonDeg float64 }

// Impossible: a position that is none.
type Impossible struct{ At geo.LonLat }

// Slipped: a position far off the line, and with it were a slip mended.
type Slipped struct {
	Slip Slip
	At   geo.LonLat
}

// Slip is a slip in writing a position down.
type Slip string

// The slips.
const (
	AxesSwapped       Slip = "axes_swapped"
	LongitudeSignLost Slip = "longitude_sign_lost"
	LatitudeSignLost  Slip = "latitude_sign_lost"
)

// FarOff: a position impossibly far off the line.
type FarOff struct {
	At    geo.LonLat
	FarKm float64
}

// NoGrid: eastings and northings in a system that has none.
type NoGrid struct{ CRS string }

// NotProjected: eastings and northings that no place has.
type NotProjected struct{ Why string }

// OutsideCRS: eastings and northings far outside the area of their system.
type OutsideCRS struct {
	Name, CRS     string
	EastM, NorthM float64
}

// TwoPositions: degrees and eastings and northings that do not agree.
type TwoPositions struct{ ApartM float64 }

// Repeated: the same reading again.
type Repeated struct {
	Row       int32 // of the first one
	OtherFile bool
}

// AirCoupled: the antennas show the transmitter's own field.
type AirCoupled struct{ Ratio float64 }

// NegativeDepth, FillerDepth, TooDeep, TooShallow and TenfoldDepth are figures that no
// depth is.
type (
	NegativeDepth struct{ DepthM float64 }
	FillerDepth   struct{ DepthM float64 }
	TooDeep       struct{ DepthM float64 }
	TooShallow    struct{ DepthM float64 }
	TenfoldDepth  struct{ DepthM float64 }
)

// DepthInstead: a depth computed from the two antennas, for what was shown is none.
type DepthInstead struct{ ShownM float64 }

// DepthSpike: a depth that stands out from those around it.
type DepthSpike struct{ DepthM, AroundM float64 } // AroundM Unknown where none is drawn

// Outlier: a position that the line does not run through.
type Outlier struct {
	From From
	OffM float64
	N    int // readings that lie so together
}

// Unplaced: a reading that no line was drawn to.
type Unplaced struct {
	From From
	OffM float64
}

// From is what a position stands off from.
type From string

// What a position can stand off from.
const (
	FromLine       From = "line"        // that the other readings make
	FromOrder      From = "order"       // out of order along the walk
	FromNeighbours From = "neighbours"  // those read at the same place
	FromWalk       From = "walk"        // off it and back
	FromStraightOn From = "straight_on" // several together, to one side
	FromAll        From = "all"         // the readings before and after are far away
	FromNowhere    From = "nowhere"     // there is no usable position
)

// Outlier tells the domain that the reading was set aside for where it lies.
func (Outlier) Outlier() {}

// Repeat tells it that it is a copy.
func (Repeated) Repeat() {}

func (Reason) Remark()        {}
func (NotInLog) Remark()      {}
func (NoFix) Remark()         {}
func (Swapped) Remark()       {}
func (LongitudeOver) Remark() {}
func (Impossible) Remark()    {}
func (Slipped) Remark()       {}
func (FarOff) Remark()        {}
func (NoGrid) Remark()        {}
func (NotProjected) Remark()  {}
func (OutsideCRS) Remark()    {}
func (TwoPositions) Remark()  {}
func (Repeated) Remark()      {}
func (AirCoupled) Remark()    {}
func (NegativeDepth) Remark() {}
func (FillerDepth) Remark()   {}
func (DepthInstead) Remark()  {}
func (TooDeep) Remark()       {}
func (TooShallow) Remark()    {}
func (TenfoldDepth) Remark()  {}
func (DepthSpike) Remark()    {}
func (Outlier) Remark()       {}
func (Unplaced) Remark()      {}

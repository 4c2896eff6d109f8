package remark

import "loamline.example/trace"

// NullOffset: the null lies beside the peak.
type NullOffset struct {
	OffsetM, BandM float64 // BandM is what one line alone gives, 95 %
	Side           trace.Side
	N              int // readings
}

// DepthAndCurrent: depth and current on a stretch against before and after it.
type DepthAndCurrent struct {
	LnDepth   float64
	LnCurrent float64 // Unknown where none was read
}

// Share is a current in parts of the line's own, with its 90 % band.
type Share struct{ Times, Least, Most float64 }

// CurrentIn: the readings fit a current in a known line.
type CurrentIn struct {
	Share    Share
	Neighbor string
	AsideM   float64
	Side     trace.Side
}

// CurrentWhere: they fit a current in a line about where a known one lies.
type CurrentWhere struct {
	Share    Share
	Neighbor string
	AsideM   float64
	Side     trace.Side // empty: either
}

// CurrentUnmapped: they fit a current in a line that is on no map.
type CurrentUnmapped struct {
	Share        Share
	AsideM       float64
	Side         trace.Side // empty: either
	Nearby       string     // a known line that does not explain it; empty where none is near
	NearbyAsideM float64
	NearbySide   trace.Side
}

// AgainstDirection: current against the direction that the hookup lets expect.
type AgainstDirection struct{ Against, Of int }

// HookupFavours: signal that is put on like this couples easily.
type HookupFavours struct{ Hookup trace.Hookup }

// FrequencyFavours: a frequency that couples easily.
type FrequencyFavours struct{ FreqHz float64 }

// ShiftUnknown: where the line lies from the mark is not known.
type ShiftUnknown struct{ WidenM float64 }

// Argument is a rule of the trade that speaks for or against a finding, or what it
// leaves open.
type Argument string

// The arguments.
const (
	TeeMovesNoNull       Argument = "tee_moves_no_null"
	DepthKeepsCurrent    Argument = "depth_keeps_current"
	CurrentStaysAway     Argument = "current_stays_away"
	NullStaysAtPeak      Argument = "null_stays_at_peak"
	MarksMayBeAnothers   Argument = "marks_may_be_anothers"
	EitherSideMayBeOther Argument = "either_side_may_be_other"
	AllAtBends           Argument = "all_at_bends"
)

// MarksLeave: the marks go over to a known line.
type MarksLeave struct {
	FromM    float64
	Neighbor string
	N        int     // readings there
	BackAtM  float64 // Unknown where they do not come back
	Likely   bool
}

// OwnCourse: where the line's own course lies meanwhile.
type OwnCourse struct {
	AsideM float64
	Side   trace.Side
	OneEnd bool // it is seen before the marks left alone
}

// OrNeighborHere: or the neighbour's marks lie on this line.
type OrNeighborHere struct{ Neighbor string }

// MixedUp: of two lines whose marks run together, or that perhaps changed names where they
// meet, nothing shows which one they follow.
type MixedUp struct{ Other string }

// TraceAgainFrom: what shows which way the line goes.
type TraceAgainFrom struct{ StationM float64 }

// OrItLeaves: or the trace began on its own line, and leaves it.
type OrItLeaves struct {
	StationM float64
	Neighbor string
}

// StepToUnmapped: the marks step aside to a line that is on no map.
type StepToUnmapped struct{ AsideM, StationM float64 }

// CurrentLevel: the current changes at once at both ends of a stretch.
type CurrentLevel struct{ LnCurrent float64 }

// CurrentRises: away from the transmitter the current rises at once, and stays so.
type CurrentRises struct{ LnCurrent, StationM float64 }

// NullLevel: the null changes at once at both ends of a stretch.
type NullLevel struct {
	OffsetM float64
	Side    trace.Side
}

// NullsApart: nulls lie farther from their peaks than one line alone gives.
type NullsApart struct {
	N, Of int // of the nulls read
	MostM float64
}

// TurnsAway: where another line's signal was met the course turns, and goes on at another
// depth.
type TurnsAway struct{ StationM, TurnRad float64 }

// CurrentFalls: at one place the current falls at once, and stays so.
type CurrentFalls struct{ LnCurrent, StationM float64 }

// LevelsTogether: what was read changes level at the same places.
type LevelsTogether struct{ SeenBegin, SeenEnd bool }

// InsideOfBends: nulls at the line's own bends show a receiver that marks their inside.
type InsideOfBends struct{ MostM float64 }

// OwnLeg: another leg of the same line is near.
type OwnLeg struct{ ApartM float64 }

// CloseRun: the line runs close to a known one, and nothing was found.
type CloseRun struct {
	Depths, AsideM, LengthM float64
	Neighbor                string
	Crosses                 bool // it lies on one side and then on the other: AsideM is a middle one
	Blind                   bool // the columns cannot show coupling
	Doubt                   RecordDoubt
}

// RecordDoubt is how far off a record may lie, and why; its zero value is no doubt.
type RecordDoubt struct {
	OffM float64
	Why  string
}

// RecordAnywhere: a record whose frame alone explains that it is near.
type RecordAnywhere struct {
	Record string
	Doubt  RecordDoubt
}

// RecordUncertain: a distance from a record is no evidence by itself.
type RecordUncertain struct {
	Record string
	Doubt  RecordDoubt
}

// CoupledUnseen: what could couple without showing; Share 0 where that is not known.
type CoupledUnseen struct{ Share, ShiftM, LnDepth float64 }

func (NullOffset) Remark()       {}
func (DepthAndCurrent) Remark()  {}
func (CurrentIn) Remark()        {}
func (CurrentWhere) Remark()     {}
func (CurrentUnmapped) Remark()  {}
func (AgainstDirection) Remark() {}
func (HookupFavours) Remark()    {}
func (FrequencyFavours) Remark() {}
func (ShiftUnknown) Remark()     {}
func (Argument) Remark()         {}
func (MarksLeave) Remark()       {}
func (OwnCourse) Remark()        {}
func (OrNeighborHere) Remark()   {}
func (MixedUp) Remark()          {}
func (TraceAgainFrom) Remark()   {}
func (OrItLeaves) Remark()       {}
func (StepToUnmapped) Remark()   {}
func (CurrentLevel) Remark()     {}
func (CurrentRises) Remark()     {}
func (CurrentFalls) Remark()     {}
func (TurnsAway) Remark()        {}
func (NullLevel) Remark()        {}
func (NullsApart) Remark()       {}
func (LevelsTogether) Remark()   {}
func (InsideOfBends) Remark()    {}
func (OwnLeg) Remark()           {}
func (CloseRun) Remark()         {}
func (RecordAnywhere) Remark()   {}
func (RecordUncertain) Remark()  {}
func (CoupledUnseen) Remark()    {}

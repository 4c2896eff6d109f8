package remark

import "loamline.example/trace"

// What a line's findings and notes say of how it was drawn.
type (
	// NotTraced: no usable reading on a stretch.
	NotTraced struct{ OverM float64 }
	// AirBeyond: readings past a station show the transmitter's own field.
	AirBeyond struct{ OverM, StationM float64 }
	// AgainstSignal: readings in a row show the current flowing against the signal.
	AgainstSignal struct{ N int }
	// PositionsComputed: readings that lie in the middle between their neighbours, to
	// the last figure.
	PositionsComputed struct {
		N              int
		FromRow, ToRow int32 // lines of the table
	}

	// PlacesFilled: readings in a row one of whose two figures follows from the rows before
	// it to the last digit, while the other goes on.
	PlacesFilled struct {
		N              int
		FromRow, ToRow int32
		Figure         Figure
		Series         bool // counted up by one amount, not the same
	}
	// Unheard: readings in a row that show nothing of the line: no value of the locator, the
	// one value before again, or a note that says so, or that they lie beside the line.
	Unheard struct {
		N              int
		FromRow, ToRow int32
		Held, Noted    bool
		Beside         bool   // the note says that they lie beside the line
		Note           string // of the first one
		// AsideM is how far to the right, and in another depth, the course behind them runs
		// on; 0 where it goes on.
		AsideM float64
	}
	// NameChanged: readings of a line lie on the course of another one that goes on from
	// its end, or that it begins at the end of.
	NameChanged struct {
		Other string
		N     int
		Late  bool // the name was changed late, if it was, and else early
		// Beyond: the readings have the other line's name, and may be this one's.
		Beyond bool
	}
	// SetupChanged: the line bends where it is heard with another hookup or at another
	// frequency. What does not change is not told.
	SetupChanged struct {
		Before       bool // what lies before the change is the less sure
		Was, Now     trace.Hookup
		WasHz, NowHz float64
	}
	// OnLead: readings at an end of the line have depths of next to nothing, and the next
	// one that of the line.
	OnLead struct {
		N            int
		AtEnd        bool // and else at the start
		MostM, ThenM float64
	}
	// DepthsOfATenth: depths deeper throughout than the method reads well.
	DepthsOfATenth struct{}
	// Joined: a line drawn from reading to reading; the note of it is JoinedNote.
	Joined     struct{}
	JoinedNote struct{}
	// NotDrawn: a line that was taken back.
	NotDrawn struct{ Why error }
)

// ExposedFound: an exposed place against the trace without it.
type ExposedFound struct {
	StationM, OffsetM float64
	DepthDifferenceM  float64 // read minus measured; Unknown without both
}

// AccuracyOptimistic: the readings scatter more than the accuracy stated.
type AccuracyOptimistic struct{ StatedM, FoundM float64 }

// SharedError: what the whole walk has in common, 95 %.
type SharedError struct{ Shared95M float64 }

// DrawnOutside: depths drawn outside those read nearby.
type DrawnOutside struct{ OffM float64 }

// FullScale: signals at the end of the display.
type FullScale struct {
	Shown float64
	N     int
}

// DepthsBlank: readings without a depth among others that have one.
type DepthsBlank struct {
	N          int
	FromM, ToM float64
}

// DepthsComputed: depths from the two antennas.
type DepthsComputed struct {
	N     int
	GapM  float64
	Among bool // others came with one
}

// OtherThanAntennas: depths shown that stand so many times over those of the two antennas.
type OtherThanAntennas struct{ Times, GapM float64 }

// DepthsSet: depths set by exposed ones.
type DepthsSet struct {
	N       int
	LnScale float64 // read over true
	Sigma   float64 // of it
}

// DepthsToTop: the band of the depths holds that exposed ones were measured to the top of
// the line, half its diameter above the centre.
type DepthsToTop struct{ HalfM float64 }

// HeardBesideJump: the bands beside a jump hold what the line that the trace went over to does
// there, bounds of the ln of a depth shown over the true one.
type HeardBesideJump struct{ FromM, ToM, JumpFromM, JumpToM, LnLeast, LnMost float64 }

// DepthsAsRead: the band of the depths holds what was read, from which the one exposed
// depth differs by much: read minus measured.
type DepthsAsRead struct{ DifferM float64 }

// DepthsAsOn: exposed depths of another line of the day showed by how much its receiver
// read wrong, and the band holds that.
type DepthsAsOn struct {
	Other          string
	LnScale, Sigma float64 // as of DepthsSet
}

// ErrorUnbounded: nothing bounds the error that all positions share.
type ErrorUnbounded struct{ Hidden95M float64 }

// ErrorOfFix: what all positions of such a fix share is in the band.
type ErrorOfFix struct{ Hidden95M float64 }

// ErrorOfDigits: what the digits of the positions hide is in the band.
type ErrorOfDigits struct{ Rounded95M float64 }

// DepthsRounded: what the step on which depths were written hides is in their band.
type DepthsRounded struct{ StepM float64 }

// ComparedWith: a record along the line.
type ComparedWith struct {
	Record, Source  string
	MeanM, LargestM float64 // record from trace, positive to the right
	Doubt           RecordDoubt
}

// Bands of a part of the line, and what published rules have for such figures.
type Bands struct {
	Over                    []Stretch // what the figures hold for: of the part, what nothing is said against
	Horizontal95M, Depth95M float64   // at the worst place; the depth's Unknown where none is
	DoubtfulLeftOut         bool
	DepthsContradicted      bool       // as a whole: no accuracy of them is stated
	Unbounded               bool       // nothing bounds the positions' error: no rule's band
	OnTrust                 bool       // in what nothing in the readings shows: no rule's band
	Frame                   FrameDoubt // so far off that no rule's band is claimed; else its zero value
	PAS                     PAS128
	French                  NFS70003
}

// PAS128 is the band of a survey type of PAS 128 that figures lie in.
type PAS128 string

// The bands.
const (
	PASB1        PAS128 = "QL-B1"
	PASB2        PAS128 = "QL-B2"
	PASB3        PAS128 = "QL-B3"
	PASB3NoDepth PAS128 = "QL-B3-no-depth"
	PASNone      PAS128 = ""
)

// NFS70003 is the class of NF S70-003 that a position lies in.
type NFS70003 string

// The classes.
const (
	FrenchA         NFS70003 = "A"
	FrenchAFlexible NFS70003 = "A-flexible"
	FrenchB         NFS70003 = "B"
	FrenchBMain     NFS70003 = "B-main" // C for a service connection
	FrenchC         NFS70003 = "C"
)

// BandsOnly: what figures alone do not show of a rule's level.
type BandsOnly struct{}

func (NotTraced) Remark()          {}
func (AirBeyond) Remark()          {}
func (AgainstSignal) Remark()      {}
func (PositionsComputed) Remark()  {}
func (PlacesFilled) Remark()       {}
func (NameChanged) Remark()        {}
func (Unheard) Remark()            {}
func (SetupChanged) Remark()       {}
func (OnLead) Remark()             {}
func (DepthsOfATenth) Remark()     {}
func (Joined) Remark()             {}
func (JoinedNote) Remark()         {}
func (NotDrawn) Remark()           {}
func (ExposedFound) Remark()       {}
func (AccuracyOptimistic) Remark() {}
func (SharedError) Remark()        {}
func (DrawnOutside) Remark()       {}
func (FullScale) Remark()          {}
func (DepthsBlank) Remark()        {}
func (DepthsComputed) Remark()     {}
func (OtherThanAntennas) Remark()  {}
func (DepthsSet) Remark()          {}
func (DepthsToTop) Remark()        {}
func (HeardBesideJump) Remark()    {}
func (DepthsAsRead) Remark()       {}
func (DepthsAsOn) Remark()         {}
func (ErrorUnbounded) Remark()     {}
func (ErrorOfFix) Remark()         {}
func (ErrorOfDigits) Remark()      {}
func (DepthsRounded) Remark()      {}
func (ComparedWith) Remark()       {}
func (Bands) Remark()              {}
func (BandsOnly) Remark()          {}

// Figure is one of the two that a place is written in.
type Figure string

// The figures of a place.
const (
	Latitude  Figure = "latitude"
	Longitude Figure = "longitude"
	Easting   Figure = "easting"
	Northing  Figure = "northing"
)

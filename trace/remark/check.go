package remark

// Check is a check for bleed-over that needs certain columns.
type Check string

// The checks.
const (
	CheckDepth Check = "depth"
	// CheckDepthFew is of depths that were read, and of which too few could be used.
	CheckDepthFew Check = "depth_few"
	CheckCurrent  Check = "current"
	// CheckCurrentAlone is of a current without depth or signal.
	CheckCurrentAlone Check = "current_alone"
	// CheckSignal is of a signal beside which no current is above zero, and CheckNoCurrent
	// of that current.
	CheckSignal, CheckNoCurrent Check = "signal", "no_current"
	CheckNull                   Check = "null"
	CheckDirection              Check = "direction"
	CheckAntennas               Check = "antennas"
)

// Checked: a check that was made.
type Checked struct{ Check Check }

// NotChecked: a check that was not possible for want of a column.
type NotChecked struct{ Check Check }

// Try is what a locator could try next to settle what was found.
type Try string

// What there is to try.
const (
	TryDirect    Try = "direct_connection"
	TryLowerFreq Try = "lower_frequency"
	TryOtherEnd  Try = "other_end"
	TryIsolate   Try = "isolate"
	TryPothole   Try = "pothole"
)

// Lift: a raised reading against the one beneath it.
type Lift struct {
	RaiseM, GrowthM float64
	// SignalRatio is the signal raised to that at the ground, AloneRatio what it is over
	// one line alone; Unknown where no signal was read.
	SignalRatio, AloneRatio float64
	Shows                   LiftShows
}

// LiftShows is what a lift shows.
type LiftShows string

// What a lift can show.
const (
	LiftSignalStays LiftShows = "signal_does_not_fall"
	LiftTooDeep     LiftShows = "too_deep"
	LiftTooShallow  LiftShows = "too_shallow"
	LiftInScatter   LiftShows = "within_scatter"
	LiftTooSmall    LiftShows = "lift_within_scatter"
	LiftNothing     LiftShows = "no_sign"
)

// AirDepth: depths as the transmitter's own field shows them.
type AirDepth struct {
	DeepestM float64
	N        int // readings
}

// AirRatio: two antennas that read nearly the same, as in the transmitter's own field.
type AirRatio struct {
	N                     int // readings
	Ratio                 float64
	LineDepthM, LineRatio float64 // what the line gives; Unknown where its depth is
}

// AntennasDiffer: the two antennas differ as over a line.
type AntennasDiffer struct{ N, Of int }

// NearTransmitter: readings too near to an induction transmitter.
type NearTransmitter struct {
	N               int
	ReachM, LeastM  float64 // of its field; the nearest reading
	PositionAssumed bool
}

func (Checked) Remark()         {}
func (NotChecked) Remark()      {}
func (Try) Remark()             {}
func (Lift) Remark()            {}
func (AirDepth) Remark()        {}
func (AirRatio) Remark()        {}
func (AntennasDiffer) Remark()  {}
func (NearTransmitter) Remark() {}

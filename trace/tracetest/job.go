package tracetest

import (
	"math"

	"loamline.example/geo"
)

// Reading is one row as the instruments gave it, and the truth about it.
// Numbers that were not shown are NaN.
type Reading struct {
	Line, Point string
	TimeS       float64 // from the start of the job
	Pos         geo.XY  // as recorded
	ElevM       float64
	Fix         int
	HDOP        float64
	HAccM       float64
	DepthM      float64
	CurrentMA   float64
	SignalLow   float64
	SignalHigh  float64
	RaiseM      float64 // NaN on the ground
	NullOffsetM float64 // positive to the right of travel
	Phase       int8
	FreqHz      float64
	Hookup      string
	Exposed     bool
	Note        string

	Truth ReadingTruth
}

// ReadingTruth is what no instrument shows. Offsets and shifts are positive to
// the right of the buried path's own direction.
type ReadingTruth struct {
	StationM      float64 // on the line that the locator means to follow
	DepthM        float64 // of that line
	MarkOffsetM   float64 // of the mark on the ground from the line
	SigmaM        float64 // of the position, one sigma per axis
	PinpointM     float64 // one sigma of pinpointing
	BesideM       float64 // by which the whole track lies beside the line, positive to the right of the walk
	Blunder       bool    // the position leaps
	LeapM         geo.XY  // by this much
	DepthSpike    bool    // the depth is nonsense
	PeakShiftM    float64 // of the peak from the line, all conductors, no noise
	CleanShiftM   float64 // the same without any other conductor
	ShownDepthM   float64 // noise-free depth shown at the peak
	CleanDepthM   float64 // the same without any other conductor
	Neighbor      string  // that carries coupled current here
	Jumped        bool    // the mark lies on the neighbour
	NearCorner    bool    // within five depths of an elbow or the line's end
	Reverse       bool    // walked against the buried path's direction
	Pass          int
	NullResidual  float64 // vertical signal left at the null, over the peak's
	NeighborRatio complex128
	RoundM        float64 // one sigma per axis of what rounding of the position adds
}

// Displaced reports whether signal of another conductor has moved the mark or
// its depth dangerously here: the peak by more than 0.10 m or the depth by
// more than 25 %, beyond what the line alone would show.
func (t ReadingTruth) Displaced() bool {
	if t.Neighbor == "" {
		return false
	}
	return t.Jumped || math.Abs(t.PeakShiftM-t.CleanShiftM) > 0.10 ||
		math.Abs(t.ShownDepthM/t.CleanDepthM-1) > 0.25
}

// Trace is one line as walked, in the order of the file.
type Trace struct {
	Line     int // index into the job's lines
	Readings []Reading
	Noise    Noise
	Ordered  bool // the file's order is the walk's
	// Relative noise, one sigma, of each antenna's signal, and of depth beyond
	// what that makes of it.
	AntennaRel, DepthRel float64
	// Of a factor common to all traced depths, one sigma, and the step to which
	// the receiver shows them.
	DepthScaleRel, DepthStepM float64
}

// Coupling is a stretch over which a neighbour carries current of the signal
// meant for a line.
type Coupling struct {
	Line, Neighbor string
	FromM, ToM     float64 // stations on the line, at half the coupled current
	Ratio          complex128
	Jump           bool
}

// Job is a whole locate with its truth.
type Job struct {
	Family      string
	Seed        uint64
	Plane       geo.Plane
	Lines       []Line
	Traces      []Trace
	Couplings   []Coupling
	AntennaGapM float64
	Transmitter *geo.XY // of an induction hookup
	PowerW      float64
	Layout      Layout
	RecordErrM  float64 // of a line on record, bodily, one sigma per axis; 0.1 where zero
}

// LineNamed returns a line of the job.
func (j Job) LineNamed(name string) (Line, bool) {
	for _, l := range j.Lines {
		if l.Name == name {
			return l, true
		}
	}
	return Line{}, false
}

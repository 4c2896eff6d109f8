package fit

import (
	"loamline.example/geo"
	"loamline.example/trace"
)

// Options of a fit; the zero value is the normal one.
type Options struct {
	Hookup *geo.XY // where the transmitter was connected: depth near it is doubtful
	// Cell is what the digits of a reading's position stand for, metres to the east and to
	// the north, with the position in its middle; nil where that is no more than a point.
	Cell func(*trace.Reading) geo.XY
	// DepthStepM is the step on which depths were written, where it hides more than a
	// receiver's own noise; else 0.
	DepthStepM float64
	// LeaveExposed fits the line without the places where it was exposed.
	LeaveExposed bool
}

// Fate of a reading in the fit.
type Fate int8

// The fates.
const (
	Used       Fate = iota // position (and depth, if known) in the fit
	Blunder                // position leaves the walk and comes back
	OffLine                // far from the line that the others make
	DepthSpike             // position used, depth not
	Unseen                 // not offered to the fit: set aside before, raised, or left out
)

// Verdict is what became of one reading.
type Verdict struct {
	Fate     Fate
	StationM float64      // on the result; NaN where it has no place on the line
	OffsetM  float64      // of the reading from the line, positive to the right of travel
	Why      trace.Remark // for a Fate other than Used and Unseen
}

// Exposure compares an exposed reading with the line as traced without it.
type Exposure struct {
	Index            int // into the readings
	StationM         float64
	OffsetM          float64 // exposed point from the trace, positive to the right
	BeyondM          float64 // how far past the trace's end the point lies along it
	DepthDifferenceM float64 // traced minus measured, NaN without both
	DepthM           float64 // as traced
	Horizontal95M    float64 // of the trace without it
}

// Noise tells what the fit found out about the position noise.
type Noise struct {
	StatedM float64 // median stated sigma, NaN without
	FoundM  float64 // median sigma that the scatter supports
	CommonM float64 // one sigma of the part common to the whole walk
	Widened bool    // the stated accuracy was optimistic
	// OtherFixM is what positions may be off, one sigma, where they are hardly of the kind of
	// fix that is shown; 0 where they may be.
	OtherFixM float64
	DepthRel  float64 // relative depth noise, one sigma
	// DepthOutsideM is how far the depth drawn lies outside those read near it,
	// at most, for what the line's own course does to them.
	DepthOutsideM float64
}

// Result is a fitted line. Parts are in travel order; the way between two of
// them has no usable reading.
type Result struct {
	Parts     []trace.Part
	Verdicts  []Verdict // parallel to the readings
	Exposures []Exposure
	Noise     Noise
}

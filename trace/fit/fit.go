// Package fit turns the readings of one line into a smoothed centerline with a
// depth profile and honest 95 % bands.
package fit

import "loamline/geo"

// Reading is what the fit needs of one reading. Numbers that are not given are
// NaN. The slice order is the file's order.
type Reading struct {
	Pos    geo.XY
	TimeS  float64 // seconds on any clock; NaN without a time
	SigmaM float64 // stated horizontal accuracy, one sigma per axis
	RoundM float64 // what the digits of the position hide, one sigma per axis; 0 where nothing
	Fix    int     // NMEA 0183 GGA quality, -1 where not given
	HDOP   float64
	DepthM float64 // ground to centre
	ElevM  float64 // ground elevation
	// CurrentMA is the current in the line as the receiver shows it: what a leg
	// of the line nearby does to the depth depends on it. 0 or NaN without.
	CurrentMA float64
	Exposed   bool // position and depth were measured on the open line
}

// Options of a fit; the zero value is the normal one.
type Options struct {
	Hookup *geo.XY // where the transmitter was connected: depth near it is doubtful
}

// Fate of a reading in the fit.
type Fate int8

// The fates.
const (
	Used       Fate = iota // position (and depth, if known) in the fit
	Blunder                // position leaves the walk and comes back
	Stray                  // far from the line that the others make
	DepthSpike             // position used, depth not
)

// Verdict is what became of one reading.
type Verdict struct {
	Fate     Fate
	StationM float64 // on the result; NaN where it has no place on the line
	OffsetM  float64 // of the reading from the line, positive to the right of travel
	Why      string  // for a Fate other than Used: words with figures in metres
}

// Vertex is one point of the fitted line; bands are 95 % half-widths in metres.
type Vertex struct {
	Pos           geo.XY
	StationM      float64
	DepthM        float64 // NaN where unknown
	Depth95M      float64
	Horizontal95M float64
	Common95M     float64
	Corner        bool
}

// Gap is a stretch between two parts with no usable reading.
type Gap struct{ FromM, ToM float64 }

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
	StatedM  float64 // median stated sigma, NaN without
	FoundM   float64 // median sigma that the scatter supports
	CommonM  float64 // one sigma of the part common to the whole walk
	Widened  bool    // the stated accuracy was optimistic
	DepthRel float64 // relative depth noise, one sigma
	// DepthOutsideM is how far the depth drawn lies outside those read near it,
	// at most, for what the line's own course does to them.
	DepthOutsideM float64
}

// Result is a fitted line. Parts are in travel order; between two of them lies
// a Gap. A part has at least two vertices.
type Result struct {
	Parts     [][]Vertex
	Gaps      []Gap
	Verdicts  []Verdict // parallel to the readings
	Exposures []Exposure
	Noise     Noise
}

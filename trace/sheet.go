package trace

import (
	"github.com/paulmach/orb"

	"loamline/geo"
)

// Sheet is everything that a job delivers, and knows no format. Geometry is in
// the Plane, in metres; exporters convert.
type Sheet struct {
	Name     string // base name of the outputs
	Version  string // of the program
	Job      Job    // settings as used, defaults filled in
	Plane    geo.Plane
	Frame    string // datum in words: what came in and what was done
	Inputs   []Input
	Lines    []Line
	Records  []Record // reference layers, as drawn
	Counts   Counts
	Problems []Problem
	Cautions []string // for every map
	Advice   []string // what to check before digging on this job
}

// Input is a file that went into the job.
type Input struct {
	Name   string // base name, never a path
	SHA256 string // of its bytes, lower-case hexadecimal
	Kind   InputKind
}

// InputKind is what a file is to a job.
type InputKind string

// Readings tables and GNSS logs are what was measured; the others say how it
// is looked at.
const (
	InputTable     InputKind = "readings"
	InputGNSSLog   InputKind = "gnss log"
	InputReference InputKind = "reference"
	InputJobFile   InputKind = "job file"
)

// Line is one traced line with all that is known of it.
type Line struct {
	Setup      LineSetup
	Readings   []Reading   // every readable row of the line, in input order
	Centerline *Centerline // nil where nothing could be fitted
	DepthRel   float64     // noise of a depth as found, one sigma, relative
	Tolerance  Zone
	Caution    Zone
	Findings   []Finding
	Checked    []string       // which checks were made, and which were not possible for want of what
	Compared   []RecordOffset // with the records of the line, place by place
	Statements []string       // accuracy in the words of public rules
	TryNext    []string       // what the locator could try to settle what was found
}

// Zone is an area about the line; Area is in the plane, outer rings
// counter-clockwise.
type Zone struct {
	Area         orb.MultiPolygon
	HalfWidthM   float64 // of the tolerance zone, half the diameter included
	MeasuredFrom string
	Rule         string
	Confidence   float64 // of the caution zone
	DoubtM       float64 // how far the whole zone may be off because no datum was stated; 0 where one was
	DoubtDatum   string  // the local frame behind that figure
}

// Record is a line known from a reference layer.
type Record struct {
	Name    string
	Source  string // file or database it came from
	Utility Utility
	Path    []geo.XY
	DepthM  []float64 // one a vertex, Unknown where not given
}

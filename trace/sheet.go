package trace

import (
	"slices"

	"loamline.example/geo"
)

// Sheet is everything that a job delivers, and knows no format. Geometry is in
// the Plane, in metres; exporters convert.
type Sheet struct {
	Name    string // base name of the outputs
	Version string // of the program
	Job     Job    // settings as used, defaults filled in
	Plane   geo.Plane
	Frame   geo.Told // datum in words: what came in and what was done
	MovedM  float64  // by how much the positions were moved to WGS 84
	// Output is the frame in which GeoPackage, PostGIS, tables, drawings and the
	// sheet's grid are written; its zero value is WGS 84 degrees.
	Output      geo.Frame
	OutputWords geo.Told // what whoever takes the files into a GIS must know of it
	Inputs      []Input
	Lines       []Line
	Records     []Record // lines of reference layers, as drawn
	// Background is what layers hold beside lines: kerbs, walls, buildings. It is
	// drawn and measured from, and is no line that could be suspected or crossed.
	Background []Background
	Underlay   *Underlay // a site plan beneath the lines; nil for none
	Features   []Feature // what a tape can be held to
	Counts     Counts
	Problems   []Problem
	Cautions   []string // for every map
	Advice     []Advice // what to check before digging on this job
}

// Advice is one thing to check before digging: where the map itself says that
// it must not be trusted as it stands.
type Advice struct {
	Line       string  // empty where it is about the whole map
	FromM, ToM float64 // stations on Line, as its words say them; Unknown where it is about all of it
	AtM        float64 // of a crossing: its station
	// LeadM is, of bleed-over that is told with others or in part, the stretch of the
	// gravest suspicion in it, which it is about; zero where that is its own stretch.
	LeadM [2]float64
	// Places are the stretches that the item is about where it is about several, by station;
	// FromM and ToM hold them all.
	Places [][2]float64
	Kind   AdviceKind
	Remark Remark
}

// AdviceKind says what a piece of advice comes from.
type AdviceKind string

// The kinds of advice.
const (
	AdviseNoLine   AdviceKind = "no_line"    // nothing could be drawn
	AdviseBleed    AdviceKind = "bleed_over" // another line's signal is suspected
	AdviseGap      AdviceKind = "gap"        // not traced
	AdviseDoubt    AdviceKind = "doubt"      // the map contradicts the readings, or they each other
	AdviseExposed  AdviceKind = "exposed"    // an exposure contradicts the trace
	AdviseCrossing AdviceKind = "crossing"   // two lines in one zone
	AdviseCheck    AdviceKind = "check"      // a field check failed
	AdviseRecord   AdviceKind = "record"     // a record lies elsewhere
	AdviseAccuracy AdviceKind = "accuracy"   // positions or depths are worse than they look
	AdviseFrame    AdviceKind = "frame"      // the frame of the positions is in doubt
	AdviseInput    AdviceKind = "input"      // rows contradict each other or themselves, and were left out in part
)

// Input is a file that went into the job.
type Input struct {
	Name   string // base name, never a path
	SHA256 string // of its bytes, lower-case hexadecimal
	Kind   InputKind
	// DepthHeader is the header of the column that a readings table has its depths in,
	// for messages; "" for none.
	DepthHeader string
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
	InputUnderlay  InputKind = "underlay"
)

// Line is one traced line with all that is known of it.
type Line struct {
	Setup      LineSetup
	Readings   []Reading   // every readable row of the line, in input order
	Centerline *Centerline // nil where nothing could be fitted
	DepthRel   float64     // noise of a depth as found, one sigma, relative
	Tolerance  Zone
	Caution    Zone
	Reach      []ZoneReach // how far the caution zone reaches from the drawn line, along it
	Findings   []Finding
	Checked    []Remark       // which checks were made, and which were not possible for want of what
	Compared   []RecordOffset // with the records of the line, place by place
	Statements []Remark       // accuracy in the words of public rules
	TryNext    []Remark       // what the locator could try to settle what was found
}

// Drawn is the line of a name, which is one line's alone; nil where there is none, or
// nothing of it was drawn.
func (s *Sheet) Drawn(name string) *Line {
	for i := range s.Lines {
		if l := &s.Lines[i]; l.Setup.Name == name && l.Centerline != nil {
			return l
		}
	}
	return nil
}

// TryNext is what the locator could try to settle what was found, of all lines, each
// once.
func (s *Sheet) TryNext() []Remark {
	var out []Remark
	for i := range s.Lines {
		for _, r := range s.Lines[i].TryNext {
			if !slices.Contains(out, r) {
				out = append(out, r)
			}
		}
	}
	return out
}

// The roles of a map's features, the same in every output format. Those of
// findings are declared with their kinds. What an output does by role is a table keyed by
// these; no other place spells one.
const (
	RoleCenterline    = "centerline"
	RoleVertex        = "centerline_vertex"
	RoleToleranceZone = "tolerance_zone"
	RoleCautionZone   = "caution_zone"
	RoleReading       = "reading"
)

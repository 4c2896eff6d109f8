package trace

import (
	"slices"
	"sort"

	"github.com/paulmach/orb"

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
	LeadM  [2]float64
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

// Zone is an area about the line; Area is in the plane, outer rings
// counter-clockwise.
type Zone struct {
	Area         orb.MultiPolygon
	HalfWidthM   float64 // of the tolerance zone, half the diameter included
	MeasuredFrom string
	Rule         string // as the job states it; empty where it names none
	// AssumedDiameterM is the line's, where it is not known and half of it is in the
	// width; else 0.
	AssumedDiameterM float64
	Confidence       float64 // of the caution zone
	DoubtM           float64 // how far the whole zone may be off for its frame; 0 where that is known well
	DoubtDatum       string  // the frame behind that figure: the one stated, else a local one
	DoubtStated      bool    // the frame was stated, and is joined to WGS 84 no better than that
}

// DoubtOpen reports that DoubtM is no limit: nobody stated a datum, and no local one is
// known that it could be.
func (z Zone) DoubtOpen() bool { return z.DoubtM > 0 && !z.DoubtStated && z.DoubtDatum == "" }

// Doubted is the caution zone of a line whose frame leaves the most open; zero where none
// does. Lines of one sheet share their frame, and some have no zone.
func (s *Sheet) Doubted() Zone {
	var most Zone
	for i := range s.Lines {
		if c := s.Lines[i].Caution; c.DoubtM > most.DoubtM {
			most = c
		}
	}
	return most
}

// ZoneShoulderM is over what length the extra width of a suspected stretch rises and
// falls at its ends: a detector does not know its ends to the decimetre.
const ZoneShoulderM = 1.0

// ZoneReach is how far the caution zone, as drawn, reaches to either side of the
// drawn line at a station. What words say of it must be this.
type ZoneReach struct{ StationM, LeftM, RightM float64 }

// Record is a line known from a reference layer.
type Record struct {
	Name    string
	Source  string // file or database it came from
	Utility Utility
	Path    []geo.XY
	DepthM  []float64 // one a vertex, Unknown where not given
	DoubtM  float64   // how far off it may lie for its frame alone
	// DoubtWhy says why, as "its frame is not stated"; empty where nothing is in doubt.
	DoubtWhy string
}

// RecordReachM is how far from the readings a record still matters: farther than
// any signal strays and any sheet shows.
const RecordReachM = 250.0

// RecordSigmaM is how well a record is taken to know where its line lies, one sigma
// across it (common practice, no source).
const RecordSigmaM = 0.30

// Background is a line or an outline of something that is no line of a utility.
type Background struct {
	Name   string
	Source string // file or database it came from
	Path   []geo.XY
	DoubtM float64 // how far off it may lie for its frame alone
}

// RecordOffset is how far a record lies from the trace at one station.
type RecordOffset struct {
	Record, Source string
	StationM       float64
	OffsetM        float64 // record from trace, positive to the right of travel
	AllowedM       float64 // what the bands of both explain
}

// CrossedBy returns the crossings of a line that are findings of the other line,
// as seen from this one, by station.
func (s *Sheet) CrossedBy(line string) []Crossing {
	var out []Crossing
	for i := range s.Lines {
		for _, f := range s.Lines[i].Findings {
			if c, ok := f.(Crossing); ok && !c.OnRecord() && c.Other == line {
				out = append(out, c.seenFromOther())
			}
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].StationM < out[b].StationM })
	return out
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

package finding

import (
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
)

// RoleCrossing is the role of a Crossing.
const RoleCrossing = "crossing"

var _ = declare(Crossing{Line: "A", Other: "B", At: specimenPath()[1], StationM: 10, OtherStationM: 4, SeparationM: 0, DepthDifferenceM: 0.4, DepthsOffM: 0.15})

// Crossing is a place where two lines cross or come closest: two traced ones, or
// a traced one and one that is known from a reference layer or an earlier job.
type Crossing struct {
	Line, Other      string
	Source           string // the file or archive that Other is known from; empty where it was traced too
	At               geo.XY
	StationM         float64 // on Line
	OtherStationM    float64 // on Other
	SeparationM      float64 // horizontal, 0 where they cross
	DepthDifferenceM float64 // Other's depth minus Line's; Unknown where one is
	DepthsOffM       float64 // how far both depths may be off together (95 %); of two traced lines alone
	OtherDepthM      float64 // of a known line, on record; Unknown where it is not
	DoubtM           float64 // how far off a known line may lie for its frame alone
	DoubtWhy         string  // why it may: "its frame is not stated"
	ByJump           bool    // one of two traced lines is said to lie on the other there: the lines need not cross
}

// OnRecord reports whether the other line is known and was not traced.
func (f Crossing) OnRecord() bool { return f.Source != "" }

// seenFromOther is the same crossing as a finding of the other line.
func (f Crossing) seenFromOther() Crossing {
	f.Line, f.Other = f.Other, f.Line
	f.StationM, f.OtherStationM = f.OtherStationM, f.StationM
	f.DepthDifferenceM = -f.DepthDifferenceM
	return f
}

// CrossedBy returns the crossings of a line that are findings of the other line,
// as seen from this one, by station.
func CrossedBy(s *trace.Sheet, line string) []Crossing {
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

// Role implements trace.Finding.
func (Crossing) Role() string { return RoleCrossing }

// OnLine implements trace.Finding.
func (f Crossing) OnLine() string { return f.Line }

// Span implements trace.Finding.
func (f Crossing) Span() (fromM, toM float64) { return f.StationM, f.StationM }

// Where implements trace.Finding.
func (f Crossing) Where() []geo.XY { return []geo.XY{f.At} }

// Beside implements trace.Finding.
func (Crossing) Beside() []trace.CourseStrip { return nil }

// NeedsEyes implements trace.Finding.
func (Crossing) NeedsEyes() bool { return true }

// Finding implements trace.Finding.
func (Crossing) Finding() {}

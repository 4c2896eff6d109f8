package clean

import (
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// contradiction is something in the rows that contradicts its neighbours or
// itself: a problem of the file, and for the lines that it touches something to
// check before digging.
type Contradiction struct {
	Problem trace.Problem
	Advice  []trace.Advice
	// The depths of the line are in doubt as a whole, where its factor is known by
	// that: no accuracy of them can be stated.
	Depths      bool
	DepthFactor float64
}

// WholeLine is advice on all of a line: what was left out may be anywhere along it.
func WholeLine(line string, what trace.Remark) []trace.Advice {
	return []trace.Advice{{Line: line, FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseInput,
		Remark: remark.OnLine{Line: line, StationM: trace.Unknown, What: what}}}
}

package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// contradiction is something in the rows that contradicts its neighbours or
// itself: a problem of the file, and for the lines that it touches something to
// check before digging.
type contradiction struct {
	problem trace.Problem
	advice  []trace.Advice
	// The depths of the line are in doubt as a whole, where its factor is known by
	// that: no accuracy of them can be stated.
	depths      bool
	depthFactor float64
}

// wholeLine is advice on all of a line: what was left out may be anywhere along it.
func wholeLine(line string, what trace.Remark) []trace.Advice {
	return []trace.Advice{{Line: line, FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseInput,
		Remark: remark.OnLine{Line: line, StationM: trace.Unknown, What: what}}}
}

// adviseContradictions puts what contradictions ask under what is known of each
// line's errors.
func adviseContradictions(found []contradiction, lines []trace.Line, errs []lineErrors) {
	at := make(map[string]int, len(lines))
	for i, l := range lines {
		at[l.Setup.Name] = i
	}
	for _, c := range found {
		for _, a := range c.advice {
			if i, ok := at[a.Line]; ok {
				errs[i].advice = append(errs[i].advice, a)
				errs[i].depthsDoubted = errs[i].depthsDoubted || c.depths
				if c.depthFactor > 0 {
					errs[i].depthFactor = c.depthFactor
				}
			}
		}
	}
}

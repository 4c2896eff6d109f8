package crosscheck

import (
	"fmt"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A line is dug up at a few places and not reading by reading: of leastExposed rows with what
// a receiver shows, half of a line's rows at the least, not all were exposed. Judgement.
const leastExposed = 8

// exposed tells where a table says of a good part of a line's rows that the line was exposed
// there, and they hold what a receiver shows over a buried line. What was exposed is taken for
// the truth, so that a column filled with yes makes a sure map of whatever was heard.
func (f *Found) exposed(src trace.Source) {
	type count struct {
		rows, heard int
		first       *trace.Reading
	}
	lines := map[string]*count{}
	var order []string
	for i := range src.Readings {
		r := &src.Readings[i]
		c := lines[r.Line]
		if c == nil {
			c = &count{}
			lines[r.Line], order = c, append(order, r.Line)
		}
		c.rows++
		if r.Exposed && heard(r) {
			if c.heard++; c.first == nil {
				c.first = r
			}
		}
	}
	for _, line := range order {
		c := lines[line]
		if c.heard < leastExposed || 2*c.heard < c.rows {
			continue
		}
		f.tell(trace.Problem{File: src.Inputs[c.first.File].Name, Row: int(c.first.Row), Field: "exposed", Value: "yes",
			Cause: fmt.Sprintf("%d of %d rows of this line say that it was exposed there, and hold what a receiver shows over a buried one", c.heard, c.rows),
			Hint:  "leave exposed empty where the line was traced and not seen",
			Check: remark.ExposedAndHeard{Line: line, N: c.heard, Of: c.rows}})
	}
}

// heard reports whether a row holds what a receiver alone shows.
func heard(r *trace.Reading) bool {
	for _, v := range []float64{r.CurrentMA, r.Signal, r.SignalLow, r.SignalHigh, r.NullOffsetM} {
		if trace.Known(v) {
			return true
		}
	}
	return false
}

package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/remark"
)

// From how many rows of a line, or which share of them, what was left out is worth a
// word before digging: one odd row is everyday, a block of them is a piece of a line.
// Judgement.
const (
	manyRows  = 3
	manyShare = 0.05
)

// leftOut tells of rows of a line that no map can draw although something was read
// there: without a place, or with a depth that no receiver reads. Blocks that have a
// place are told of by the guard.
func leftOut(t trace.Trace, inputs []trace.Input) []trace.Advice {
	var out []trace.Advice
	unplaced, example := 0, (*trace.Reading)(nil)
	tooDeep, negative := remark.DepthsTooDeep{Of: len(t.Readings)}, 0
	for i := range t.Readings {
		switch r := &t.Readings[i]; {
		case r.Status == trace.StatusSetAside && !r.Placed():
			if unplaced++; example == nil {
				example = r
			}
		case r.DepthDropped && clean.DeeperThanRead(r):
			column := inputs[r.File]
			if tooDeep.N == 0 {
				tooDeep.Table, tooDeep.Header = column.Name, column.DepthHeader
			} else if tooDeep.Table != column.Name {
				tooDeep.Table, tooDeep.Header = "", ""
			}
			tooDeep.N, tooDeep.DeepestM = tooDeep.N+1, max(tooDeep.DeepestM, r.DepthM)
		case r.DepthDropped && r.DepthM < 0:
			negative++
		}
	}
	n := len(t.Readings)
	if many(unplaced, n) {
		out = append(out, clean.WholeLine(t.Name, remark.RowsUnplaced{N: unplaced, Of: n, Row: example.Row, Why: example.Reason})...)
	}
	if many(tooDeep.N, n) {
		out = append(out, clean.WholeLine(t.Name, tooDeep)...)
	}
	if many(negative, n) {
		out = append(out, clean.WholeLine(t.Name, remark.DepthsNegative{N: negative, Of: n})...)
	}
	return out
}

func many(n, of int) bool { return n >= manyRows || n > 1 && float64(n) > manyShare*float64(of) }

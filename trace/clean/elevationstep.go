package clean

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Ground that steps between two readings (judged; no source).
const (
	leastRiseM     = 1.0     // lower walls are stepped over
	leastRiseSlope = 0.4     // steeper than a ramp or a bank that one walks a receiver along
	steadyStrides  = 3       // on either side,
	steadyShare    = 1.0 / 5 // that rise by no more than this of the step
	surelyRises    = 10      // times what rises differ from each other as a rule
)

// steppedGround finds two neighbours between which the ground rises or falls by more than a
// stride does, and is steady before and after: a wall or stairs, or an antenna whose height
// was changed or stated anew, and then all elevations on one side are off by that. Nothing
// in the table tells which.
func steppedGround(rs []*trace.Reading, inputs []trace.Input) []Contradiction {
	var known []*trace.Reading
	for _, r := range rs {
		if trace.Known(r.ElevM) && !(r.RaiseM > 0) {
			known = append(known, r)
		}
	}
	looseM := unevenGroundM(known)
	for k := steadyStrides + 1; k+steadyStrides < len(known); k++ {
		a, b := known[k-1], known[k]
		stepM := math.Abs(b.ElevM - a.ElevM)
		if stepM < math.Max(leastRiseM, leastRiseSlope*a.Pos.Dist(b.Pos)) || stepM < surelyRises*looseM || !steadyBeside(known, k, stepM) {
			continue
		}
		what := remark.ElevationsStep{StepM: stepM, FromRow: a.Row, ToRow: b.Row}
		return []Contradiction{{
			Problem: trace.Problem{File: inputs[b.File].Name, Row: int(b.Row), Field: "elev", Warn: true,
				Remark: remark.Contradicted{Line: b.Line, What: what},
				Hint:   "if the antenna's height was changed there, bring the elevations to one; they are used as they stand"},
			Advice: WholeLine(b.Line, what),
		}}
	}
	return nil
}

// unevenGroundM is by how much one rise differs from the next, as a rule: slopes even, and
// elevations without a good fix do not.
func unevenGroundM(known []*trace.Reading) float64 {
	var off []float64
	for k := 2; k < len(known); k++ {
		off = append(off, math.Abs(known[k].ElevM-2*known[k-1].ElevM+known[k-2].ElevM))
	}
	return medianOfAtLeast(off, 1)
}

// steadyBeside reports whether the strides on either side of a step rise little against it.
func steadyBeside(known []*trace.Reading, k int, stepM float64) bool {
	for i := k - steadyStrides; i <= k+steadyStrides; i++ {
		if i != k && math.Abs(known[i].ElevM-known[i-1].ElevM) > steadyShare*stepM {
			return false
		}
	}
	return true
}

package measure

import (
	"fmt"
	"math"

	"loamline.example/trace"
	"loamline.example/trace/tracetest"
)

// displacement compares a stretch's likely shift with the true one: where the
// true line lies from the mark, positive to the right of travel.
func (b *bleedJudge) displacement(s suspected, rds []tracetest.Reading) {
	if s.Jump || math.IsNaN(s.LikelyShiftM) || s.LikelySide == "" {
		return
	}
	likely := s.LikelyShiftM
	if s.LikelySide == trace.Left {
		likely = -likely
	}
	var sum float64
	n := 0
	for _, r := range rds {
		t := r.Truth
		if t.StationM < s.fromM || t.StationM > s.toM || t.Jumped {
			continue
		}
		lies := -s.along * t.PeakShiftM
		sum, n = sum+lies, n+1
		in := math.Abs(lies-likely) <= s.Shift95M
		b.score.Banded++
		b.score.InBand += count(in)
		if math.Abs(lies) > 0.10 {
			b.score.Large++
			b.score.LargeIn += count(in)
		}
	}
	if n == 0 {
		return
	}
	mean := sum / float64(n)
	b.score.shiftErr = append(b.score.shiftErr, math.Abs(likely-mean))
	if math.Abs(mean) > 0.10 {
		b.score.shiftRatio = append(b.score.shiftRatio, likely/mean)
	}
	if math.Abs(mean) >= 0.03 {
		b.score.Sides++
		right := (mean > 0) == (likely > 0)
		b.score.SidesRight += count(right)
		if !right {
			b.note("wrong side", s.fromM, s.toM, fmt.Sprintf("true %.2f, likely %.2f ± %.2f", mean, likely, s.Shift95M))
		}
	}
}

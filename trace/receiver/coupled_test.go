package receiver

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// What is solved from the mark agrees with a walk across the same two lines, which is held
// against a search on a grid by other code (TestPairsAgainstGridSearch).
func TestAtMarkAgreesWithWalkAcross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.4, 3).Draw(t, "d")
		e := d * rapid.Float64Range(0.8, 1.6).Draw(t, "d2/d")
		a := d * rapid.Float64Range(0.5, 2.5).Draw(t, "u") * float64(1-2*rapid.IntRange(0, 1).Draw(t, "left"))
		r := rapid.Float64Range(-0.6, 0.6).Draw(t, "r")
		shown := pair(d, a, e, complex(r, 0)).Survey(0, 0.4)
		got, ok := AtMark(d, 0.4, a-shown.PeakM, e, r)
		if !ok || math.Abs(shown.PeakM) > 0.4*d {
			return
		}
		want, ok := AtLine(d, 0.4, a, e, r)
		if !ok {
			t.Fatal("the walk across from the line finds no mark")
		}
		for what, pair := range map[string][2]float64{
			"shift": {got.ShiftM, want.ShiftM}, "null": {got.NullM, want.NullM},
			"depth": {got.LnDepth, want.LnDepth}, "field": {got.LnField, want.LnField},
			"mark": {want.ShiftM, shown.PeakM}, "depth shown": {d * math.Exp(want.LnDepth), shown.DepthM},
		} {
			if !(math.Abs(pair[0]-pair[1]) < 1e-6) {
				t.Fatalf("%s: %g, the walk gives %g", what, pair[0], pair[1])
			}
		}
	})
}

// The published table of pairs (testdata/field), solved from its mark.
func TestAtMarkAgainstGridSearch(t *testing.T) {
	solved := 0
	for _, row := range rows(t, "pairs.csv") {
		v := figures(t, row)
		got, ok := AtMark(v[0], 0.4, v[1]-v[4], v[2], v[3])
		if !ok {
			continue
		}
		solved++
		near(t, "mark", got.ShiftM, v[4], 0.001)
		near(t, "null offset", got.NullM, v[5], 0.001)
		near(t, "depth", v[0]*math.Exp(got.LnDepth), v[6], 0.001)
	}
	if solved < 5 {
		t.Errorf("%d pairs solved", solved)
	}
}

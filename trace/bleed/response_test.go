package bleed

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loamline.example/trace/receiver"
)

// The response solved from the mark agrees with a walk across the same two
// lines (package receiver, itself checked against published figures).
func TestResponseAgreesWithWalkAcross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.4, 3).Draw(t, "d")
		e := d * rapid.Float64Range(0.8, 1.6).Draw(t, "d2/d")
		a := d * rapid.Float64Range(0.5, 2.5).Draw(t, "u") * float64(1-2*rapid.IntRange(0, 1).Draw(t, "left"))
		r := rapid.Float64Range(-0.6, 0.6).Draw(t, "r")
		shown := receiver.Section{Lines: []receiver.Conductor{{DepthM: d, CurrentA: 1}, {XM: a, DepthM: e, CurrentA: complex(r, 0)}}}.Survey(0, 0.4)
		got, ok := respond(d, 0.4, a-shown.PeakM, e, r)
		if !ok || math.Abs(shown.PeakM) > 0.4*d {
			return
		}
		for what, pair := range map[string][2]float64{
			"shift": {got.shiftM, shown.PeakM}, "null": {got.nullM, shown.NullOffsetM},
			"depth":  {got.lnDepth, math.Log(shown.DepthM / d)},
			"signal": {got.lnField, math.Log(shown.LowT * d / receiver.TeslaMetrePerAmpere)},
		} {
			if !(math.Abs(pair[0]-pair[1]) < 1e-6) {
				t.Fatalf("%s: %g, the walk gives %g", what, pair[0], pair[1])
			}
		}
	})
}

package locate

import (
	"math"
	"strings"
	"testing"

	"loamline.example/trace"
)

// exposedMain is a walk over a main whose centre lies 1.4 m deep, read with a scale, with
// its depths measured to somewhere else where it was exposed, and its diameter stated.
func exposedMain(t *testing.T, diameterM, scale float64, measuredM ...float64) *trace.Sheet {
	t.Helper()
	rs := exposedWalk(40, 0, 1.4*scale, []int{8, 20, 33}[:len(measuredM)]...)
	for i, d := range measuredM {
		rs[40+i].DepthM = d
	}
	job := trace.DefaultJob()
	setup := job.Setup("A")
	setup.DiameterM = diameterM
	job.Lines = []trace.LineSetup{setup}
	s, err := Build(t.Context(), trace.Source{Name: "a", Job: job, Readings: rs, Inputs: []trace.Input{{Name: "a.csv"}}})
	if err != nil || s.Lines[0].Centerline == nil {
		t.Fatalf("no line: %v", err)
	}
	return s
}

// mostOffDepth is how far the true depth lies outside the band at its worst, and the
// widest band.
func mostOffDepth(s *trace.Sheet, trueM float64) (outsideM, bandM float64) {
	for _, p := range s.Lines[0].Centerline.Parts {
		for _, v := range p.Vertices {
			outsideM = math.Max(outsideM, math.Abs(v.DepthM-trueM)-v.Depth95M)
			bandM = math.Max(bandM, v.Depth95M)
		}
	}
	return outsideM, bandM
}

// An exposed depth that is as much less than the depth read as half the main is wide may
// have been measured to its top: the band holds that, and the list asks. Where the receiver
// was off by as much in truth, the band holds that too.
func TestExposedToTheTop(t *testing.T) {
	for _, measured := range [][]float64{{1.2}, {1.2, 1.2}, {1.2, 1.19, 1.21}} {
		s := exposedMain(t, 0.4, 1, measured...)
		for _, trueM := range []float64{1.4, 1.2} {
			if out, _ := mostOffDepth(s, trueM); out > 0.01 {
				t.Errorf("%v: a depth of %.1f m lies %.2f m outside the band", measured, trueM, out)
			}
		}
		if n := exposuresTold(s); n != 1 || !strings.Contains(adviceText(s), "as if it was measured to the top of the line") {
			t.Errorf("%v: %d told: %q", measured, n, adviceText(s))
		}
	}
}

// Depths measured to the centre are no news, and are not held for others: with a wide main,
// with a narrow one, and with a receiver that reads too shallow.
func TestExposedToTheCentre(t *testing.T) {
	for _, c := range []struct{ diameterM, scale float64 }{{0.4, 1}, {0.4, 0.92}, {0.1, 1.06}, {trace.Unknown, 1.06}, {0, 1.06}} {
		s := exposedMain(t, c.diameterM, c.scale, 1.4, 1.4)
		out, band := mostOffDepth(s, 1.4)
		if out > 0 || exposuresTold(s) > 0 {
			t.Errorf("%+v: %.2f m outside, told %q", c, out, adviceText(s))
		}
		if band > 0.11 {
			t.Errorf("%+v: ± %.2f m", c, band)
		}
	}
}

// One exposed depth that moves a whole line by more than a receiver is likely to be off may
// be of ground that was cut: both are held, and told. Two that agree are the receiver's.
func TestExposedOnOtherGround(t *testing.T) {
	s := exposedMain(t, trace.Unknown, 1, 1.18)
	for _, trueM := range []float64{1.4, 1.18} {
		if out, _ := mostOffDepth(s, trueM); out > 0.01 {
			t.Errorf("a depth of %.2f m lies %.2f m outside the band", trueM, out)
		}
	}
	if exposuresTold(s) != 1 || !strings.Contains(adviceText(s), "cut or filled") {
		t.Errorf("%q", adviceText(s))
	}
	if s = exposedMain(t, trace.Unknown, 1, 1.18, 1.18); exposuresTold(s) > 0 {
		t.Errorf("two that agree: %q", adviceText(s))
	}
	if s = exposedMain(t, trace.Unknown, 1, 1.3); exposuresTold(s) > 0 {
		t.Errorf("what a receiver's error explains: %q", adviceText(s))
	}
}

package receiver

import (
	"math"
	"testing"
)

// rayleigh95 is the 95 % radius of two equal normal errors of one sigma each
// (Rayleigh distribution; any textbook).
const rayleigh95 = 2.4477

// What a fix can do, by its quality in NMEA 0183 GGA (0 invalid, 1 autonomous, 2
// differential, 3 PPS, 4 RTK fixed, 5 RTK float, 6 estimated, 7 typed in, 8
// simulator). The ranges are those of the trade (common practice, no source: RTK 1
// to 3 cm, float 0.2 to 1 m, autonomous 1 to 3 m); differential 0.6 to 1.1 m at 95 %
// at reference stations (FAA, WAAS Performance Analysis Report 10, 2004); the open
// service within 8 m at 95 % (GPS SPS Performance Standard, 5th edition, 2020; from
// memory). Where in its range a figure lies, the best figures, shares and times are
// judged, and stand here so that none changes unseen.
func TestErrorsOfEachFix(t *testing.T) {
	for _, c := range []struct {
		fix           int
		usualM, bestM float64
		leastM, mostM float64 // the range of the 95 % radius of usualM
		shared95      float64
		bounded       bool
	}{
		{rtkFixed, 0.015, 0.003, 0.01, 0.05, 0.0245, true},
		{rtkFloat, 0.2, 0.05, 0.2, 1, 0.6, true},
		{differential, 0.48, 0.05, 0.6, 3, 2, true},
		{pps, 0.48, 0.05, 0.6, 3, 2, true},
		{service, 0.48, 0.05, 0.6, 3, 2, true},
		{autonomous, 1.2, 0.5, 1, 8, 8, false},
		{deadReckoned, 3, 3, 1, 8, 8, false},
		{typedIn, 3, 3, 1, 8, 8, false},
	} {
		e, told := Errors(c.fix, math.NaN())
		if !told || math.Abs(e.UsualM-c.usualM) > 1e-9 || e.BestM != c.bestM || e.Bounded != c.bounded {
			t.Errorf("fix %d: %+v, %v", c.fix, e, told)
		}
		if r := rayleigh95 * e.UsualM; r < c.leastM || r > c.mostM {
			t.Errorf("fix %d: a usual 95 %% radius of %.3f m, not %g to %g m", c.fix, r, c.leastM, c.mostM)
		}
		if r := rayleigh95 * e.SharedM; math.Abs(r-c.shared95) > 1e-3 {
			t.Errorf("fix %d: shares a 95 %% radius of %.3f m, want %g m", c.fix, r, c.shared95)
		}
	}
	for _, fix := range []int{-1, 0, 8, 10} {
		if e, told := Errors(fix, 1); told {
			t.Errorf("fix %d is no measurement, or is not told: %+v", fix, e)
		}
	}
}

// The error across is HDOP times that of a range (Langley, Dilution of Precision, GPS
// World, May 1999; from memory), so that usual errors are as HDOP; a carrier's fix is
// not one of ranges by code. Below 0.6 and beyond 5 HDOP is not believed (common
// practice, no source).
func TestErrorsGrowWithHDOP(t *testing.T) {
	for _, c := range []struct {
		fix          int
		hdop, usualM float64
	}{
		{differential, 1, 0.4}, {differential, 2.5, 1}, {differential, 5, 2}, {differential, 20, 2}, {differential, 0.6, 0.24}, {differential, 0.1, 0.24},
		{autonomous, 1, 1}, {autonomous, 3, 3}, {rtkFixed, 1, 0.015}, {rtkFixed, 4, 0.015}, {rtkFloat, 4, 0.2},
	} {
		if e, _ := Errors(c.fix, c.hdop); math.Abs(e.UsualM-c.usualM) > 1e-9 {
			t.Errorf("fix %d, HDOP %g: %g m, want %g m", c.fix, c.hdop, e.UsualM, c.usualM)
		}
	}
	if e, _ := Errors(differential, 2.4); math.Abs(rayleigh95*e.SharedM-4) > 1e-3 {
		t.Errorf("at twice the usual HDOP a differential fix shares %.3f m at 95 %%, want 4 m", rayleigh95*e.SharedM)
	}
}

// The random error of a depth by two antennas a gap g apart grows as (d+g)/g, from
// d = g/(ratio-1) (Ampère's law): at 3 m by 3.4/1.4 of that at 1 m for 0.40 m. That
// at 1 m is 4 % (common practice, no source: 5 % for all errors down to 3 m on a
// lone line is the usual figure).
func TestRandomErrorOfADepth(t *testing.T) {
	for depthM, want := range map[float64]float64{1: 0.04, 0.5: 0.04 * 0.9 / 1.4, 3: 0.04 * 3.4 / 1.4} {
		if got := DepthSigmaRel(depthM); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g m: %.4f of the depth, want %.4f", depthM, got, want)
		}
	}
}

// The error that all depths of a day have in common is 10 to 15 % of depth at 95 %
// in ordinary streets (common practice, no source), no more than the 15 % of PAS 128
// QL-B1: 13.3 % is taken, as 1.96 sigma of the depth's logarithm, which puts the
// deeper side of the band at exp(0.1333) - 1 = 14.26 %.
func TestCommonErrorOfADepth(t *testing.T) {
	if got := 1.96 * DepthScaleRel; math.Abs(got-0.133) > 0.0005 {
		t.Errorf("%.4f at 95 %%, want 0.133", got)
	}
	if got := DepthScale95M(2, DepthScaleRel); math.Abs(got-2*0.1426) > 2e-4 {
		t.Errorf("band of %.4f m at 2 m, want 0.285 m", got)
	}
}

// Errors of marking a peak and of measuring an open line, and those that a finished
// line is held to (common practice, no source; judged where it says so there): they
// stand here so that none changes unseen.
func TestErrorsOfMarksAndExposures(t *testing.T) {
	for depthM, want := range map[float64]float64{0.5: 0.02, 1: 0.03, 2: 0.06, 4: 0.12, 9: 0.12} {
		if got := PinpointM(depthM); math.Abs(got-want) > 1e-12 {
			t.Errorf("a peak over %g m is found to %g m, want %g m", depthM, got, want)
		}
	}
	for name, c := range map[string]struct{ got, want float64 }{
		"exposed depth": {ExposedDepthM, 0.02}, "exposed place": {ExposedM, 0.02}, "floor of a depth": {DepthFloorRel, 0.006},
		"least mark": {LeastMarkM, 0.02}, "shown of a depth, m": {ShownDepthM, 0.03}, "most of a depth": {MostDepthRel, 0.10},
		"usual gap": {UsualGapM, 0.4}, "usual depth": {UsualDepthM, 1.1}, "deepest": {DeepestM, 15}, "diameter of 2 in": {UsualDiameterM, 0.05},
		"20 dB a kilometre": {LeakPerM * 1000 * 20 / math.Ln10, 20},
		"fix not told":      {UsualFixM(-1, math.NaN()), 1.2}, "fixed": {UsualFixM(rtkFixed, 1), 0.015},
	} {
		if math.Abs(c.got-c.want) > 1e-3*c.want {
			t.Errorf("%s: %g, want %g", name, c.got, c.want)
		}
	}
}

// What is taken where nobody states it, and what is known of receivers and fixes besides:
// common practice without a source, or judged, as each says where it stands, but for what
// is derived or published below. They stand here so that none changes unseen.
func TestFiguresThatAreTakenAsGiven(t *testing.T) {
	e, _ := Errors(autonomous, math.NaN())
	d, _ := Errors(differential, math.NaN())
	for name, c := range map[string]struct{ got, want float64 }{
		"antennas, least": {LeastGapM, 0.2}, "antennas, most": {MostGapM, 1},
		"shallowest": {ShallowestM, 0.001}, "a line that was drawn": {PlainLineM, 0.05},
		"signal": {PlainSignalRel, 0.05}, "least of a signal": {LeastSignalRel, 0.008},
		"null": {PlainNullM, 0.05}, "least of a null": {LeastNullM, 0.02},
		"bias of nulls": {NullBiasM, 0.02}, "drift of nulls": {NullDriftM, 0.01}, "lasts": {NullDriftLastsM, 50},
		"precise": {PreciseFixM, 0.06}, "lasts, precise": {PreciseLastsM, 15}, "lasts, others": {PlainLastsM, 60},
		"common to neighbours": {CommonShare, 0.6},
		// The shared over the usual error of a fixed position, squared: derived.
		"the same for a walk": {WholeShare, math.Pow(0.01/0.015, 2)},
		// Of 29,705 positions shown as fixed 1.9 % were wrong (published, see FalseFix).
		"false fixes": {FalseFix, 0.02},
		"best":        {BestM, 0.003}, "finest stated": {FinestStatedM, 0.001}, "coarse of a fixed one": {CoarseFixedM, 0.5},
		"time that neighbours share": {UsualTauS, 120}, "its spread": {TauSpread, 1.1},
		"autonomous, seldom better": {e.SeldomM, 0.75},
		// 0.6 m at 95 % is the least of the FAA's report 10 of 2004.
		"differential, seldom better": {d.SeldomM, 0.6 / rayleigh95},
		// 8 m at 95 %: GPS SPS Performance Standard, 5th edition, 2020 (from memory).
		"nothing told":     {UnboundedM(), 8 / rayleigh95},
		"least of a depth": {LeastDepthRel, 0.015}, "middle of an open line": {ExposedMiddleM, 0.01},
		"spread of pinpointing": {PinpointSpread, 0.6},
	} {
		if math.Abs(c.got-c.want) > 0.015*c.want {
			t.Errorf("%s: %g, want %g", name, c.got, c.want)
		}
	}
	if !Believed(9999, autonomous, math.NaN()) || Believed(10001, autonomous, math.NaN()) {
		t.Error("an accuracy of ten kilometres is a filler, and one below it is not")
	}
}

// A display is at its end where its greatest figure was shown at three readings at least,
// and at one in twenty (judgement).
func TestFullScale(t *testing.T) {
	shown := func(top, others int) []float64 {
		var out []float64
		for range top {
			out = append(out, 99)
		}
		for i := range others {
			out = append(out, 50+float64(i)/10)
		}
		return append(out, math.NaN())
	}
	for _, c := range []struct {
		top, others int
		full        bool
	}{{3, 10, true}, {2, 3, false}, {3, 57, true}, {3, 58, false}, {4, 76, true}, {4, 77, false}} {
		got := FullScale(shown(c.top, c.others))
		if c.full && got != 99 || !c.full && !math.IsInf(got, 1) {
			t.Errorf("%d of %d at the greatest figure: %g", c.top, c.top+c.others, got)
		}
	}
}

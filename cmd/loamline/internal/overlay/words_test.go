package overlay

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

// A depth that one of two maps does not know is no depth without a difference.
func TestUnknownDepthsAreNotAlike(t *testing.T) {
	known := compare.OverlayPlace{AllowedM: 1, DepthDifferenceM: 0.1, DepthAllowedM: 0.2}
	bare, none := known, known
	bare.DepthAllowedM, none.DepthDifferenceM = trace.Unknown, trace.Unknown
	for _, c := range []struct {
		places    []compare.OverlayPlace
		want, not string
	}{
		{[]compare.OverlayPlace{known, known}, "No difference beyond both bands;", "Depths were"},
		{[]compare.OverlayPlace{known, none, bare}, "No difference in position beyond both bands, nor in depth where both have one; both maps could still be wrong in the same way. Depths were compared at 1 of the 3 stations", "not compared"},
		{[]compare.OverlayPlace{none, bare}, "No difference in position beyond both bands; both maps could still be wrong in the same way. Depths were not compared", "No difference beyond"},
	} {
		got := strings.Join(Words(compare.Overlay{Places: c.places}, geo.Metric), " ")
		if !strings.Contains(got, c.want) || strings.Contains(got, c.not) {
			t.Errorf("%q", got)
		}
	}
}

// A mean is told in words where it is nothing, in depth as across, and in feet and inches
// in US units.
func TestMeansOfTwoMaps(t *testing.T) {
	for _, c := range []struct {
		offsetM, deeperM float64
		u                geo.Units
		want             string
	}{
		{0, 0, geo.Metric, "on average the second lies in the same place, and was read equally deep."},
		{-0.0001, trace.Unknown, geo.Metric, "on average the second lies in the same place."},
		{0.12, -0.2, geo.Metric, "on average the second lies 12.0 cm to the right, and was read 20.0 cm shallower."},
		{-1.2, 0.5, geo.US, "on average the second lies 3 ft 11 in to the left, and was read 1 ft 8 in deeper."},
	} {
		p := compare.OverlayPlace{OffsetM: c.offsetM, AllowedM: 3, DepthDifferenceM: c.deeperM, DepthAllowedM: 1}
		if got := Words(compare.Overlay{Places: []compare.OverlayPlace{p, p}}, c.u)[0]; !strings.HasSuffix(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// One map twice, and maps of two towns, are told before frames are.
func TestWarningOfMapsThatAreNoPair(t *testing.T) {
	at := func(latDeg float64, depthM float64) trace.Located {
		v := trace.LocatedVertex{At: geo.LonLat{LonDeg: -30.5, LatDeg: latDeg}, DepthM: depthM, Depth95M: trace.Unknown}
		return trace.Located{Lines: []trace.LocatedLine{{Name: "A", Parts: [][]trace.LocatedVertex{{v}}}, {Name: "not drawn"}}}
	}
	for _, c := range []struct {
		second trace.Located
		want   string
	}{
		{at(44.1, trace.Unknown), "Both files hold the same map"},
		{at(44.1, 1), "Neither map states the datum"},
		{at(45.1, 1), "These maps lie 111 km apart: they are not of the same job."},
		{trace.Located{}, "Neither map states the datum"},
	} {
		if got := Warning(at(44.1, trace.Unknown), c.second); !strings.HasPrefix(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if got := Warning(trace.Located{}, trace.Located{}); !strings.HasPrefix(got, "Neither map") {
		t.Errorf("no lines: %q", got)
	}
}

// What makes that nothing differs worth less stands beside it.
func TestWhatAnAgreementIsWorth(t *testing.T) {
	p := compare.OverlayPlace{AllowedM: 1, DepthDifferenceM: 0.1, DepthAllowedM: 0.2}
	o := compare.Overlay{Places: []compare.OverlayPlace{p, p}, LengthM: [2]float64{64, 24}, AloneM: [2]float64{40, 1},
		Kinds: [2]trace.Utility{trace.Water, trace.Gas}}
	o.Doubted[1] = []trace.LocatedStretch{{FromM: 8, ToM: 14}, {FromM: 16, ToM: 18}}
	got := strings.Join(Words(o, geo.Metric), " ")
	for _, want := range []string{"No difference beyond both bands;",
		"The first map has it as potable water, the second as gas, oil, steam: one of the two is wrong, or they are two lines.",
		"Of the first's 64.0 m, 40.0 m have nothing of the second beside them: there nothing was compared.",
		"The second map itself says not to trust this line from 8.0 to 14.0 m, 16.0 to 18.0 m: see there why."} {
		if !strings.Contains(got, want) {
			t.Errorf("not told: %s\nin: %s", want, got)
		}
	}
	if strings.Contains(got, "Of the second's") || strings.Contains(got, "The first map itself") {
		t.Errorf("told without need: %s", got)
	}
	o.Doubted[1] = append(o.Doubted[1], trace.LocatedStretch{FromM: trace.Unknown, ToM: trace.Unknown})
	if got = strings.Join(Words(o, geo.Metric), " "); !strings.Contains(got, "not to trust this line: see there why") {
		t.Errorf("all of it: %s", got)
	}
}

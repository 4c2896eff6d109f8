package words

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"loamline.example/geo"
)

func TestInUnits(t *testing.T) {
	for _, c := range []struct {
		to, job        geo.Units
		sentence, want string
	}{
		{geo.FeetInches, geo.Metric, "W-1, 14.2 m to 40.7 m: expose before digging within 2.40 m of the mark.", "W-1, 47 ft to 134 ft: expose before digging within 7 ft 11 in of the mark."},
		{geo.FeetInches, geo.Metric, "within 0.68 to 1.08 m of the mark, and farther close to 14.2 m", "within 2 ft 3 in to 3 ft 7 in of the mark, and farther close to 47 ft"},
		{geo.Metric, geo.US, "within 2.0 to 3.6 ft to the right of the mark and within 10 in to its left", "within 0.61 to 1.10 m to the right of the mark and within 0.26 m to its left"},
		{geo.FeetInches, geo.Metric, "comes within 0.35 m of G-1 at 24.5 m", "comes within 1 ft 2 in of G-1 at 80 ft"},
		{geo.FeetInches, geo.Metric, "about 0.08 m ± 0.05 to the left", "about 3 in ± 2 in to the left"},
		{geo.FeetInches, geo.Metric, "gives 0 ± 0.05 m.", "gives 0 ± 2 in."},
		{geo.FeetInches, geo.Metric, "12.0 to 34.5 m, signal 81 % (one line alone: 81 %)", "39 to 113 ft, signal 81 % (one line alone: 81 %)"},
		{geo.FeetInches, geo.Metric, "About 0.9 cm (95 %) of the band", "About 0.4 in (95 %) of the band"},
		{geo.FeetInches, geo.Metric, "the record 'main 12 m' lies up to 1.47 m off", "the record 'main 12 m' lies up to 4 ft 10 in off"},
		{geo.FeetInches, geo.Metric, "LINE 3 m, 5.0 m: not traced", "LINE 3 m, 16 ft: not traced"},
		{geo.FeetInches, geo.Metric, "at 8192 Hz, 45 mA, 3 readings", "at 8192 Hz, 45 mA, 3 readings"},
		{geo.Metric, geo.US, "W-1, 47 ft to 134 ft: within 7.9 ft of the mark", "W-1, 14.3 m to 40.8 m: within 2.41 m of the mark"},
		{geo.Metric, geo.US, "lifted by 12 in: depth grew by 7 in", "lifted by 0.30 m: depth grew by 0.18 m"},
		{geo.Metric, geo.US, "about 4.8 ft ± 3.9 at most", "about 1.5 m ± 1.2 at most"},
		{geo.Metric, geo.US, "within class A of NF S70-003 in position", "within class A of NF S70-003 in position"},
		{geo.Metric, geo.Metric, "5.0 m", "5.0 m"},
	} {
		if got := InUnits(c.to, c.job, c.sentence, "LINE 3 m"); got != c.want {
			t.Errorf("%q\ngot  %q\nwant %q", c.sentence, got, c.want)
		}
	}
}

// A distance within which something must be done never shrinks on the way.
func TestInUnitsNeverShrinksAKeepOff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Float64Range(0.01, 40).Draw(t, "m")
		said := fmt.Sprintf("%.2f", m)
		var rounded float64
		fmt.Sscan(said, &rounded)
		got := InUnits(geo.FeetInches, geo.Metric, "within "+said+" m of the mark")
		if want := "within " + ShortUp(geo.FeetInches, rounded) + " of the mark"; got != want {
			t.Fatalf("%q, want %q", got, want)
		}
	})
}

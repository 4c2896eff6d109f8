package export_test

import (
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/otherworld"
	"loamline.example/trace/tracetest/study"
)

// The caution zone holds what is said beside it: at each place it reaches as far as the
// 95 % band that may be told there, and the rule's half-width beyond.
func TestCautionZoneHoldsTheBandThatIsTold(t *testing.T) {
	places, wide := 0, 0
	for _, w := range []struct {
		families []string
		make     func(string, uint64) (tracetest.Job, error)
	}{
		{[]string{"bleed-same", "jump", "jump-loose"}, tracetest.Make},
		{[]string{"coupled-known", "bonded", "jump-known", "jump-return", "jump-unknown"}, otherworld.Make},
	} {
		for _, family := range w.families {
			for seed := range uint64(study.Of(2, 8)) {
				j, err := w.make(family, 60+seed)
				if err != nil {
					t.Fatal(err)
				}
				s := simulated(t, geo.Metric, j)
				for i := range s.Lines {
					l := &s.Lines[i]
					if l.Centerline == nil || len(l.Reach) == 0 {
						continue
					}
					for _, p := range l.Centerline.Parts {
						for _, v := range p.Vertices {
							told := words.At(l, v)
							if !trace.Known(told.Horizontal95M) {
								continue
							}
							left, right := trace.ReachAt(l.Reach, v.StationM)
							left, right = left-l.Tolerance.HalfWidthM, right-l.Tolerance.HalfWidthM
							places++
							if told.Distrusted() {
								wide++
							}
							const shown = 0.05 // the least that is told of a side, and no tape shows more
							if told.OneSided() {
								if left < told.LeftM-shown || right < told.RightM-shown {
									t.Errorf("%s %d, %s at %.1f m: told %.2f m to the left and %.2f m to the right, the zone holds %.2f and %.2f m", family, 60+seed, l.Setup.Name, v.StationM, told.LeftM, told.RightM, left, right)
								}
							} else if alike := 0.1 * (max(left, right) + l.Tolerance.HalfWidthM); told.Distrusted() && min(left, right) < told.Horizontal95M-max(0.1, alike) || max(left, right) < told.Horizontal95M-shown { // sides that differ by less are told as one; on the shoulder of a stretch the band is that of its wider side
								t.Errorf("%s %d, %s at %.1f m: told %.2f m, the zone holds %.2f and %.2f m", family, 60+seed, l.Setup.Name, v.StationM, told.Horizontal95M, left, right)
							}
						}
					}
				}
			}
		}
	}
	if places < 1000 || wide < 50 {
		t.Errorf("%d places, %d of them where something is suspected: too few to tell", places, wide)
	}
}

package locate

import (
	"fmt"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// Two lines that cross, of which the rows from there on bear each other's names, are drawn
// as two that touch at their corners, and both are told; with the right names neither is.
func TestChangedNamesAreTold(t *testing.T) {
	for _, changed := range []bool{false, true} {
		var rs []trace.Reading
		for which, line := range []string{"W-1", "G-1"} {
			for k := -20; k <= 24; k++ {
				r := trace.NewReading()
				r.Line, r.Row, r.Fix, r.HAccM, r.DepthM = line, int32(2+len(rs)), trace.FixRTK, 0.02, 1.2
				along := float64(k) * 2e-5 // degrees: two metres or so
				at := []geo.LonLat{{LonDeg: -30.5 + along, LatDeg: 44.1}, {LonDeg: -30.5 + along/2, LatDeg: 44.1 + along}}
				r.Geographic = at[which]
				if changed && k > 0 {
					r.Geographic = at[1-which]
				}
				rs = append(rs, r)
			}
		}
		s, err := Build(t.Context(), trace.Source{Name: "job", Job: trace.DefaultJob(), Readings: rs, Inputs: []trace.Input{{Name: "a.csv"}}})
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range s.Lines {
			told := ""
			for _, f := range l.Findings {
				if d, ok := f.(finding.Doubt); ok {
					if why, is := d.Why.(remark.MixedUp); is {
						told += fmt.Sprintf("with %s, %.0f m", why.Other, d.ToM-d.FromM)
					}
				}
			}
			if (told != "") != changed {
				t.Errorf("names changed: %t, and %s is told %q", changed, l.Setup.Name, told)
			}
		}
	}
}

package guard

import (
	"fmt"
	"math"

	"loamline/trace"
	"loamline/trace/receiver"
)

// exposed finds exposed places outside the bands. An exposure is the truth where
// it is, and shows an error that the rest of the walk may share: the bands of the
// whole line grow to it.
func (v *view) exposed() []Breach {
	var out []Breach
	u := v.rule.Units
	for _, i := range v.order {
		r, f := &v.Readings[i], v.feet[i]
		if !r.Exposed || f.part < 0 {
			continue
		}
		own := v.rule.OwnM(r)
		if math.IsNaN(own) {
			own = 0
		}
		at := u.Long(f.stationM)
		if f.distM > f.bandM+receiver.CheckedExposed95M+1.96*own {
			side := "right"
			if f.offsetM < 0 {
				side = "left"
			}
			out = append(out, Breach{Kind: Exposed, FromM: f.stationM, ToM: f.stationM, BandM: f.distM, Whole: true, Words: fmt.Sprintf(
				"the line was exposed at %s, %s to the %s of where it is drawn: outside the band of the trace. The band of the whole line is widened to that.", at, u.Fine(f.distM), side)})
		}
		if d, band, ok := v.profileAt(i); ok && trace.Known(r.DepthM) && math.Abs(r.DepthM-d) > band+receiver.CheckedExposedDepth95M {
			out = append(out, Breach{Kind: Exposed, FromM: f.stationM, ToM: f.stationM, DepthBandM: math.Abs(r.DepthM - d), Whole: true, Words: fmt.Sprintf(
				"the line was exposed at %s and measured %s deep, where the profile has %s: outside its band. The band of the whole profile is widened to that.", at, u.Short(r.DepthM), u.Short(d))})
		}
	}
	return out
}

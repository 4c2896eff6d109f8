package guard

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/guard/cutcorner"
	"loamline.example/trace/remark"
)

// cutCorners finds corners that the walk did not go to: the band holds where the legs meet.
func (v *view) cutCorners() []Breach {
	if !v.inOrder {
		return nil
	}
	var out []Breach
	for part := range v.parts {
		var on []int
		var rs []cutcorner.Reading
		owns := 0.0
		for _, i := range v.order {
			if r := &v.Readings[i]; r.Status == trace.StatusUsed && v.feet[i].part == part {
				on = append(on, i)
				rs = append(rs, cutcorner.Reading{Pos: r.Pos, DepthM: r.DepthM})
				owns += v.ownM(i)
			}
		}
		for _, c := range cutcorner.Find(rs, owns/math.Max(1, float64(len(on)))) {
			f := v.place(c.Corner)
			if f.part != part || f.distM <= f.bandM {
				continue
			}
			a, b := v.feet[on[c.Before]].stationM, v.feet[on[c.After]].stationM
			out = append(out, Breach{Kind: Off, FromM: math.Min(a, b), ToM: math.Max(a, b), BandM: f.distM + f.bandM, Readings: c.After - c.Before - 1,
				Remark: remark.CornerCut{N: c.After - c.Before - 1, Times: c.Times, OffM: f.distM}})
		}
	}
	return out
}

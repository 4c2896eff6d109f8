package guard

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// exposed finds exposed places outside the bands. An exposure is the truth where
// it is, and shows an error that the rest of the walk may share: the bands of the
// whole line grow to it.
func (v *view) exposed() []Breach {
	var out []Breach
	for _, i := range v.order {
		r, f := &v.Readings[i], v.feet[i]
		if !r.Exposed || f.part < 0 {
			continue
		}
		aheadM, offM := v.pastEnd(i)
		if f.beyond && (f.distM > pastEndM || offM <= f.bandM && aheadM > f.bandM+v.rule.HalfWidthM) {
			if !v.readTowards(i) {
				out = append(out, Breach{Kind: Uncovered, FromM: f.stationM, ToM: f.stationM, Places: []geo.XY{r.Pos}, Remark: remark.ExposedBeyond{BeyondM: f.distM}})
			}
			continue
		}
		own := v.rule.OwnM(r)
		if math.IsNaN(own) {
			own = 0
		}
		if offM > f.bandM+1.96*receiver.ExposedM+1.96*own {
			side := trace.Right
			if f.offsetM < 0 {
				side = trace.Left
			}
			out = append(out, Breach{Kind: Exposed, FromM: f.stationM, ToM: f.stationM, BandM: offM, Whole: true,
				Remark: remark.ExposedOffLine{StationM: f.stationM, OffM: offM, Side: side}})
		}
		if d, band, ok := v.profileAt(i); ok && trace.Known(r.DepthM) && math.Abs(r.DepthM-d) > band+1.96*receiver.ExposedDepthM {
			out = append(out, Breach{Kind: Exposed, FromM: f.stationM, ToM: f.stationM, DepthBandM: math.Abs(r.DepthM - d), Whole: true,
				Remark: remark.ExposedOffProfile{StationM: f.stationM, MeasuredM: r.DepthM, DrawnM: d}})
		}
	}
	return out
}

// pastEnd is how far ahead of an end of its part a reading lies, and how far off the line as
// it would go on there; of one beside the line, how far off that.
func (v *view) pastEnd(i int) (aheadM, offM float64) {
	f := v.feet[i]
	if !f.beyond {
		return 0, f.distM
	}
	line := v.parts[f.part].line
	at := f.stationM - v.parts[f.part].FromM()
	out, dir := v.Readings[i].Pos.Sub(line.At(at)), line.Direction(at)
	return math.Abs(out.Dot(dir)), math.Abs(dir.Cross(out))
}

// pastEndM is how far past an end of the line an exposed place says nothing of how far
// the line drawn is off: the line was not traced to there. Judgement.
const pastEndM = 5.0

// readTowards reports whether readings that no line stands for lie nearer to an exposed
// place past an end than the line does: the way to it is told with them.
func (v *view) readTowards(exposed int) bool {
	if v.lostAt == nil {
		places := make([]geo.XY, len(v.Readings)) // far from everything where the line stands for a reading
		for i := range v.Readings {
			if r := &v.Readings[i]; r.Placed() && r.Status != trace.StatusCheck && v.lost(i) {
				places[i] = r.Pos
			} else {
				places[i] = geo.XY{X: math.Inf(1)}
			}
		}
		v.lostAt = geo.NewPoints(places)
	}
	return v.lostAt.NearestM(v.Readings[exposed].Pos, exposed) < v.feet[exposed].distM
}

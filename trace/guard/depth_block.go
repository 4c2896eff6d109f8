package guard

import (
	"math"

	"loamline.example/trace/guard/depthlevel"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// depthBlocks finds depths that step to another level from one reading to the next, and back
// as suddenly or not at all, where neither signal nor current show that the line itself lies
// so: the band holds both levels over the stretch, or on the shorter side of a step that does
// not come back. One that does not, at a place where the course turns as well, is told whatever
// shows it: a trace that goes over to another line leaves its own there. So is one of a factor
// that no line has, on both sides, for nothing tells which is the line's own.
func (v *view) depthBlocks() []Breach {
	var out []Breach
	figureM := v.figureM()
	for part := range v.parts {
		var on []int
		var rs []depthlevel.Reading
		var left []depthlevel.Left
		for _, i := range v.usedOn(part) {
			r := &v.Readings[i]
			if !(r.DepthM > 0 && r.DepthM < shownM) {
				continue
			}
			if r.DepthDropped {
				left = append(left, depthlevel.Left{StationM: v.feet[i].stationM, DepthM: r.DepthM})
				continue
			}
			on = append(on, i)
			rs = append(rs, depthlevel.Reading{StationM: v.feet[i].stationM, DepthM: r.DepthM, Signal: signalOf(r), CurrentMA: r.CurrentMA, Before: left})
			left = nil
		}
		for _, s := range depthlevel.Find(rs, figureM) {
			turns := func() bool { return v.turnsAt(on, s.After) }
			if (s.Lies || s.Small) && (s.Back > 0 || !s.Large && !turns()) || s.OffM < math.Min(nextFigure*figureM, oneFigureM) && !turns() {
				continue
			}
			last := on[s.After-1]
			from, to := v.feet[last].stationM, v.feet[on[s.After]].stationM
			if _, suspected := v.suspectedNear(from, to); s.Slight && suspected {
				continue
			}
			_, own, _ := v.profileAt(last)
			b := Breach{Kind: Deep, Once: true, FromM: from, ToM: to, DepthBandM: s.OffM + math.Max(own, receiver.ShownDepthM)}
			if s.Back > 0 {
				b.ToM = v.feet[on[s.Back]].stationM
				b.Remark = remark.DepthBlock{N: s.Back - s.After, OffM: s.OffM, Deeper: s.ByLn > 0, FromRow: v.Readings[on[s.After]].Row, ToRow: v.Readings[on[s.Back-1]].Row}
			} else {
				b.Remark = remark.DepthLevel{OffM: s.OffM, Deeper: s.ByLn > 0, Row: v.Readings[on[s.After]].Row, WithinM: to - from}
				p := v.parts[part]
				before, after := shorterSides(from-p.FromM(), p.ToM()-to)
				if s.Large { // either side may be the line's own
					b.DepthBandM = s.OffM + receiver.ShownDepthM
				}
				if before || s.Large {
					b.FromM = p.FromM()
				}
				if after || s.Large {
					b.ToM = p.ToM()
				}
			}
			out = append(out, b)
		}
	}
	return out
}

// nextFigure of a display's steps is one, as centimetres keep it: two such figures may be one
// depth, unless they are oneFigureM apart, which a digger feels. Judgement: more than a foot.
const nextFigure, oneFigureM = 1.05, 0.35

// figureM is the step that depths are shown on, 0 where none shows.
func (v *view) figureM() float64 {
	var shown []float64
	for i := range v.Readings {
		if r := &v.Readings[i]; r.DepthM > 0 && r.DepthM < shownM && !r.Exposed {
			shown = append(shown, r.DepthM)
		}
	}
	return receiver.DepthStep(shown)
}

// turnsAt reports whether the course of some readings turns before the k-th.
func (v *view) turnsAt(on []int, k int) bool {
	at := make([][2]float64, len(on))
	for i, r := range on {
		at[i] = [2]float64{v.Readings[r].Pos.X, v.Readings[r].Pos.Y}
	}
	return depthlevel.TurnsAt(at, k, v.ownM(on[k]))
}

package jobs

import (
	"slices"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// whenAndWhere notes the days of the readings, and the box about those that have
// degrees.
func (v *TableView) whenAndWhere(readings []trace.Reading) {
	v.FirstDay, v.LastDay = "", ""
	var at []geo.LonLat
	for i := range readings {
		r := &readings[i]
		if !r.Time.IsZero() {
			d := r.Time.Format(time.DateOnly)
			if v.FirstDay == "" || d < v.FirstDay {
				v.FirstDay = d
			}
			v.LastDay = max(v.LastDay, d)
		}
		if p := r.Geographic; p.Valid() && (p.LonDeg != 0 || p.LatDeg != 0) {
			at = append(at, p)
		}
	}
	v.Box = boxAbout(at)
}

// boxAbout is the box about positions, less those that lie farther from most of
// them than a day's work goes: one row with a slip in it must not stretch it
// over half the world.
func boxAbout(at []geo.LonLat) *Box {
	if len(at) == 0 {
		return nil
	}
	xs, ys := make([]float64, len(at)), make([]float64, len(at))
	for i, p := range at {
		xs[i], ys[i] = p.LonDeg, p.LatDeg
	}
	slices.Sort(xs)
	slices.Sort(ys)
	middle := &Place{X: xs[len(xs)/2], Y: ys[len(ys)/2]}
	var b *Box
	for _, p := range at {
		if !middle.near(&Place{X: p.LonDeg, Y: p.LatDeg}) {
			continue
		}
		if b == nil {
			b = &Box{p.LonDeg, p.LatDeg, p.LonDeg, p.LatDeg}
		}
		b.West, b.East = min(b.West, p.LonDeg), max(b.East, p.LonDeg)
		b.South, b.North = min(b.South, p.LatDeg), max(b.North, p.LatDeg)
	}
	return b
}

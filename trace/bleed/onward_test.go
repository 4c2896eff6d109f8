package bleed_test

import (
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
)

// A trace begins on a line of the record and steps 2 m aside to another course at
// 60 m: it may have begun on another line, or have left its own there. Whatever is said
// of its beginning, the record's course past 60 m is held too.
func TestStartOnARecordHoldsItsCourseOnward(t *testing.T) {
	nan := math.NaN()
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	var line bleed.Line
	line.Name, line.AntennaGapM, line.Exclude = "A", 0.4, []int{0}
	station := 0.0
	for i := range 60 {
		x := 2 * float64(i)
		p := geo.XY{X: x, Y: 0.02*pattern[i%11] - 2*ease(2*(x-60))}
		if i > 0 {
			station += p.Dist(line.Points[i-1])
		}
		d, current := 1.0, 100.0
		if x > 62 {
			d, current = 0.7, 180
		}
		line.Points = append(line.Points, p)
		line.DepthM, line.SigmaM = append(line.DepthM, d), append(line.SigmaM, 0.03)
		line.Readings = append(line.Readings, trace.Reading{Pos: p, StationM: station, HAccM: 0.02, Fix: 4,
			DepthM: d * (1 + 0.02*pattern[(i+3)%11]), CurrentMA: current * (1 + 0.02*pattern[(i+5)%11]),
			Signal: nan, SignalLow: nan, SignalHigh: nan, NullOffsetM: nan})
	}
	record := bleed.Path{Name: "R", Points: []geo.XY{{X: -20}, {X: 140}}, DepthM: []float64{1, 1}, SigmaM: []float64{0.1, 0.1}, Reference: true}
	begins := false
	found := detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, record})).Stretches
	for _, s := range found {
		if s.Jump && s.FromM < 5 && s.Grade != trace.GradeWatch && !slices.ContainsFunc(found, func(o bleed.Stretch) bool {
			return o.Grade != trace.GradeWatch && o.FromM <= 90 && o.ToM >= 110
		}) {
			t.Errorf("the beginning is suspected, and what follows it is not: %+v", found)
		}
		if !s.Jump || s.FromM > 5 {
			continue
		}
		begins = true
		for _, x := range []float64{70, 90, 110} {
			held := false
			for _, o := range s.Own {
				for k, p := range o.Path {
					held = held || p.Dist(geo.XY{X: x}) < 1.5 && o.Half95M[k] > 0.1 && math.Abs(p.Y) < o.Half95M[k]
				}
			}
			if !held {
				t.Errorf("%s %.2f from %.0f to %.0f m: the record's course at %.0f m is in no strip", s.Grade, s.Score, s.FromM, s.ToM, x)
			}
		}
	}
	if !begins {
		t.Error("nothing is said of a beginning on another line")
	}
}

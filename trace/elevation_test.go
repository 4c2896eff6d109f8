package trace

import (
	"math"
	"testing"

	"loamline/geo"
)

// Ground rises from 100 m at station 5 to 101 m at station 15 over a line 20 m
// long and 1 m deep.
func TestElevationsEndWithTheReadingsThatHaveThem(t *testing.T) {
	var rs []Reading
	for s := 0.0; s <= 20; s += 5 {
		r := NewReading()
		r.Status, r.StationM = StatusUsed, s
		if s == 5 || s == 15 {
			r.ElevM = 100 + (s-5)/10
		}
		rs = append(rs, r)
	}
	var path []geo.XY
	for _, x := range []float64{0, 4.5, 10, 15.5, 20} {
		path = append(path, geo.XY{X: x})
	}
	c := drawn("A", 1, path...).Centerline
	vs := c.Parts[0].Vertices
	for i := range vs {
		vs[i].ElevM = Unknown
	}
	addElevations(Trace{Readings: rs}, c)
	for i, want := range []float64{Unknown, 99, 99.5, 100, Unknown} {
		if got := vs[i].ElevM; Known(got) != Known(want) || math.Abs(got-want) > 1e-9 {
			t.Errorf("at %.1f m: %v, want %v", vs[i].StationM, got, want)
		}
	}
}

package bleed

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Past a suspected stretch the course has turned or not, and the depth stays another or not:
// both are what going over to another line looks like.
func TestTurnedOn(t *testing.T) {
	for _, c := range []struct {
		name          string
		degrees, lnD  float64
		want          bool
		suspectedPast bool
	}{
		{"turned, another depth", 15, 0.2, true, false},
		{"straight, another depth", 0, 0.2, false, false},
		{"turned, as deep", 15, 0, false, false},
		{"turned, another depth, suspected to the end", 15, 0.2, false, true},
	} {
		col := testColumns()
		for k := range col.rd {
			past := math.Max(0, col.rd[k].StationM-20)
			a := c.degrees * math.Pi / 180
			col.rd[k].Pos = geo.XY{X: math.Min(20, col.rd[k].StationM) + past*math.Cos(a), Y: past * math.Sin(a)}
			if past > 0 {
				col.lnD[k] += c.lnD
				col.lnS[k] -= c.lnD
			}
		}
		found := []Stretch{{FromM: 16, ToM: 26, Grade: trace.GradeSuspect, Neighbor: Unknown}}
		if c.suspectedPast {
			found[0].ToM = 58
		}
		got := unmapped{columns: col}.turnedOn(found)
		if (len(got) == 1) != c.want {
			t.Errorf("%s: %+v", c.name, got)
		}
		if len(got) == 1 && (got[0].FromM > 26 || got[0].ToM < 58) {
			t.Errorf("%s: from %.0f to %.0f m", c.name, got[0].FromM, got[0].ToM)
		}
	}
}

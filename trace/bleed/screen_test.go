package bleed

import (
	"math"
	"testing"
)

// A null that goes over to another level for a while is a sign, though neither
// level lies far from the peak; one level all along, as a receiver's own, is none.
func TestScreenSeesNullThatChanges(t *testing.T) {
	for what, c := range map[string]struct {
		level, other float64
		sign         bool
	}{
		"over to the other side": {-0.03, 0.03, true},
		"the same all along":     {0.03, 0.03, false},
	} {
		nulls := make([]float64, 60)
		for i := range nulls {
			nulls[i] = c.level + 0.015*math.Sin(float64(7*i))
			if i >= 20 && i < 41 {
				nulls[i] += c.other - c.level
			}
		}
		line := fewReadings(2, nulls...)
		for i := range line.Readings {
			line.Readings[i].DepthM = 1 + 0.01*math.Sin(float64(5*i))
		}
		line.rd = inStationOrder(line.Readings)
		col := newColumns(line)
		if got := screenUnknown.sign(col, 0, len(col.rd)); got != c.sign {
			t.Errorf("%s: %v", what, got)
		}
	}
}

package fit

import "testing"

// A gap counts as its straight bridge; stations beyond both ends are held there.
func TestRestation(t *testing.T) {
	st := []stretch{{from: 2, to: 10}, {from: 30, to: 40, newFrom: 18}, {from: 60, to: 61, newFrom: 38}}
	for at, want := range map[float64]float64{0: 0, 2: 0, 7: 5, 10: 8, 20: 13, 30: 18, 35: 23, 40: 28, 50: 33, 60: 38, 99: 39} {
		close2(t, "station", restation(st, at), want, 1e-12)
	}
}

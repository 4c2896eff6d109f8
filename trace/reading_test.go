package trace

import "testing"

// Which GGA quality indicators are measurements, by NMEA 0183: 0 fix not valid, 1 GPS
// SPS, 2 differential, 3 PPS, 4 RTK, 5 RTK float, 6 estimated (dead reckoning), 7 typed
// in, 8 simulator. 9 is written by some receivers for a satellite service (common
// practice, no source); where nothing is told a position is taken as it stands.
func TestFixesThatAreMeasurements(t *testing.T) {
	for fix, want := range map[Fix]bool{-1: true, 0: false, 1: true, 2: true, 3: true, 4: true, 5: true, 6: false, 7: false, 8: false, 9: true} {
		if fix.Measured() != want {
			t.Errorf("fix %d: measured %v, want %v", fix, !want, want)
		}
	}
}

package setting

import (
	"strings"
	"testing"

	"loamline.example/trace"
)

// Each limit past which a setting is a slip of the hand, from both sides. A half-width of
// 15 ft (4.57 m) is a law's (North Carolina G.S. 87-117, lines under water), and 50 ft is
// taken; 5 cm is narrower than any. Antennas in one receiver are 0.2 to 1.0 m apart and no
// pipe in open ground is wider than 5 m (common practice, no source). The shortest
// emergency numbers have three digits (from memory).
func TestLimitsOfSettings(t *testing.T) {
	for _, c := range []struct {
		name string
		set  func(*trace.Job)
		fine bool
	}{
		{"half-width 5.1 cm", func(j *trace.Job) { j.Tolerance.HalfWidthM = 0.051 }, true},
		{"half-width 4.9 cm", func(j *trace.Job) { j.Tolerance.HalfWidthM = 0.049 }, false},
		{"half-width 15 ft", func(j *trace.Job) { j.Tolerance.HalfWidthM = 15 * 0.3048 }, true},
		{"half-width 50 ft", func(j *trace.Job) { j.Tolerance.HalfWidthM = 50 * 0.3048 }, true},
		{"half-width 15.6 m", func(j *trace.Job) { j.Tolerance.HalfWidthM = 15.6 }, false},
		{"antennas 0.20 m", func(j *trace.Job) { j.AntennaGap = 0.20 }, true},
		{"antennas 0.19 m", func(j *trace.Job) { j.AntennaGap = 0.19 }, false},
		{"antennas 1.00 m", func(j *trace.Job) { j.AntennaGap = 1.00 }, true},
		{"antennas 1.01 m", func(j *trace.Job) { j.AntennaGap = 1.01 }, false},
		{"911", func(j *trace.Job) { j.Contact.Emergency = "911" }, true},
		{"11", func(j *trace.Job) { j.Contact.Emergency = "11" }, false},
	} {
		j := trace.DefaultJob()
		c.set(&j)
		if err := Check(j); (err == nil) != c.fine {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	for diameterM, fine := range map[float64]bool{5: true, 5.1: false} {
		if _, err := CheckLine(trace.LineSetup{DiameterM: diameterM, FreqHz: trace.Unknown, PowerW: trace.Unknown}); (err == nil) != fine {
			t.Errorf("diameter %g m: %v", diameterM, err)
		}
	}
	// A gap in feet is told as such.
	j := trace.DefaultJob()
	j.AntennaGap = 1.31
	if err := Check(j); err == nil || !strings.Contains(err.Error(), "1.31 feet would be 0.40") {
		t.Errorf("a gap in feet: %v", err)
	}
}

package trace

import (
	"fmt"
	"math"
	"time"

	"loamline/geo"
)

// Check reports the first setting that cannot be used, by its key in the job
// file.
func (j Job) Check() error {
	switch {
	case j.Units != geo.Metric && j.Units != geo.US:
		return fmt.Errorf("units = %q: use \"metric\" or \"us\"", j.Units)
	case j.Tolerance.MeasuredFrom != "edge" && j.Tolerance.MeasuredFrom != "centerline":
		return fmt.Errorf("tolerance.measured_from = %q: use \"edge\" or \"centerline\"", j.Tolerance.MeasuredFrom)
	case !(j.Tolerance.HalfWidthM > 0) || math.IsInf(j.Tolerance.HalfWidthM, 0):
		return fmt.Errorf("tolerance.half_width must be more than nothing, such as \"18 in\"")
	case Known(j.AntennaGap) && !(j.AntennaGap > 0):
		return fmt.Errorf("antenna_gap_m must be more than nothing, such as 0.40")
	case j.Epoch != 0 && (j.Epoch < 1980 || j.Epoch > 2100):
		return fmt.Errorf("epoch = %g: a decimal year is wanted, such as 2026.36", j.Epoch)
	}
	for _, d := range []struct{ key, value string }{{"date", j.Date}, {"valid_until", j.ValidUntil}} {
		if d.value == "" {
			continue
		}
		if _, err := time.Parse(time.DateOnly, d.value); err != nil {
			return fmt.Errorf("%s = %q: write the day as 2026-05-12", d.key, d.value)
		}
	}
	return nil
}

package otherworld

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// finish rounds positions and signals as they were written down.
func (w *world) finish(j *tracetest.Job) error {
	for _, t := range j.Traces {
		if w.saturates {
			clip(t.Readings)
		}
		for i := range t.Readings {
			rd := &t.Readings[i]
			if !w.feet {
				rd.Pos, rd.Truth.RoundM = roundTo(j.Plane, rd.Pos, w.digits)
				continue
			}
			crs, err := geo.LookupCRS(j.Layout.CRS)
			if err != nil {
				return err
			}
			if rd.Pos, rd.Truth.RoundM, err = roundToFeet(j.Plane, crs, rd.Pos); err != nil {
				return err
			}
		}
	}
	return nil
}

// clip holds signals to the display's end, which one reading in five reaches.
func clip(rds []tracetest.Reading) {
	var all []float64
	for _, rd := range rds {
		if !math.IsNaN(rd.SignalLow) {
			all = append(all, rd.SignalLow)
		}
	}
	if len(all) == 0 {
		return
	}
	sort.Float64s(all)
	full := all[len(all)*4/5]
	for i := range rds {
		rds[i].SignalLow, rds[i].SignalHigh = math.Min(rds[i].SignalLow, full), math.Min(rds[i].SignalHigh, full)
	}
}

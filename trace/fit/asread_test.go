package fit

import (
	"math"
	"time"

	"loamline.example/trace"
)

// asRead are made-up readings as they come from a table, times to the millisecond.
func asRead(in []reading) []trace.Reading {
	out := make([]trace.Reading, len(in))
	for i, q := range in {
		r := trace.NewReading()
		r.Pos, r.HAccM, r.HDOP, r.DepthM, r.CurrentMA = q.Pos, q.SigmaM, q.HDOP, q.DepthM, q.CurrentMA
		r.Fix, r.Exposed = trace.Fix(q.Fix), q.Exposed
		if !math.IsNaN(q.TimeS) {
			r.Time = time.UnixMilli(int64(math.Round(1000 * q.TimeS)))
		}
		out[i] = r
	}
	return out
}

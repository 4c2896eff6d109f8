package setting

import (
	"math"
	"slices"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Frame resolves the job's reference system, datum and epoch. Where no epoch is
// stated the day of the job stands for it: that is when the positions were taken.
func Frame(j trace.Job) (geo.Frame, error) {
	epoch := j.Epoch
	if math.IsNaN(epoch) {
		epoch = 0
	}
	if day, err := time.Parse(time.DateOnly, j.Date); err == nil && epoch == 0 {
		epoch = DecimalYear(day)
	}
	return geo.NewFrame(j.CRS, j.Datum, epoch)
}

// LeastYear is from when a reading's own time can stand for the epoch: receivers whose
// clock was never set say 1980 or 2000.
const LeastYear = 2001

// DatedBy returns the job with the day of its readings as epoch, where neither
// epoch nor date is stated: a frame on a moving plate is decimetres off after ten
// years. The median stands for all, so that a clock that was not set yet counts
// for little.
func DatedBy(j trace.Job, rs []trace.Reading) trace.Job {
	if j.Epoch > 0 || j.Date != "" {
		return j
	}
	var times []time.Time
	for i := range rs {
		if y := rs[i].Time.Year(); y >= LeastYear && y < 2100 {
			times = append(times, rs[i].Time)
		}
	}
	if len(times) > 0 {
		slices.SortFunc(times, time.Time.Compare)
		j.Epoch = math.Round(DecimalYear(times[len(times)/2])*100) / 100
	}
	return j
}

// DecimalYear gives a day as a year with a fraction, to a few hours.
func DecimalYear(t time.Time) float64 {
	t = t.UTC()
	year := time.Date(t.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	return float64(t.Year()) + t.Sub(year).Hours()/24/365.25
}

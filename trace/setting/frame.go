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
// clock was never set say 1980 or 2000. From noYear on none can. Judgement.
const LeastYear, noYear = 2001, 2100

// Taken is when readings were taken by their own times, of which some may be those of a
// clock that was not set yet.
type Taken struct {
	// At is the middle one of the times that a set clock can show; of all, where none can.
	At   time.Time
	Told bool // any has a time
	Set  bool // any shows one that a set clock can
	// Unset is the middle one of all times where it is that of a clock that was not set,
	// for most are then; zero elsewhere.
	Unset time.Time
}

// TakenAt asks readings when they were taken.
func TakenAt(rs []trace.Reading) (out Taken) {
	all := make([]time.Time, 0, len(rs))
	for i := range rs {
		if t := rs[i].Time; !t.IsZero() {
			all = append(all, t)
		}
	}
	if len(all) == 0 {
		return out
	}
	slices.SortFunc(all, time.Time.Compare)
	out.At, out.Told = all[len(all)/2], true
	if out.At.Year() < LeastYear {
		out.Unset = out.At
	}
	could := slices.DeleteFunc(all, func(t time.Time) bool { return t.Year() < LeastYear || t.Year() >= noYear })
	if n := len(could); n > 0 {
		out.At, out.Set = could[n/2], true
	}
	return out
}

// DatedBy returns the job with the day of its readings as epoch, where neither
// epoch nor date is stated: a frame on a moving plate is decimetres off after ten
// years. The median stands for all, so that a clock that was not set yet counts
// for little.
func DatedBy(j trace.Job, rs []trace.Reading) trace.Job {
	if j.Epoch > 0 || j.Date != "" {
		return j
	}
	if taken := TakenAt(rs); taken.Set {
		j.Epoch = math.Round(DecimalYear(taken.At)*100) / 100
	}
	return j
}

// DecimalYear gives a day as a year with a fraction, to a few hours.
func DecimalYear(t time.Time) float64 {
	t = t.UTC()
	year := time.Date(t.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	return float64(t.Year()) + t.Sub(year).Hours()/24/365.25
}

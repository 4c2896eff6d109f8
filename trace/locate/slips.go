package locate

import (
	"fmt"
	"math"
	"time"

	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/setting"
)

// datesApartD is how far a stated day may lie from the readings' own times: a year's
// slip in either is more, and frames move by centimetres in it. Judgement.
const datesApartD = 300.0

// tellDate tells of a stated day that is not the readings', and of a clock that was
// never set. The day stands for the epoch at which their frame is joined to WGS 84.
func tellDate(s *trace.Sheet, rs []trace.Reading) {
	clock := setting.TakenAt(rs)
	if !clock.Told {
		return
	}
	if !clock.Unset.IsZero() {
		s.Problems = append(s.Problems, trace.Problem{File: s.Name, Field: "time", Value: clock.Unset.Format(time.DateOnly), Warn: true,
			Cause: "the times are those of a clock that was not set", Hint: "set date in the job file; the times give the order of the readings alone"})
		return
	}
	taken := clock.At
	day, err := time.Parse(time.DateOnly, s.Job.Date)
	if err != nil || math.Abs(taken.Sub(day).Hours()) <= datesApartD*24 { // derived: hours of a day
		return
	}
	on := taken.Format(time.DateOnly)
	s.Problems = append(s.Problems, trace.Problem{File: s.Name, Field: "date", Value: s.Job.Date, Warn: true,
		Cause: fmt.Sprintf("the readings say that they were taken on %s", on),
		Hint:  "correct the day, or the receiver's clock; the positions were converted to WGS 84 for the day stated, or for epoch",
		Check: remark.DateDiffers{Stated: s.Job.Date, Read: on}})
}

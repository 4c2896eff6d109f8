package crosscheck

import (
	"fmt"
	"slices"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/setting"
)

// Times that a map can rest on. No clock of the machine decides: the same input gives the
// same map in any year.
const (
	// tellFromM is from what movement of the whole map on it is told: as much as the join
	// of a frame to WGS 84 is good for (geo). Judgement.
	tellFromM = 0.05
	// rolloverD is after how many days the week number of GPS begins anew: 1024 weeks
	// (IS-GPS-200, 20.3.3.3.1.1, from memory).
	rolloverD = 1024 * 7
	// thisProgram is when this was written, and stands for the day of readings that say
	// nothing of it, as in geo for an unstated epoch. Judgement.
	thisProgram = 2026
	// oldestY is how old readings may be that a map is made of now. Judgement.
	oldestY = 3
)

// earliest is before which hardly anybody traced lines by RTK (judgement): the times of a
// receiver whose week began anew lie there. latest is 1024 weeks after the oldest readings
// that are still handed in (derived): times from there on are those of a receiver that
// counted a turn of the weeks too many.
var (
	earliest = time.Date(2010, 1, 1, 0, 0, 0, 0, time.UTC)
	latest   = time.Date(thisProgram-oldestY, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rolloverD)
)

// referenceEpochs are the epochs that frames are named for, which is not when anything was
// measured in them (EPSG's names and remarks, from memory).
var referenceEpochs = []float64{1989, 1994, 1997, 2000, 2010, 2020}

// epoch tells where the time at which the frame is joined to WGS 84 is not that of the
// readings, and moves the map.
func (f *Found) epoch(src trace.Source, frame geo.Frame, home geo.LonLat) {
	clock := setting.TakenAt(src.Readings)
	taken, timed := clock.At, clock.Told
	sane := timed && !taken.Before(earliest) && taken.Before(latest)
	day, err := time.Parse(time.DateOnly, src.Job.Date)
	dated := err == nil
	stated := src.Job.Epoch
	off := func(epoch float64) (m float64, told bool) {
		m = between(frame, home, frame.Epoch, epoch)
		if m < tellFromM {
			return m, false
		}
		f.OffM = max(f.OffM, m)
		return m, true
	}
	switch {
	case stated > 0 && (sane || dated):
		on := day
		if sane {
			on = taken
		}
		if m, told := off(setting.DecimalYear(on)); told {
			f.tell(trace.Problem{File: src.Name, Field: "epoch", Value: fmt.Sprint(stated),
				Cause: fmt.Sprintf("the readings were taken on %s, and the positions are converted to WGS 84 for another time", on.Format(time.DateOnly)),
				Hint:  "epoch is when the positions were taken, not the datum's reference epoch: correct it or leave it out",
				Check: remark.EpochFar{Epoch: stated, Taken: on.Format(time.DateOnly), OffM: m}})
		}
	case stated > 0:
		if stated >= setting.DecimalYear(earliest) && !slices.Contains(referenceEpochs, stated) {
			return
		}
		if m, told := off(thisProgram); told {
			f.tell(trace.Problem{File: src.Name, Field: "epoch", Value: fmt.Sprint(stated),
				Cause: "nothing says that the readings were taken then, and it is a datum's reference epoch, or older than such locates",
				Hint:  "epoch is when the positions were taken, not the datum's reference epoch: correct it, or set date",
				Check: remark.EpochUnheld{Epoch: stated, OffM: m}})
		}
	case dated:
		if sane {
			off(setting.DecimalYear(taken)) // which day is right is asked where both are compared
		}
	case timed && !sane && taken.Year() >= setting.LeastYear:
		maybe := taken.AddDate(0, 0, rolloverD)
		if !taken.Before(latest) {
			maybe = taken.AddDate(0, 0, -rolloverD)
		}
		if m, told := off(setting.DecimalYear(maybe)); told {
			f.tell(trace.Problem{File: src.Name, Field: "time", Value: taken.Format(time.DateOnly),
				Cause: fmt.Sprintf("the times may be those of a clock that is 1024 weeks off: it would then be %s", maybe.Format(time.DateOnly)),
				Hint:  "set date in the job file to the day on which the readings were taken",
				Check: remark.ClockFar{Taken: taken.Format(time.DateOnly), MayBe: maybe.Format(time.DateOnly), OffM: m}})
		}
	}
}

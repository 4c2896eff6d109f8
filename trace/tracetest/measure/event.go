package measure

import (
	"math"

	"loamline.example/trace/tracetest"
)

// event is a dangerous stretch: readings in a row whose mark or depth signal of
// another conductor has displaced.
type event struct {
	fromM, toM float64
	jump       bool
	shiftM     float64 // largest
}

// An event has at least so many readings, over at least so many metres; up to
// two readings in between that are not displaced do not end it.
const (
	eventReadings = 3
	eventM        = 3.0
	eventBreak    = 2
)

func events(rds []tracetest.Reading) []event {
	var out []event
	var cur event
	n, jumped, quiet := 0, 0, 0
	end := func() {
		if n >= eventReadings && cur.toM-cur.fromM >= eventM {
			cur.jump = 2*jumped > n
			out = append(out, cur)
		}
		n, jumped, quiet = 0, 0, 0
	}
	for _, r := range rds {
		t := r.Truth
		if !t.Displaced() {
			if quiet++; quiet > eventBreak {
				end()
			}
			continue
		}
		if n == 0 {
			cur = event{fromM: t.StationM}
		}
		n, quiet, cur.toM = n+1, 0, t.StationM
		jumped += count(t.Jumped)
		cur.shiftM = math.Max(cur.shiftM, math.Abs(t.PeakShiftM-t.CleanShiftM))
	}
	end()
	return out
}

package crosscheck

import (
	"fmt"
	"slices"
	"strconv"

	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/setups"
)

// Frequencies.
const (
	// Lines are traced from the mains of railways, 16.7 Hz, to about 200 kHz (common
	// practice, no source); the rest is room (judgement).
	leastHz, mostHz = 16.0, 500e3
)

// setups tells where a table says otherwise in every one of its rows than the job file says
// of the line, and of frequencies which is not a locating frequency: the unit of the column is wrong.
func (f *Found) setups(src trace.Source) {
	rows := map[string][]*trace.Reading{}
	var lines []string
	for i := range src.Readings {
		r := &src.Readings[i]
		if rows[r.Line] == nil {
			lines = append(lines, r.Line)
		}
		rows[r.Line] = append(rows[r.Line], r)
	}
	for _, line := range lines {
		setup := src.Job.Setup(line)
		f.hookup(src, setup, rows[line])
		f.freq(src, setup, rows[line])
	}
}

func (f *Found) hookup(src trace.Source, setup trace.LineSetup, rs []*trace.Reading) {
	k := slices.IndexFunc(rs, func(r *trace.Reading) bool { return r.Hookup != "" })
	if k < 0 || setup.Hookup == "" || slices.ContainsFunc(rs, func(r *trace.Reading) bool { return r.Hookup == setup.Hookup }) {
		return
	}
	f.tell(trace.Problem{File: src.Inputs[rs[k].File].Name, Row: int(rs[k].Row), Field: "hookup", Value: string(rs[k].Hookup),
		Cause: fmt.Sprintf("the job file gives %s for this line, and none of its rows does; what the rows say was taken", setup.Hookup),
		Hint:  "correct the one that is wrong",
		Check: remark.HookupDiffers{Line: setup.Name, Stated: string(setup.Hookup), Read: string(rs[k].Hookup)}})
}

func (f *Found) freq(src trace.Source, setup trace.LineSetup, rs []*trace.Reading) {
	var known []float64
	first := -1
	for i, r := range rs {
		if trace.Known(r.FreqHz) && r.FreqHz > 0 {
			if known = append(known, r.FreqHz); first < 0 {
				first = i
			}
		}
	}
	if len(known) == 0 {
		return
	}
	at := trace.Problem{File: src.Inputs[rs[first].File].Name, Row: int(rs[first].Row), Field: "freq_hz", Value: hertz(known[0])}
	same := func(hz float64) bool { return setups.SameHz(hz, setup.FreqHz) }
	slices.Sort(known)
	switch usual := known[len(known)/2]; {
	case usual < leastHz || usual > mostHz:
		at.Cause = "this is not a locating frequency, in hertz"
		at.Hint = "check the unit of the column: freq_hz or freq_khz"
		at.Check = remark.FreqOdd{Line: setup.Name, Hz: usual}
	case setup.FreqHz > 0 && !slices.ContainsFunc(known, same):
		at.Cause = fmt.Sprintf("the job file gives %s Hz for this line, and none of its rows does; what the rows say was taken", hertz(setup.FreqHz))
		at.Hint = "correct the one that is wrong"
		at.Check = remark.FreqDiffers{Line: setup.Name, StatedHz: setup.FreqHz, ReadHz: usual}
	default:
		return
	}
	f.tell(at)
}

func hertz(hz float64) string { return strconv.FormatFloat(hz, 'f', -1, 64) } // bits: a bound of the arithmetic

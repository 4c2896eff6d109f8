package bleed

import (
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// notes tells which checks the columns allowed and which they did not.
func (c *columns) notes() []trace.Remark {
	var out []trace.Remark
	say := func(ok bool, check remark.Check) {
		if ok {
			out = append(out, remark.Checked{Check: check})
		} else {
			out = append(out, remark.NotChecked{Check: check})
		}
	}
	if !c.hasD && c.depthsRead() {
		say(false, remark.CheckDepthFew)
	} else {
		say(c.hasD, remark.CheckDepth)
	}
	if c.lnI != nil {
		say(true, remark.CheckCurrentAlone)
	} else if c.hasS && c.currentsNone() {
		say(true, remark.CheckSignal)
		say(false, remark.CheckNoCurrent)
	} else {
		say(c.hasS, remark.CheckCurrent)
	}
	say(c.hasN, remark.CheckNull)
	phase, both := false, false
	for _, r := range c.rd {
		phase = phase || r.Phase != 0
		both = both || r.SignalLow > 0 && r.SignalHigh > 0
	}
	if !phase {
		out = append(out, remark.NotChecked{Check: remark.CheckDirection})
	}
	if !both {
		out = append(out, remark.NotChecked{Check: remark.CheckAntennas})
	}
	return out
}

// depthsRead reports whether there are depths at all, those that were left out among them:
// that too few could be used is then not for want of a column.
func (c *columns) depthsRead() bool {
	return slices.ContainsFunc(c.rd, func(r reading) bool { return r.DepthDropped || trace.Known(r.DepthM) })
}

// currentsNone reports whether currents were read and none of them is above zero: nothing
// can be checked by them, though there is a column.
func (c *columns) currentsNone() bool {
	read := false
	for _, r := range c.rd {
		if r.CurrentMA > 0 {
			return false
		}
		read = read || trace.Known(r.CurrentMA)
	}
	return read
}

// advice tells what to try next where something was found.
func (c *columns) advice(found []Stretch) []trace.Remark {
	worst := trace.Grade("")
	for _, s := range found {
		if s.Grade != trace.GradeWatch {
			worst = trace.GradeSuspect
		} else if worst == "" {
			worst = trace.GradeWatch
		}
	}
	if worst == "" {
		return nil
	}
	r := c.rd[len(c.rd)/2]
	var out []trace.Remark
	if r.Hookup != trace.HookupDirect {
		out = append(out, remark.TryDirect)
	}
	if !(r.FreqHz < receiver.LowerFreqHz) {
		out = append(out, remark.TryLowerFreq)
	}
	if worst == trace.GradeSuspect {
		out = append(out, remark.TryOtherEnd, remark.TryIsolate)
	}
	return append(out, remark.TryPothole)
}

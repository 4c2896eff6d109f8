package bleed

import "loamline/trace"

// notes tells which checks the columns allowed and which they did not.
func (c *columns) notes() []string {
	var out []string
	say := func(ok bool, done, not string) {
		if ok {
			out = append(out, done)
		} else {
			out = append(out, not)
		}
	}
	say(c.hasD, "Depth was checked against its trend along the line.",
		"Depth could not be checked: no depth column.")
	say(c.hasS, "Current and signal were checked against their trend along the line.",
		"Current could not be checked: no current or signal column.")
	say(c.hasN, "Peak and null were compared.",
		"Peak and null could not be compared: no null offset column.")
	phase, both := false, false
	for _, r := range c.rd {
		phase = phase || r.Phase != 0
		both = both || r.SignalLow > 0 && r.SignalHigh > 0
	}
	if !phase {
		out = append(out, "Current direction could not be checked: no phase column.")
	}
	if !both {
		out = append(out, "Air coupling could not be checked by antenna ratio: no columns for both antennas.")
	}
	return out
}

// advice tells what to try next where something was found.
func (c *columns) advice(found []Stretch) []string {
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
	var out []string
	if r.Hookup != trace.HookupDirect {
		out = append(out, "Trace again with a direct connection, where the owner allows it.")
	}
	if !(r.FreqHz < 2000) {
		out = append(out, "Trace again at a lower frequency: less signal leaks onto neighbours.")
	}
	if worst == trace.GradeSuspect {
		out = append(out, "Trace again from the other end or another access point; the mark should not move.",
			"Ask the owner to isolate the far-end ground or the common bond while you trace.")
	}
	return append(out, "Pothole by hand or vacuum before you rely on position or depth here.")
}

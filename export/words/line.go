package words

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"loamline.example/export/literal"
	"loamline.example/export/style"
	"loamline.example/geo"
	"loamline.example/trace"
)

// LineTitle names a line with its utility in words and letters, so that colour
// is never needed: "W-1, potable water (W)".
func LineTitle(l trace.LineSetup) string {
	st := style.Of(l.Utility)
	return l.Name + ", " + st.Name + " (" + st.Code + ")"
}

// Setup tells what is known of the line itself, or an empty string:
// "diameter 6 in, ductile iron, direct hookup, 8 kHz".
func Setup(u geo.Units, l trace.LineSetup) string {
	var w []string
	if trace.Known(l.DiameterM) && l.DiameterM > 0 {
		w = append(w, "diameter "+u.Short(l.DiameterM))
	}
	if l.Material != "" {
		w = append(w, l.Material)
	}
	if l.Hookup != "" {
		w = append(w, hookupWords(l.Hookup))
	}
	if trace.Known(l.FreqHz) && l.FreqHz > 0 {
		w = append(w, freqWords(l.FreqHz))
	}
	return strings.Join(w, ", ")
}

// hookupWords tells how the signal got onto the line.
func hookupWords(h trace.Hookup) string {
	switch h {
	case trace.HookupDirect:
		return "direct hookup"
	case trace.HookupClamp:
		return "clamp"
	case trace.HookupInduction:
		return "induction"
	case trace.HookupPassive:
		return "passive signal"
	case "":
		return "hookup not stated"
	}
	return string(h)
}

// freqWords tells a locating frequency: "512 Hz", "8 kHz", "32.8 kHz".
func freqWords(freqHz float64) string {
	if freqHz < 1000 {
		return literal.Trim(freqHz, 0) + " Hz"
	}
	return literal.Trim(freqHz/1000, 1) + " kHz"
}

var measuredFrom = map[string]string{
	trace.FromEdge:       ", measured from the outer edge (half the diameter is included)",
	trace.FromCenterline: ", measured from the centerline",
}

// Zone tells by which rule a tolerance zone is drawn.
func Zone(u geo.Units, z trace.Zone) string {
	s := u.ShortUp(z.HalfWidthM) + " to each side of the drawn line"
	return s + measuredFrom[z.MeasuredFrom] + namedRule(ZoneRule(u, z)) + "."
}

// ZoneRule is the rule by which a zone is drawn: as the job states it, or what is done
// where it states none.
func ZoneRule(u geo.Units, z trace.Zone) string {
	rule := z.Rule
	if rule == "" {
		rule = "no rule was named: common best practice of 18 in from the outer edge unless set otherwise; local law takes precedence"
	}
	if z.AssumedDiameterM > 0 {
		rule += fmt.Sprintf("; the line's diameter is not known and is taken as %s", u.Fine(z.AssumedDiameterM))
	}
	return rule
}

// namedRule names the rule of a zone and says that it is not the last word.
func namedRule(rule string) string {
	s := ""
	if rule != "" {
		s = "; rule: " + rule
	}
	if !strings.Contains(strings.ToLower(rule), "local law") {
		s += "; local law takes precedence"
	}
	return s
}

// CautionZone tells what a caution zone is.
func CautionZone(u geo.Units, z trace.Zone) string {
	s := "The tolerance zone, widened place by place by what the readings leave open across the line"
	if trace.Known(z.Confidence) && z.Confidence > 0 {
		s += " (" + literal.Trim(z.Confidence*100, 0) + " %)"
	}
	s += " and by any suspected displacement. The line may lie outside it."
	if doubt := DatumDoubt(u, z); doubt != "" {
		s += " " + doubt
	}
	return s
}

// DatumDoubt tells what an unstated datum, or a frame that is joined to WGS 84
// coarsely, could mean for a zone; nothing where there is no such doubt.
func DatumDoubt(u geo.Units, z trace.Zone) string {
	if !(z.DoubtM > 0) {
		return ""
	}
	if z.DoubtStated && z.DoubtDatum == "" {
		return "Nothing says which foot the positions were converted to: the whole map may lie " + u.ShortUp(z.DoubtM) + " off, and this zone does not cover that."
	}
	if z.DoubtStated {
		return "The frame of the positions, " + z.DoubtDatum + ", converts to WGS 84 only to within about " + u.ShortUp(z.DoubtM) + ": the whole map may lie that far off, and this zone does not cover that."
	}
	if z.DoubtOpen() {
		return "The datum of the positions was not stated: the whole map may lie " + u.ShortUp(z.DoubtM) + " off or more, and this zone does not cover that."
	}
	return "The datum of the positions was not stated: if they came in " + z.DoubtDatum + ", the whole map lies about " +
		u.ShortUp(z.DoubtM) + " off, and this zone does not cover that."
}

// Status tells what became of a reading.
func Status(st trace.Status) string {
	switch st {
	case trace.StatusUsed:
		return "used"
	case trace.StatusSetAside:
		return "set aside"
	case trace.StatusCheck:
		return "lift check, not a point of the line"
	case trace.StatusExposed:
		return "exposed and measured"
	}
	return string(st)
}

// roleTitles are the roles of what is drawn in plain words; a vertex has none, for no
// list of people's shows it, and findings have theirs in finding_*.go.
var roleTitles = map[string]string{
	trace.RoleCenterline:    "Traced line",
	trace.RoleToleranceZone: "Tolerance zone",
	trace.RoleCautionZone:   "Caution zone",
	trace.RoleReading:       "Readings",
}

// RoleTitle is a role in plain words, for folders, tables and legends.
func RoleTitle(role string) string {
	return cmp.Or(roleTitles[role], kinds[role].title, strings.ReplaceAll(role, "_", " "))
}

func DocumentName(s *trace.Sheet) string {
	name := s.Name
	if s.Job.Area != "" {
		name += ": " + s.Job.Area
	}
	if s.Job.Ticket != "" {
		name += " (ticket " + s.Job.Ticket + ")"
	}
	return name
}

// Ledger accounts for every row that came in.
func Ledger(c trace.Counts) string {
	n := strconv.Itoa
	return n(c.Rows) + " rows in: " + n(c.Used) + " used, " + n(c.SetAside) + " set aside, " + n(c.Check) +
		" check, " + n(c.Exposed) + " exposed, " + n(c.Unreadable) + " unreadable"
}

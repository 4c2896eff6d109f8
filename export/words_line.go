package export

import (
	"strings"

	"loamline/geo"
	"loamline/trace"
)

// LineTitle names a line with its utility in words and letters, so that colour
// is never needed: "W-1, potable water (W)".
func LineTitle(l trace.LineSetup) string {
	st := StyleOf(l.Utility)
	return l.Name + ", " + st.Name + " (" + st.Code + ")"
}

// SetupWords tells what is known of the line itself, or an empty string:
// "diameter 6 in, ductile iron, direct hookup, 8 kHz".
func SetupWords(u geo.Units, l trace.LineSetup) string {
	var w []string
	if trace.Known(l.DiameterM) && l.DiameterM > 0 {
		w = append(w, "diameter "+u.Short(l.DiameterM))
	}
	if l.Material != "" {
		w = append(w, l.Material)
	}
	if l.Hookup != "" {
		w = append(w, HookupWords(l.Hookup))
	}
	if trace.Known(l.FreqHz) && l.FreqHz > 0 {
		w = append(w, FreqWords(l.FreqHz))
	}
	return strings.Join(w, ", ")
}

// HookupWords tells how the signal got onto the line.
func HookupWords(h trace.Hookup) string {
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

// FreqWords tells a tracing frequency: "512 Hz", "8 kHz", "32.8 kHz".
func FreqWords(freqHz float64) string {
	if freqHz < 1000 {
		return trimFloat(freqHz, 0) + " Hz"
	}
	return trimFloat(freqHz/1000, 1) + " kHz"
}

// ZoneWords tells by which rule a tolerance zone is drawn.
func ZoneWords(u geo.Units, z trace.Zone) string {
	s := u.Short(z.HalfWidthM) + " to each side of the drawn line"
	switch z.MeasuredFrom {
	case "edge":
		s += ", measured from the outer edge (half the diameter is included)"
	case "centerline":
		s += ", measured from the centerline"
	}
	return s + ruleWords(z.Rule) + "."
}

// ruleWords names the rule of a zone and says that it is not the last word.
func ruleWords(rule string) string {
	s := ""
	if rule != "" {
		s = "; rule: " + rule
	}
	if !strings.Contains(strings.ToLower(rule), "local law") {
		s += "; local law decides"
	}
	return s
}

// CautionZoneWords tells what a caution zone is.
func CautionZoneWords(z trace.Zone) string {
	s := "The tolerance zone, widened place by place by what the position may be off"
	if trace.Known(z.Confidence) && z.Confidence > 0 {
		s += " (" + trimFloat(z.Confidence*100, 0) + " %)"
	}
	s += " and by any suspected displacement. The line may lie outside it."
	if doubt := DatumDoubtWords(z); doubt != "" {
		s += " " + doubt
	}
	return s
}

// DatumDoubtWords tells what an unstated datum could mean for a zone, or
// nothing where it was stated.
func DatumDoubtWords(z trace.Zone) string {
	if !(z.DoubtM > 0) {
		return ""
	}
	datum := z.DoubtDatum
	if datum == "" {
		datum = "a national frame"
	}
	return "The datum of the positions was not stated: if they came in " + datum + ", the whole map lies about " +
		trimFloat(z.DoubtM, 1) + " m off, and this zone does not cover that."
}

// StatusWords tells what became of a reading.
func StatusWords(st trace.Status) string {
	switch st {
	case trace.StatusUsed:
		return "used"
	case trace.StatusSetAside:
		return "set aside"
	case trace.StatusCheck:
		return "raised as a check, not a point of the line"
	case trace.StatusExposed:
		return "exposed and measured"
	}
	return string(st)
}

// RoleTitle is a role in plain words, for folders, tables and legends.
func RoleTitle(role string) string {
	switch role {
	case "centerline":
		return "Traced line"
	case "tolerance_zone":
		return "Tolerance zone"
	case "caution_zone":
		return "Caution zone"
	case "bleed_over":
		return "Suspected bleed-over"
	case "gap":
		return "Not traced"
	case "doubt":
		return "In doubt"
	case "reading":
		return "Readings"
	case "crossing":
		return "Crossings"
	case "field_check":
		return "Checks made in the field"
	case "exposed_check":
		return "Exposed places"
	case "record_difference":
		return "Differences from the records"
	}
	return strings.ReplaceAll(role, "_", " ")
}

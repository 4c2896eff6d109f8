package words

import (
	"slices"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// notChecked is what could not be checked for bleed-over, and for want of what, in the
// trade's words.
var notChecked = map[remark.Check]string{
	remark.CheckDepth:     "depth against its trend along the line (no depth column)",
	remark.CheckDepthFew:  "depth against its trend along the line (fewer than three depths could be used)",
	remark.CheckCurrent:   "current against its trend along the line (no current or signal column)",
	remark.CheckNoCurrent: "current against its trend along the line (no current above zero)",
	remark.CheckNull:      "peak against null (no null offset column)",
	remark.CheckDirection: "current direction (no phase column)",
	remark.CheckAntennas:  "air coupling (no columns for both antennas)",
}

// NotChecked says which checks for bleed-over could not be made on a sheet, and what
// that means; nothing where all were.
func NotChecked(s *trace.Sheet) string {
	var order []remark.Check
	lines := map[remark.Check][]string{}
	drawn := 0
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Centerline != nil {
			drawn++
		}
		for _, r := range l.Checked {
			if c, not := r.(remark.NotChecked); not && !slices.Contains(lines[c.Check], l.Setup.Name) {
				if lines[c.Check] == nil {
					order = append(order, c.Check)
				}
				lines[c.Check] = append(lines[c.Check], l.Setup.Name)
			}
		}
	}
	if len(order) == 0 {
		return ""
	}
	var out []string
	for _, c := range order {
		on := ""
		if len(lines[c]) < drawn {
			on = " on " + strings.Join(lines[c], ", ")
		}
		out = append(out, "Not checked"+on+": "+notChecked[c]+".")
	}
	return strings.Join(append(out, "Another line's signal may have gone unseen."), " ")
}

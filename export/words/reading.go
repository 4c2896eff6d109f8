package words

import (
	"fmt"
	"math"
	"strconv"

	"loamline.example/export/literal"
	"loamline.example/geo"
	"loamline.example/trace"
)

// Tolerance tells how wide the tolerance zone is and by which rule, or an empty
// string where none is stated.
func Tolerance(u geo.Units, t trace.Tolerance) string {
	if !(t.HalfWidthM > 0) {
		return ""
	}
	from := "the outer edge"
	if t.MeasuredFrom == trace.FromCenterline {
		from = "the centerline"
	}
	return HalfWidth(u, t.HalfWidthM) + " to each side, measured from " + from + namedRule(t.Rule)
}

// HalfWidth words the half-width of a rule as rules have it: whole inches stay inches,
// 18 in and not 1.5 ft. Any other is rounded up: a limit is never less than it is.
func HalfWidth(u geo.Units, m float64) string {
	if in := m / geo.InchM; u == geo.US && in <= 36 && math.Abs(in-math.Round(in)) < 0.01 {
		return strconv.Itoa(int(math.Round(in))) + " in"
	}
	return u.ShortUp(m)
}

// RowCounts is the ledger of a map in one line.
func RowCounts(c trace.Counts) string {
	return fmt.Sprintf("%d rows read: %d used, %d set aside, %d lift checks, %d exposed, %d unreadable",
		c.Rows, c.Used, c.SetAside, c.Check, c.Exposed, c.Unreadable)
}

// ReadingCounts is the ledger of one line.
func ReadingCounts(c trace.Counts) string {
	return fmt.Sprintf("%d readings: %d used, %d set aside, %d lift checks, %d exposed", c.Rows, c.Used, c.SetAside, c.Check, c.Exposed)
}

// Reading tells what became of a reading, what the receiver showed and where it
// lies, a sentence each.
func Reading(u geo.Units, r *trace.Reading, date string) []string {
	var w []string
	if r.Reason != nil {
		w = append(w, Capital(Remark(u, r.Reason)))
	}
	if trace.Known(r.DepthM) {
		on := onDate(ReadingDay(r, date))
		if r.Status == trace.StatusExposed {
			w = append(w, "Depth to centre measured in the open: "+u.Short(r.DepthM)+on)
		} else {
			w = append(w, "Receiver showed depth to centre "+u.Short(r.DepthM)+" (one reading)"+on+"; expose to verify")
		}
	}
	if trace.Known(r.CurrentMA) {
		w = append(w, "Current "+literal.Trim(r.CurrentMA, 1)+" mA")
	}
	if trace.Known(r.RaiseM) && r.RaiseM > 0 {
		w = append(w, "Receiver lifted by "+u.Short(r.RaiseM))
	}
	if trace.Known(r.StationM) && trace.Known(r.OffsetM) {
		if nothing(u.Short, r.OffsetM) {
			return append(w, "At "+u.Long(r.StationM)+", on the line")
		}
		w = append(w, "At "+u.Long(r.StationM)+", "+u.Short(math.Abs(r.OffsetM))+" "+sideOf(r.OffsetM)+" of the line")
	}
	return w
}

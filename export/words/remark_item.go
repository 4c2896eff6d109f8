package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loamline.example/export/style"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// itemRemark says what is to be checked at one place.
func itemRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.BleedItem:
		return bleedItem(u, r), true
	case remark.AlsoWithin:
		if !trace.Known(r.Part.FromM) {
			return Remark(u, r.First) + " " + Remark(u, r.Why), true
		}
		return Remark(u, r.First) + fmt.Sprintf(" From %s to %s: %s", u.Long(r.Part.FromM), u.Long(r.Part.ToM), Remark(u, r.Why)), true
	case remark.AtPlaces:
		return atPlaces(u, r), true
	case remark.InDoubt:
		return fmt.Sprintf("%s to %s: no accuracy is stated, because all of it is in doubt.", u.Long(r.FromM), u.Long(r.ToM)), true
	}
	return "", false
}

// atPlaces says what the worst of many places shows, and where they all are.
func atPlaces(u geo.Units, r remark.AtPlaces) string {
	var at []string
	for _, p := range r.Places {
		at = append(at, "from "+Range(u, p.FromM, p.ToM))
	}
	if r.Line == "" && len(at) == 1 {
		return fmt.Sprintf("From %s to %s: %s", u.Long(r.Places[0].FromM), u.Long(r.Places[0].ToM), Remark(u, r.Worst))
	}
	if r.Line == "" {
		return fmt.Sprintf("%d places in it, at worst: %s These are: %s.", len(at), Remark(u, r.Worst), strings.Join(at, "; "))
	}
	return fmt.Sprintf("%s, %d places, at worst: %s Find the line there before digging: %s.", r.Line, len(at), Remark(u, r.Worst), strings.Join(at, "; "))
}

// bleedItem says what is suspected, what to expose, and how to find the line again.
func bleedItem(u geo.Units, r remark.BleedItem) string {
	var where []string
	for _, p := range r.Stretches {
		where = append(where, u.Long(p.FromM)+" to "+u.Long(p.ToM))
	}
	out := r.Line + ", " + strings.Join(where, " and ") + ": " + suspicion(u, r)
	for _, d := range r.Likely {
		out += " " + displaced(u, d)
	}
	for _, b := range r.Blocks {
		out += " " + Remark(u, b)
	}
	for _, name := range r.Also {
		out += " The signal of " + InText(name) + " may mix in too."
	}
	switch within := reach(u, r.Reach); {
	case within != "":
		out += " Expose before digging " + within + "."
		for _, o := range r.Reach.Open {
			out += " From " + u.Long(o.FromM) + " to " + u.Long(o.ToM) + " the line is in doubt besides: nothing says how far off it may lie there."
		}
	case r.Grade == "" && len(r.Jumps) > 0 && r.Jumps[0].Branch:
		out += " Expose before digging: if it follows another line, nothing says how far off this one may lie."
	default:
		out += " Expose before digging: nothing says how far off the line may lie."
	}
	if trace.Known(r.LeavesM) {
		out += fmt.Sprintf(" Find %s again: connect to it alone, trace on from %s and see which way it goes.", r.Line, u.Long(r.LeavesM))
	}
	return out
}

// displaced says to which side the line probably lies, and how far.
func displaced(u geo.Units, d remark.Displaced) string {
	s := fmt.Sprintf("he line probably lies %s to the %s of the paint.", Shift(u, d.ShiftM, d.Shift95M), d.Side)
	if d.All {
		return "T" + s
	}
	return fmt.Sprintf("From %s to %s t", u.Long(d.FromM), u.Long(d.ToM)) + s
}

// suspicion is what is suspected, never surer than the evidence is.
func suspicion(u geo.Units, r remark.BleedItem) string {
	var out []string
	if r.Grade != "" {
		from := "no known line there"
		if r.From != "" {
			from = "perhaps from " + InText(r.From) + whichLine(u, r.Of)
		}
		where := ""
		if r.Graded.ToM > r.Graded.FromM {
			where = " from " + u.Long(r.Graded.FromM) + " to " + u.Long(r.Graded.ToM)
		}
		out = append(out, Grade(r.Grade)+where+", "+from+".")
	}
	for _, j := range r.Jumps {
		other, why := InText(j.Onto), ""
		if other == "" {
			other, why = "another line", ", or the line has an offset made with fittings there"
		}
		if j.Branch {
			why = ", or a branch that is on no map leaves it there"
		}
		may := fmt.Sprintf("the trace may follow %s instead of its own line%s.", other, why)
		if r.Grade != "" || j.Onto != "" && !j.All {
			may = fmt.Sprintf("From %s to %s ", u.Long(j.FromM), u.Long(j.ToM)) + may
		}
		out = append(out, may)
		if j.Either {
			out = append(out, Remark(u, remark.OrNeighborHere{Neighbor: j.Onto}))
		}
	}
	return strings.Join(out, " ")
}

// whichLine is what is known of a line on record that may mix in, in brackets: what it is,
// and where it lies.
func whichLine(u geo.Units, n remark.Neighbor) string {
	if !n.Record {
		return ""
	}
	var is []string
	if n.Utility != "" {
		is = append(is, style.Of(n.Utility).Name)
	}
	is = append(is, "from records")
	if n.Side != "" && n.AsideM > 0 {
		is = append(is, "about "+u.Short(n.AsideM)+" to the "+string(n.Side))
	}
	return " (" + strings.Join(is, "; ") + ")"
}

// reach says how far the zone reaches: "within 0.61 m of the mark", with a range where
// it differs along the stretch, and by sides where they differ.
func reach(u geo.Units, r remark.Reach) string {
	if !r.Known {
		return ""
	}
	s := "within " + reachSpan(u, r.RightM) + " to the right of the paint and " + reachSpan(u, r.LeftM) + " to its left"
	if sidesAlike(r) {
		s = "within " + reachSpan(u, widerSide(r)) + " of the paint"
	}
	if spans(u, r) {
		s += byPlace
	}
	if len(r.FartherAtM) > 0 {
		at := make([]string, len(r.FartherAtM))
		for i, m := range r.FartherAtM {
			at[i] = u.Long(m)
		}
		s += ", and farther near " + strings.Join(at, " and ")
	}
	return s
}

// byPlace says why a range is told, and which of its ends holds for who cannot tell.
const byPlace = " (varies along the line)"

// spans reports whether a side that is told is told as a range.
func spans(u geo.Units, r remark.Reach) bool {
	sides := [][2]float64{r.RightM, r.LeftM}
	if sidesAlike(r) {
		sides = [][2]float64{widerSide(r)}
	}
	return slices.ContainsFunc(sides, func(m [2]float64) bool { return strings.Contains(reachSpan(u, m), " to ") })
}

// sidesAlike reports that both sides are told by the wider.
func sidesAlike(r remark.Reach) bool {
	return math.Abs(r.LeftM[0]-r.RightM[0]) < alikeM && math.Abs(r.LeftM[1]-r.RightM[1]) < alikeM
}

func widerSide(r remark.Reach) [2]float64 {
	return [2]float64{max(r.LeftM[0], r.RightM[0]), max(r.LeftM[1], r.RightM[1])}
}

// alikeRel is up to what ratio the greater of two widths stands for both.
const alikeRel = 1.2

// reachSpan words a width that goes from one to another, both rounded up.
func reachSpan(u geo.Units, m [2]float64) string {
	most := u.ShortUp(m[1])
	if m[1] <= alikeRel*m[0] {
		return most
	}
	least := u.ShortUp(m[0])
	if least == most {
		return most
	}
	return strings.TrimSuffix(least, " m") + " to " + most // feet and inches keep their units
}

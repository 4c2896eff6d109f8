package words

import (
	"fmt"
	"slices"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// likeKind is a kind of item that is told once for all places of it.
type likeKind struct {
	head, tail string
	// place is a line and the place on it, and whether an item is of the kind.
	place func(geo.Units, trace.Remark) (line, at string, ok bool)
}

// likeKinds are the kinds of which a job often has many. What a place of them asks for
// beside its figures is in the words of its kind.
var likeKinds = []likeKind{
	{"not traced: ", ". Find the line there before digging.", gapPlace},
	{"lines cross: ", ". Expose both by hand.", crossingPlace},
	{"a known line that was not located here crosses or comes close. Locate it, and expose both by hand: ", ".", knownPlace},
	{"a known line that was not located here crosses or comes close, and possible bleed-over from it. Locate it, and expose both by hand before digging within these distances of the paint: ", ".", watchedKnownPlace},
	{"possible bleed-over. Expose before digging within these distances of the paint: ", ".", watchedPlace},
	{"nothing bounds the error of the positions, and the whole line may lie this far off: ", ". Measure from the paint, not from the map.", unboundedPlace},
}

// Grouped words the check list with the places of a kind together, each with all its
// figures, where the first of them stands: nothing is left out.
func Grouped(u geo.Units, list []trace.Advice) []string {
	members := map[int][]int{}
	for i, a := range list {
		if k := likeKindOf(u, a.Remark); k >= 0 {
			members[k] = append(members[k], i)
		}
	}
	same := sameWords(u, list)
	var out []string
	for i, a := range list {
		if o, ok := a.Remark.(remark.OnLine); ok && len(same[Remark(u, o.What)]) > 1 {
			if of := same[Remark(u, o.What)]; of[0] == i {
				out = append(out, strings.Join(placesOf(u, list, of), "; ")+": "+Remark(u, o.What))
			}
			continue
		}
		k := likeKindOf(u, a.Remark)
		switch {
		case k < 0 || len(members[k]) == 1:
			out = append(out, Remark(u, a.Remark))
		case members[k][0] == i:
			out = append(out, likeItem(u, likeKinds[k], list, members[k]))
		}
	}
	return out
}

// sameWords are the items on lines by what they say of them, where no kind above tells
// them together.
func sameWords(u geo.Units, list []trace.Advice) map[string][]int {
	out := map[string][]int{}
	for i, a := range list {
		if o, ok := a.Remark.(remark.OnLine); ok && likeKindOf(u, a.Remark) < 0 {
			out[Remark(u, o.What)] = append(out[Remark(u, o.What)], i)
		}
	}
	return out
}

// placesOf names the lines and stations of items: "A; B, 12.0 m".
func placesOf(u geo.Units, list []trace.Advice, members []int) []string {
	out := make([]string, len(members))
	for n, i := range members {
		o := list[i].Remark.(remark.OnLine)
		out[n] = o.Line
		if trace.Known(o.StationM) {
			out[n] += ", " + u.Long(o.StationM)
		}
	}
	return out
}

func likeKindOf(u geo.Units, r trace.Remark) int {
	return slices.IndexFunc(likeKinds, func(k likeKind) bool { _, _, ok := k.place(u, r); return ok })
}

// likeItem tells all places of a kind, by lines.
func likeItem(u geo.Units, kind likeKind, list []trace.Advice, members []int) string {
	var lines []string
	at := map[string][]string{}
	for _, i := range members {
		line, place, _ := kind.place(u, list[i].Remark)
		if at[line] == nil {
			lines = append(lines, line)
		}
		at[line] = append(at[line], place)
	}
	for i, line := range lines {
		lines[i] = line + " " + strings.Join(at[line], "; ")
	}
	tail := kind.tail
	if slices.ContainsFunc(members, func(i int) bool { return rangeTold(u, list[i].Remark) }) {
		tail += " A range depends on the place; if in doubt, take the larger figure."
	}
	return fmt.Sprintf("%d × %s%s%s", len(members), kind.head, strings.Join(lines, "; "), tail)
}

// rangeTold reports whether an item of a list of several tells a range of distances.
func rangeTold(u geo.Units, r trace.Remark) bool {
	switch r := r.(type) {
	case remark.BleedItem:
		return r.Reach.Known && spans(u, r.Reach)
	case remark.WatchedCrossing:
		return r.Reach.Known && spans(u, r.Reach)
	}
	return false
}

func gapPlace(u geo.Units, r trace.Remark) (string, string, bool) {
	l, ok := r.(remark.LookAt)
	if !ok {
		return "", "", false
	}
	f, ok := l.Finding.(finding.Gap)
	return l.Line, Range(u, f.FromM, f.ToM), ok && trace.Known(f.FromM) && len(l.Within) == 0
}

func crossingPlace(u geo.Units, r trace.Remark) (string, string, bool) {
	l, ok := r.(remark.LookAt)
	if !ok {
		return "", "", false
	}
	f, ok := l.Finding.(finding.Crossing)
	return l.Line, "and " + f.Other + " at " + u.Long(f.StationM), ok && !f.OnRecord() && f.SeparationM == 0
}

// watchedPlace is a stretch on which bleed-over is possible and nothing else is told.
func watchedPlace(u geo.Units, r trace.Remark) (string, string, bool) {
	b, ok := r.(remark.BleedItem)
	if !ok || b.Grade != trace.GradeWatch || len(b.Jumps)+len(b.Blocks)+len(b.Also) > 0 || !b.Reach.Known || trace.Known(b.LeavesM) {
		return "", "", false
	}
	var where []string
	for _, p := range b.Stretches {
		where = append(where, Range(u, p.FromM, p.ToM))
	}
	from := "no known line there"
	if b.From != "" {
		from = "perhaps from " + InText(b.From)
	}
	return b.Line, strings.Join(where, " and ") + " (" + from + ") " + ReachBriefly(u, b.Reach), true
}

// ReachBriefly is how far a zone reaches in a list of several.
func ReachBriefly(u geo.Units, r remark.Reach) string {
	far, left := reachSpan(u, r.RightM), reachSpan(u, r.LeftM)
	switch {
	case left == far:
	case sidesAlike(r):
		far = reachSpan(u, widerSide(r))
	default:
		far += " right, " + left + " left"
	}
	for _, m := range r.FartherAtM {
		far += ", farther near " + u.Long(m)
	}
	return far
}

// knownPlace is where a line on record meets the trace, of which nothing else is told.
func knownPlace(u geo.Units, r trace.Remark) (string, string, bool) {
	l, ok := r.(remark.LookAt)
	if !ok {
		return "", "", false
	}
	f, ok := l.Finding.(finding.Crossing)
	return knownPair(l.Line, f), knownAt(u, f), ok && f.OnRecord() && !(f.DoubtM > 0)
}

// watchedKnownPlace is one from which signal may mix in as well.
func watchedKnownPlace(u geo.Units, r trace.Remark) (string, string, bool) {
	w, ok := r.(remark.WatchedCrossing)
	if !ok || w.Watched.Grade != trace.GradeWatch || !w.Reach.Known || w.Crossing.DoubtM > 0 {
		return "", "", false
	}
	return knownPair(w.Line, w.Crossing), knownAt(u, w.Crossing) + " (signal from " + Range(u, w.Watched.FromM, w.Watched.ToM) + ") " + ReachBriefly(u, w.Reach), true
}

func knownPair(line string, f finding.Crossing) string {
	return fmt.Sprintf("%s and '%s' (%s)", line, f.Other, f.Source)
}

func knownAt(u geo.Units, f finding.Crossing) string {
	if f.SeparationM > 0 {
		return "within " + u.Short(f.SeparationM) + " at " + u.Long(f.StationM)
	}
	return "at " + u.Long(f.StationM)
}

func unboundedPlace(u geo.Units, r trace.Remark) (string, string, bool) {
	l, ok := r.(remark.OnLine)
	if !ok || trace.Known(l.StationM) {
		return "", "", false
	}
	p, ok := l.What.(remark.PositionsUnbounded)
	return l.Line, u.Short(p.OffM), ok
}

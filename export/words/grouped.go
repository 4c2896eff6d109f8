package words

import (
	"fmt"
	"slices"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
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
	{"possible bleed-over. Expose before digging within these distances of the mark: ", ".", watchedPlace},
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
	var out []string
	for i, a := range list {
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
	return fmt.Sprintf("%d × %s%s%s", len(members), kind.head, strings.Join(lines, "; "), kind.tail)
}

func gapPlace(u geo.Units, r trace.Remark) (string, string, bool) {
	l, ok := r.(remark.LookAt)
	if !ok {
		return "", "", false
	}
	f, ok := l.Finding.(trace.Gap)
	return l.Line, Range(u, f.FromM, f.ToM), ok && trace.Known(f.FromM)
}

func crossingPlace(u geo.Units, r trace.Remark) (string, string, bool) {
	l, ok := r.(remark.LookAt)
	if !ok {
		return "", "", false
	}
	f, ok := l.Finding.(trace.Crossing)
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
		from = "perhaps from " + b.From
	}
	far := reachSpan(u, b.Reach.RightM)
	if left := reachSpan(u, b.Reach.LeftM); left != far {
		far += " right, " + left + " left"
	}
	for _, m := range b.Reach.FartherAtM {
		far += ", farther close to " + u.Long(m)
	}
	return b.Line, strings.Join(where, " and ") + " (" + from + ") " + far, true
}

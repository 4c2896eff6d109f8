package summary

import (
	"fmt"
	"slices"
	"strings"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// checkKind is what of the check list is of one kind, in the order of the list: worded
// in full, with all figures and what to do, and ever shorter.
type checkKind struct {
	texts [shortest + 1][]string
	keep  bool // the first sentence says where not to dig, and is given up last
}

// How an item is worded.
const (
	inFull        = iota
	firstSentence // of a kind with one item; of several their places
	figuresAlone  // where not to dig, without words
	placesAlone   // what it is and where, on one row
	shortest      = placesAlone
)

// checkKinds parts the advice, the most important first, by kinds.
func checkKinds(s *trace.Sheet, list []trace.Advice) []checkKind {
	u := s.Job.Units
	var out []checkKind
	for len(list) > 0 {
		title := checkTitle(list[0])
		n := 1
		for n < len(list) && checkTitle(list[n]) == title {
			n++
		}
		full, places := words.Grouped(u, list[:n]), []string{placesOf(u, title, list[:n])}
		k := checkKind{texts: [...][]string{full, places, places, places}}
		if n == 1 {
			k.texts[firstSentence] = []string{upToFullStop(full[0], namesIn(s))}
			if list[0].Line == "" { // which the title alone does not tell
				k.texts[figuresAlone], k.texts[placesAlone] = k.texts[firstSentence], k.texts[firstSentence]
			}
		}
		if briefs, figures := wherePaintMisleads(u, list[:n]); briefs != nil {
			k.texts[firstSentence], k.texts[figuresAlone], k.keep = briefs, figures, true
		}
		if list[0].Kind == trace.AdviseFrame { // what it means for whoever measures comes second
			first := k.texts[firstSentence][0]
			k.texts[firstSentence] = []string{first + upToFullStop(strings.TrimPrefix(full[0], first), namesIn(s))}
		}
		out = append(out, k)
		list = list[n:]
	}
	return out
}

// toRepeat words the checks made in the field that could tell nothing, which end the list.
func toRepeat(s *trace.Sheet, again []finding.FieldCheck) checkKind {
	u := s.Job.Units
	var full, places []string
	for _, f := range again {
		full = append(full, words.LookAt(u, f))
		places = append(places, f.Line+" "+u.Long(f.StationM))
	}
	told := places[:min(len(places), maxNamed)]
	short := Plural(len(again), "field check") + " to make again: " + strings.Join(told, ", ")
	if more := len(places) - len(told); more > 0 {
		short += fmt.Sprintf("; %d more", more)
	}
	brief := []string{short}
	return checkKind{texts: [...][]string{full, brief, brief, brief}}
}

// wherePaintMisleads words suspicions with the side on which the line probably lies and
// how far to keep off, and nothing else, in sentences and in figures; nil where one of a
// list is none, or only to be watched.
func wherePaintMisleads(u geo.Units, list []trace.Advice) (briefs, figures []string) {
	for _, a := range list {
		b, ok := a.Remark.(remark.BleedItem)
		if !ok || b.Grade == trace.GradeWatch && len(b.Jumps) == 0 {
			return nil, nil
		}
		figures = append(figures, inFigures(u, a, b))
		b.Blocks, b.Also, b.LeavesM = nil, nil, trace.Unknown
		a.Remark = b
		briefs = append(briefs, words.Item(u, a))
	}
	return briefs, figures
}

// inFigures is what a suspicion says of where not to dig: "in doubt: A 12.0 to 34.5 m;
// probably 0.53 m ± 0.51 to the left; expose within 1.47 m right, 2.40 m left".
func inFigures(u geo.Units, a trace.Advice, b remark.BleedItem) string {
	title, _, _ := strings.Cut(checkTitle(a), ",")
	out := title + ": " + placeOf(u, a)
	for _, d := range b.Likely {
		out += "; probably " + words.Shift(u, d.ShiftM, d.Shift95M) + " to the " + string(d.Side)
		if !d.All {
			out += " from " + words.Range(u, d.FromM, d.ToM)
		}
	}
	if b.Reach.Known {
		out += "; expose within " + words.ReachBriefly(u, b.Reach)
	}
	return out
}

// checkTitles are the kinds of advice in a few words.
var checkTitles = map[trace.AdviceKind]string{
	trace.AdviseNoLine:   "no line could be drawn",
	trace.AdviseGap:      "not traced",
	trace.AdviseDoubt:    "do not trust the line",
	trace.AdviseExposed:  "exposed elsewhere than traced",
	trace.AdviseCrossing: "lines cross or come close, expose both",
	trace.AdviseCheck:    "field checks that did not pass",
	trace.AdviseRecord:   "records lie elsewhere",
	trace.AdviseAccuracy: "positions or depths are worse than they look",
	trace.AdviseFrame:    "the whole map may lie off",
	trace.AdviseInput:    "rows that cannot be right or could not be read",
}

func checkTitle(a trace.Advice) string {
	if b, ok := a.Remark.(remark.BleedItem); ok {
		if len(b.Jumps) > 0 {
			return "may follow another line, expose before digging"
		}
		return words.Grade(b.Grade) + ", expose before digging"
	}
	switch a.Remark.(type) {
	case remark.ColumnUnknown, remark.ColumnUnit, remark.ColumnLost: // one word in the header mends it
		return "columns that were not read"
	}
	if title, ok := checkTitles[a.Kind]; ok {
		return title
	}
	return strings.ToLower(words.RoleTitle(string(a.Kind)))
}

// namesIn are the names of a job that may have a full stop in them.
func namesIn(s *trace.Sheet) (out []string) {
	for i := range s.Lines {
		out = append(out, s.Lines[i].Setup.Name)
	}
	for i := range s.Records {
		out = append(out, s.Records[i].Name, s.Records[i].Source)
	}
	for _, in := range s.Inputs {
		out = append(out, in.Name)
	}
	return out
}

// upToFullStop is a text up to the first full stop that is not in a name.
func upToFullStop(text string, names []string) string {
	for at := 0; ; {
		n := strings.Index(text[at:], ". ")
		if n < 0 {
			return text
		}
		at += n + 1
		if !slices.ContainsFunc(names, func(name string) bool { return endsWithin(text, at, name) }) {
			return text[:at]
		}
	}
}

// endsWithin reports whether a place of a text lies inside a name that stands there.
func endsWithin(text string, at int, name string) bool {
	for from := max(0, at-len(name)+1); from < at && name != ""; from++ {
		if strings.HasPrefix(text[from:], name) {
			return true
		}
	}
	return false
}

// placesOf names the places of a kind on one line, as many as it holds, and counts the
// others.
func placesOf(u geo.Units, title string, list []trace.Advice) string {
	text := title
	if len(list) > 1 {
		text = fmt.Sprintf("%d × %s", len(list), title)
	}
	last, between := "", ": "
	for i, a := range list {
		place := placeOf(u, a)
		if place == "" {
			continue
		}
		part := between + place
		if a.Line == last && i > 0 {
			part = ", " + strings.TrimPrefix(place, a.Line+" ")
		}
		if more := fmt.Sprintf("; %d more", len(list)-i); i > 0 && columns(checkIndent+text+part+more) > screenColumns {
			return text + more
		}
		text += part
		last, between = a.Line, "; "
	}
	return text
}

// placeOf is the line and the place on it that a piece of advice is about.
func placeOf(u geo.Units, a trace.Advice) string {
	switch {
	case a.Line == "":
		return ""
	case a.Kind == trace.AdviseCrossing && trace.Known(a.AtM):
		return a.Line + " " + u.Long(a.AtM)
	case !trace.Known(a.FromM):
		return a.Line
	case len(a.Places) > 0:
		var at []string
		for i, p := range a.Places {
			if slices.ContainsFunc(a.Places[:i], func(o [2]float64) bool { return o[0] <= p[0] && p[1] <= o[1] }) {
				continue // what lies in a place is told with it
			}
			at = append(at, words.Range(u, p[0], p[1]))
		}
		return a.Line + " " + strings.Join(at, ", ")
	case a.FromM < 0:
		return a.Line + " before its start"
	case a.FromM == a.ToM:
		return a.Line + " " + u.Long(a.FromM)
	}
	return a.Line + " " + words.Range(u, a.FromM, a.ToM)
}

// checkIndent begins an item of a list on the terminal.
const checkIndent = "  - "

// fitChecks words the check list in so many rows of a screen: in full where that fits,
// else shorter from its end on, which weighs least, and its head last: what is found out
// before where not to dig. It reports whether
// all is in full, and whether what says where not to dig says how far from the paint.
func fitChecks(kinds []checkKind, rows int) (texts []string, whole, kept bool) {
	level, taken := make([]int, len(kinds)), 0
	taking := make([][]int, len(kinds)) // rows, by kind and level
	for i, k := range kinds {
		for _, list := range k.texts {
			taking[i] = append(taking[i], listRows(list))
		}
		taken += taking[i][inFull]
	}
	set := func(i, to int) {
		taken += taking[i][to] - taking[i][level[i]]
		level[i] = to
	}
	shorten := func(to int, may func(i int) bool) {
		for i := len(kinds) - 1; i >= 0 && taken > rows; i-- {
			if may(i) && taking[i][to] < taking[i][level[i]] {
				set(i, to)
			}
		}
	}
	// restore gives back what was given up in vain: room that is left in the end.
	restore := func(may func(i int) bool) {
		for i := range kinds {
			given := level[i]
			for least := range given {
				if set(i, least); may(i) && taken <= rows {
					break
				}
				set(i, given)
			}
		}
	}
	shorten(firstSentence, func(i int) bool { return i > 0 })
	shorten(firstSentence, func(i int) bool { return i == 0 })
	shorten(figuresAlone, func(i int) bool { return kinds[i].keep })
	shorten(placesAlone, func(i int) bool { return !kinds[i].keep })
	shorten(placesAlone, func(i int) bool { return kinds[i].keep })
	restore(func(i int) bool { return kinds[i].keep })
	restore(func(i int) bool { return true })
	whole, kept = true, true
	for i, k := range kinds {
		texts = append(texts, k.texts[level[i]]...)
		whole = whole && level[i] == inFull
		kept = kept && !(k.keep && level[i] == placesAlone)
	}
	return texts, whole, kept
}

// listRows is how many rows of a screen the items of a list take.
func listRows(items []string) (rows int) {
	for _, text := range items {
		rows += screenRows(checkIndent + OnOneLine(text))
	}
	return rows
}

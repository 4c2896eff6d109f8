package summary

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// Whole prints all that is known of a job: what --verbose asks for.
func Whole(to io.Writer, s *trace.Sheet, written []string) {
	k, w := inkFor(to), &strings.Builder{}
	headline(w, s)
	fmt.Fprintf(w, "  %s\n", s.Frame.In(s.Job.Units))
	for i := range s.Lines {
		tellLine(w, k, s, &s.Lines[i])
	}
	list(w, "Checked", sharedWords(s, func(l *trace.Line) []trace.Remark { return checksMade(l, true) }))
	list(w, "Not checked, so that another line's signal may have gone unseen", sharedWords(s, func(l *trace.Line) []trace.Remark { return checksMade(l, false) }))
	list(w, "What could settle a doubt", sharedWords(s, func(l *trace.Line) []trace.Remark { return l.TryNext }))
	fmt.Fprintln(w)
	zoneLine(w, s)
	ledgerLine(w, s)
	tellReasons(w, s)
	list(w, "Problems in the input", problemWords(words.Problems(s)))
	var checks []string
	for _, a := range advice.MostImportantFirst(s) {
		checks = append(checks, words.Item(s.Job.Units, a))
	}
	for _, f := range advice.ToRepeat(s) {
		checks = append(checks, words.LookAt(s.Job.Units, f))
	}
	ending(w, k, checkHead(checks, len(checks), true), checks, true, written)
	Write(to, w.String())
}

// lineHead tells what a line is, how long, how sure, and on how many readings.
func lineHead(w io.Writer, k ink, s *trace.Sheet, l *trace.Line) {
	u := s.Job.Units
	c := trace.CountReadings(l.Readings)
	fmt.Fprintf(w, "\n  %s (%s): ", OnOneLine(l.Setup.Name), utilityOf(l))
	if l.Centerline == nil {
		fmt.Fprint(w, k.in(inkStop, "NO LINE COULD BE DRAWN"))
	} else {
		fmt.Fprintf(w, "%s traced", u.Long(l.Centerline.TracedM()))
		fmt.Fprintf(w, ", %s", words.PositionRange(u, l))
		fmt.Fprintf(w, "\n    %s", words.Sentence(words.DepthRange(u, l, words.JobDate(s))))
	}
	fmt.Fprintf(w, "\n    readings: %d used, %d set aside, %d check, %d exposed\n", c.Used, c.SetAside, c.Check, c.Exposed)
}

// tellLine tells all that is known of one line.
func tellLine(w io.Writer, k ink, s *trace.Sheet, l *trace.Line) {
	u := s.Job.Units
	lineHead(w, k, s, l)
	if l.Centerline != nil {
		for _, n := range words.Remarks(u, l.Centerline.Notes) {
			fmt.Fprintf(w, "    note: %s\n", n)
		}
	}
	for _, n := range words.Remarks(u, l.Statements) {
		fmt.Fprintf(w, "    accuracy: %s\n", n)
	}
	for _, f := range worstFirst(l.Findings) {
		for _, text := range findingLines(u).Of(f) {
			fmt.Fprintf(w, "    %s\n", OnOneLine(text))
		}
	}
	var crossings []string
	for _, c := range finding.CrossedBy(s, l.Setup.Name) {
		crossings = append(crossings, words.FindingTitle(u, c))
	}
	if len(crossings) > 0 {
		fmt.Fprintf(w, "    %s\n", OnOneLine(strings.Join(crossings, "; ")))
	}
}

// checksMade are the checks that were made on a line, or those that its table has nothing for.
func checksMade(l *trace.Line, made bool) (out []trace.Remark) {
	for _, r := range l.Checked {
		if _, not := r.(remark.NotChecked); not != made {
			out = append(out, r)
		}
	}
	return out
}

// worstFirst are findings in the order in which they cost a line its trust.
func worstFirst(findings []trace.Finding) []trace.Finding {
	rank := func(f trace.Finding) int {
		if i := slices.Index(doubtOrder, doubts.Of(f).words); i >= 0 {
			return i
		}
		if f.NeedsEyes() {
			return len(doubtOrder)
		}
		return len(doubtOrder) + 1
	}
	out := slices.Clone(findings)
	slices.SortStableFunc(out, func(a, b trace.Finding) int { return rank(a) - rank(b) })
	return out
}

// sharedWords are the remarks that several lines may have word for word, each told once
// with the lines that it is about; those about the same lines stand together.
func sharedWords(s *trace.Sheet, of func(*trace.Line) []trace.Remark) []string {
	var texts []string
	about := map[string][]string{}
	for i := range s.Lines {
		for _, text := range words.Remarks(s.Job.Units, of(&s.Lines[i])) {
			if len(about[text]) == 0 {
				texts = append(texts, text)
			}
			about[text] = append(about[text], s.Lines[i].Setup.Name)
		}
	}
	var groups []string
	said := map[string][]string{}
	for _, text := range texts {
		group := "all lines"
		if len(about[text]) < len(s.Lines) || len(s.Lines) == 1 {
			group = strings.Join(about[text], ", ")
		}
		if len(said[group]) == 0 {
			groups = append(groups, group)
		}
		said[group] = append(said[group], text)
	}
	for i, g := range groups {
		groups[i] = g + ": " + strings.Join(said[g], " ")
	}
	return groups
}

// maxListed bounds a list that a broken file can make as long as itself; the
// map carries it whole.
const maxListed = 200

// tellReasons tells why readings were set aside or lost their depth.
func tellReasons(w io.Writer, s *trace.Sheet) {
	var said []string
	for _, r := range words.Reasons(s) {
		said = append(said, fmt.Sprintf("%d × %s (%s)", r.N, r.Why, rowsWords(s, r.Rows)))
	}
	list(w, "Set aside, or used without their depth", said)
}

func problemWords(ps []trace.Problem) []string {
	out := make([]string, len(ps))
	for i := range ps {
		out[i] = ps[i].Error()
	}
	return out
}

func list(w io.Writer, title string, items []string) {
	if len(items) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s:\n", title)
	for i, it := range items {
		if i == maxListed {
			fmt.Fprintf(w, "  … and %d more, all in the GeoJSON\n", len(items)-maxListed)
			return
		}
		fmt.Fprintf(w, "  - %s\n", OnOneLine(it))
	}
}

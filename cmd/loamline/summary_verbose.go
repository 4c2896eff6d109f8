package main

import (
	"fmt"
	"io"

	"loamline.example/export/words"
	"loamline.example/trace"
)

// summarizeAll prints all that is known of a job: what --verbose asks for.
func summarizeAll(w io.Writer, s *trace.Sheet, written []string) {
	k := inkFor(w)
	summaryHead(w, s)
	fmt.Fprintf(w, "  %s\n", s.Frame)
	for i := range s.Lines {
		tellLine(w, k, s, &s.Lines[i])
	}
	zoneLine(w, s)
	ledgerLine(w, s)
	tellReasons(w, s)
	list(w, "Problems in the input", problemWords(words.Problems(s)))
	summaryEnd(w, k, s, written)
}

// lineHead tells what a line is, how long, how sure, and on how many readings.
func lineHead(w io.Writer, k ink, s *trace.Sheet, l *trace.Line) {
	u := s.Job.Units
	c := trace.CountReadings(l.Readings)
	fmt.Fprintf(w, "\n  %s (%s): ", onOneLine(l.Setup.Name), utilityOf(l))
	if l.Centerline == nil {
		fmt.Fprint(w, k.in(inkStop, "NO LINE COULD BE DRAWN"))
	} else {
		fmt.Fprintf(w, "%s traced", u.Long(l.Centerline.TracedM()))
		if lo, hi, ok := bandRange(l.Centerline); ok {
			fmt.Fprintf(w, ", position ± %s to ± %s (95 %%) from the readings", words.ShortUp(u, lo), words.ShortUp(u, hi))
			if l.Caution.DoubtM > 0 {
				fmt.Fprintf(w, ", and %s from the datum", words.ShortUp(u, l.Caution.DoubtM))
			}
		}
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
	for _, f := range l.Findings {
		for _, text := range findingLines(u).Of(f) {
			fmt.Fprintf(w, "    %s\n", onOneLine(text))
		}
	}
	for _, c := range s.CrossedBy(l.Setup.Name) {
		fmt.Fprintf(w, "    %s\n", words.FindingTitle(u, c))
	}
	for _, n := range words.Remarks(u, l.Checked) {
		fmt.Fprintf(w, "    check: %s\n", n)
	}
	for _, n := range words.Remarks(u, l.Statements) {
		fmt.Fprintf(w, "    accuracy: %s\n", n)
	}
	for _, n := range words.Remarks(u, l.TryNext) {
		fmt.Fprintf(w, "    to settle it: %s\n", n)
	}
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
		fmt.Fprintf(w, "  - %s\n", onOneLine(it))
	}
}

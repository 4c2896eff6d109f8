package main

import (
	"fmt"
	"io"

	"loamline/export/words"
	"loamline/trace"
)

// maxListed is how many problems or reasons the terminal shows; the files carry
// them all.
const maxListed = 12

// maxHeads is how many lines are told by their head where there are more than
// maxListed.
const maxHeads = 60

// summarize prints what a person needs before opening the map.
func summarize(w io.Writer, s *trace.Sheet, written []string) {
	u := s.Job.Units
	var tracedM float64
	drawn := 0
	for _, l := range s.Lines {
		if l.Centerline != nil {
			tracedM += l.Centerline.TracedM()
			drawn++
		}
	}
	fmt.Fprintf(w, "%s: %s drawn of %d, %s traced\n", s.Name, plural(drawn, "line"), len(s.Lines), u.Long(tracedM))
	fmt.Fprintf(w, "  %s\n", s.Frame)
	for i, l := range s.Lines {
		switch {
		case len(s.Lines) <= maxListed:
			summarizeLine(w, s, l)
		case i < maxHeads:
			lineHead(w, s, l)
		case i == maxHeads:
			fmt.Fprintf(w, "\n  … and %d more lines, all in the GeoJSON\n", len(s.Lines)-i)
		}
	}
	c := s.Counts
	fmt.Fprintf(w, "\nRows read: %d = %d used + %d set aside + %d check + %d exposed + %d unreadable\n",
		c.Rows, c.Used, c.SetAside, c.Check, c.Exposed, c.Unreadable)
	summarizeReasons(w, s)
	list(w, "Problems in the input", problemWords(s.Problems))
	list(w, "Check before digging", s.AdviceWords())
	fmt.Fprintf(w, "\nPositions are approximate and depths are estimates: call before you dig, dig by hand in the zone, expose to verify. Local law decides.\n")
	for _, f := range written {
		fmt.Fprintf(w, "wrote %s\n", f)
	}
}

// lineHead tells what a line is, how long, how sure, and on how many readings.
func lineHead(w io.Writer, s *trace.Sheet, l trace.Line) {
	u := s.Job.Units
	c := trace.CountReadings(l.Readings)
	utility := l.Setup.Utility
	if utility == "" {
		utility = trace.UnknownKind
	}
	fmt.Fprintf(w, "\n  %s (%s): ", l.Setup.Name, utility)
	if l.Centerline == nil {
		fmt.Fprintf(w, "NO LINE COULD BE DRAWN")
	} else {
		fmt.Fprintf(w, "%s traced", u.Long(l.Centerline.TracedM()))
		if lo, hi, ok := bandRange(l.Centerline); ok {
			fmt.Fprintf(w, ", position ± %s to ± %s (95 %%)", u.Fine(lo), u.Fine(hi))
		}
	}
	fmt.Fprintf(w, "\n    readings: %d used, %d set aside, %d check, %d exposed\n", c.Used, c.SetAside, c.Check, c.Exposed)
}

func summarizeLine(w io.Writer, s *trace.Sheet, l trace.Line) {
	u := s.Job.Units
	lineHead(w, s, l)
	if l.Centerline != nil {
		for _, n := range l.Centerline.Notes {
			fmt.Fprintf(w, "    note: %s\n", n)
		}
	}
	for _, f := range l.Findings {
		for _, text := range findingLines(u).Of(f) {
			fmt.Fprintf(w, "    %s\n", text)
		}
	}
	for _, c := range s.CrossedBy(l.Setup.Name) {
		fmt.Fprintf(w, "    %s\n", words.FindingTitle(u, c))
	}
	for _, n := range l.Checked {
		fmt.Fprintf(w, "    check: %s\n", n)
	}
	for _, n := range l.Statements {
		fmt.Fprintf(w, "    accuracy: %s\n", n)
	}
	for _, n := range l.TryNext {
		fmt.Fprintf(w, "    to settle it: %s\n", n)
	}
}

// bandRange returns the least and the greatest 95 % half-width along a line.
func bandRange(c *trace.Centerline) (lo, hi float64, ok bool) {
	for _, p := range c.Parts {
		for _, v := range p.Vertices {
			if b := v.Horizontal95M; trace.Known(b) {
				if !ok || b < lo {
					lo = b
				}
				if !ok || b > hi {
					hi = b
				}
				ok = true
			}
		}
	}
	return lo, hi, ok
}

// summarizeReasons tells why readings were set aside or lost their depth.
func summarizeReasons(w io.Writer, s *trace.Sheet) {
	var words []string
	for _, r := range s.Reasons() {
		words = append(words, fmt.Sprintf("%d × %s", r.N, r.Why))
	}
	list(w, "Set aside, or used without their depth", words)
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
		fmt.Fprintf(w, "  - %s\n", it)
	}
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

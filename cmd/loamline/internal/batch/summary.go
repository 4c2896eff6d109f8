package batch

import (
	"fmt"
	"io"
	"text/tabwriter"
)

// maxRows is how many jobs the table lists; the log has them all.
const maxRows = 60

// Tally counts jobs by what became of them.
type Tally struct{ Made, Unchanged, Failed, Stopped, NeedEyes, FrameOpen, Rows int }

// Tally counts.
func (r Report) Tally() Tally {
	var t Tally
	for i := range r.Entries {
		e := &r.Entries[i]
		switch e.Status {
		case Made:
			t.Made++
		case Unchanged:
			t.Unchanged++
		case Failed:
			t.Failed++
		default:
			t.Stopped++
		}
		if e.NeedsEyes && e.Status != Failed {
			t.NeedEyes++
		}
		if e.FrameDoubtM > 0 && e.Status != Failed {
			t.FrameOpen++
		}
		t.Rows += e.Counts.Rows
	}
	return t
}

// Summary prints the table of jobs. Where there are more than it can hold, those
// that failed come before those to look at, and these before the rest.
func (r Report) Summary(w io.Writer, oneLine func(string) string) {
	shown := r.shown()
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "job\tstatus\treadings\tused\tlines drawn\ttraced\tto check\tseconds")
	for _, i := range shown {
		e := &r.Entries[i]
		if e.Status == Failed || e.Status == Stopped {
			fmt.Fprintf(t, "%s\t%s\t–\t–\t–\t–\t–\t%.1f\n", oneLine(e.Job), e.Status, e.Seconds)
			continue
		}
		fmt.Fprintf(t, "%s\t%s\t%d\t%d\t%d of %d\t%.0f m\t%d\t%.1f\n", oneLine(e.Job), e.Status, e.Counts.Rows, e.Counts.Used,
			e.Drawn, e.Lines, e.TracedM, e.ToCheck, e.Seconds)
	}
	t.Flush()
	if more := len(r.Entries) - len(shown); more > 0 {
		fmt.Fprintf(w, "… and %d more jobs; the log has them all\n", more)
	}
	for _, i := range shown {
		if e := &r.Entries[i]; e.Status == Failed {
			fmt.Fprintf(w, "\n%s: %s\n", oneLine(e.Job), e.Error)
		}
	}
	for k, p := range r.PassedOver {
		if k == 0 {
			fmt.Fprintln(w, "\nPassed over, for loamline wrote them beside a map:")
		}
		if k == maxRows {
			fmt.Fprintf(w, "  … and %d more\n", len(r.PassedOver)-k)
			break
		}
		fmt.Fprintf(w, "  %s\n", oneLine(p))
	}
	c := r.Tally()
	jobs := fmt.Sprintf("%d jobs", len(r.Entries))
	if len(r.Entries) == 1 {
		jobs = "1 job"
	}
	fmt.Fprintf(w, "\n%s: %d made, %d unchanged, %d failed", jobs, c.Made, c.Unchanged, c.Failed)
	if c.Stopped > 0 {
		fmt.Fprintf(w, ", %d not begun or stopped", c.Stopped)
	}
	fmt.Fprintf(w, "; %d readings; %d to look at before anybody digs by them\n", c.Rows, c.NeedEyes)
	if c.FrameOpen > 0 {
		fmt.Fprintf(w, "%d may lie off as a whole, by their datum: measure from the paint, not from these maps\n", c.FrameOpen)
	}
	fmt.Fprintf(w, "log: %s\n", r.Log)
}

// shown are the entries that the table lists, in the order of the jobs.
func (r Report) shown() []int {
	rank := func(e *Entry) int {
		switch {
		case e.Status == Failed:
			return 0
		case e.NeedsEyes:
			return 1
		}
		return 2
	}
	room := maxRows
	chosen := make([]bool, len(r.Entries))
	for want := 0; want <= 2; want++ {
		for i := range r.Entries {
			if room > 0 && rank(&r.Entries[i]) == want {
				chosen[i], room = true, room-1
			}
		}
	}
	var out []int
	for i, yes := range chosen {
		if yes {
			out = append(out, i)
		}
	}
	return out
}

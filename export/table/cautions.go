package table

import (
	"bufio"
	"fmt"
	"io"

	"loamline.example/export/words"
	"loamline.example/trace"
)

// Cautions writes what stands beside the tables, in plain text: a comment line
// inside them would be taken for their header by most programs that read CSV.
func Cautions(w io.Writer, s *trace.Sheet) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "These words belong to %[1]s-lines.csv, %[1]s-stakeout.csv, %[1]s-readings.csv and %[1]s-records.csv: pass them on together.\n", s.Name)
	if said := s.Frame.In(s.Job.Units); said != "" {
		fmt.Fprintf(b, "\n%s\n", said)
	}
	if said := s.OutputWords.In(s.Job.Units); said != "" {
		fmt.Fprintf(b, "\n%s\n", said)
	}
	textList(b, "Cautions", words.Cautions(s))
	textList(b, "Check before digging", words.Advice(s))
	return b.Flush()
}

func textList(w io.Writer, title string, items []string) {
	if len(items) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s:\n", title)
	for _, it := range items {
		fmt.Fprintf(w, "- %s\n", it)
	}
}

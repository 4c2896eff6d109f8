package summary

import (
	"fmt"
	"strings"

	"loamline.example/export/words"
	"loamline.example/trace"
)

// maxRuns is how many runs of rows are named; the table of readings has every row.
const maxRuns = 12

// rowsWords names rows of the tables, in their order: "lines 44–46, 53, 54". Where a
// job has several tables each is named.
func rowsWords(s *trace.Sheet, rows []words.RowOf) string {
	tables := 0
	for _, in := range s.Inputs {
		if in.Kind == trace.InputTable {
			tables++
		}
	}
	var parts []string
	runs, named := 0, 0
	for i := 0; i < len(rows) && runs < maxRuns; runs++ {
		to := i
		for to+1 < len(rows) && rows[to+1].File == rows[i].File && rows[to+1].Row == rows[to].Row+1 {
			to++
		}
		if to == i+1 {
			to = i // two rows are named one by one
		}
		text := fmt.Sprint(rows[i].Row)
		if to > i {
			text += fmt.Sprintf("–%d", rows[to].Row)
		}
		if f := rows[i].File; tables > 1 && (i == 0 || f != rows[i-1].File) {
			text = "of " + OnOneLine(s.Inputs[f].Name) + " " + text
		}
		parts = append(parts, text)
		named += to - i + 1
		i = to + 1
	}
	text := "lines "
	if len(rows) == 1 {
		text = "line "
	}
	text += strings.Join(parts, ", ")
	if more := len(rows) - named; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

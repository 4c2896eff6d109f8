package jobs

import (
	"fmt"
	"slices"

	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/tables"
)

// stateColumns takes what a request says about columns, beyond what the job file
// said, as said by a person about this job. What contradicts an answer given
// before is refused: one of the two must be taken back.
func (j *Job) stateColumns(columns map[string]string) (changed bool, err error) {
	for _, ours := range sortedKeys(columns) {
		theirs := columns[ours]
		if j.Settings.Columns[ours] == theirs {
			continue
		}
		if !tables.IsColumnName(ours) {
			return false, problem.Refuse(problem.Problem{Field: "columns." + ours, Cause: "no column of a readings table has this name"})
		}
		for i := range j.Files {
			f := &j.Files[i]
			if f.Table == nil {
				continue
			}
			k := slices.IndexFunc(f.Table.Columns, func(c tables.ColumnView) bool { return tables.FoldHeader(c.Header) == tables.FoldHeader(theirs) })
			if k < 0 {
				continue
			}
			header := f.Table.Columns[k].Header
			if old := f.Table.Answers[header]; old != "" && old != ours {
				return false, problem.Refuse(problem.Problem{File: f.Name, Field: header, Value: ours, Cause: fmt.Sprintf("this job already says that this column is %s (%s), and the request says %s (%s)", old, tables.ColumnWords(old), ours, tables.ColumnWords(ours)),
					Hint: "change the answer first, or leave the column out of the request"})
			}
			t := *f.Table
			t.Answers = map[string]string{header: ours}
			for h, n := range f.Table.Answers {
				t.Answers[h] = n
			}
			f.Table = &t
		}
		changed = true
	}
	return changed || len(columns) != len(j.Settings.Columns), nil
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

package words

import (
	"cmp"
	"slices"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Reason is why a reading was set aside or what was dropped from it, and without its
// particulars, which differ from row to row: what to count rows by.
func Reason(u geo.Units, r *trace.Reading) (why, head string) {
	why = Remark(u, r.Reason)
	return why, reasonHead(why)
}

func reasonHead(why string) string {
	head, _, _ := strings.Cut(why, ":")
	head, _, _ = strings.Cut(head, " (")
	return head
}

// ReasonCount is how many readings share a reason, and which.
type ReasonCount struct {
	Why  string
	N    int
	Rows []RowOf // N of them, in the order of the files
}

// RowOf is a row of a table: the table's index into the job's inputs, and the line on
// which the row starts.
type RowOf struct{ File, Row int32 }

// Reasons counts why readings were set aside or lost their depth, the most
// frequent reason first.
func Reasons(s *trace.Sheet) []ReasonCount {
	rows := map[string][]RowOf{}
	for _, l := range s.Lines {
		for i := range l.Readings {
			r := &l.Readings[i]
			aside := r.Status == trace.StatusSetAside
			if !aside && (!r.DepthDropped || r.Status == trace.StatusCheck) {
				continue
			}
			_, head := Reason(s.Job.Units, r)
			if !aside {
				head = "depth left out, position used: " + head
			}
			rows[head] = append(rows[head], RowOf{r.File, r.Row})
		}
	}
	out := make([]ReasonCount, 0, len(rows))
	for why, at := range rows {
		slices.SortFunc(at, func(a, b RowOf) int {
			return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
		})
		out = append(out, ReasonCount{why, len(at), at})
	}
	slices.SortFunc(out, func(a, b ReasonCount) int {
		return cmp.Or(b.N-a.N, cmp.Compare(a.Why, b.Why))
	})
	return out
}

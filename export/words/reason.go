package words

import (
	"cmp"
	"slices"
	"strings"

	"loamline/geo"
	"loamline/trace"
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

// ReasonCount is how many readings share a reason.
type ReasonCount struct {
	Why string
	N   int
}

// Reasons counts why readings were set aside or lost their depth, the most
// frequent reason first.
func Reasons(s *trace.Sheet) []ReasonCount {
	counts := map[string]int{}
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
			counts[head]++
		}
	}
	out := make([]ReasonCount, 0, len(counts))
	for why, n := range counts {
		out = append(out, ReasonCount{why, n})
	}
	slices.SortFunc(out, func(a, b ReasonCount) int {
		return cmp.Or(b.N-a.N, cmp.Compare(a.Why, b.Why))
	})
	return out
}

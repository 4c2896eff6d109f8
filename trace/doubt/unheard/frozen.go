package unheard

import (
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// ButFrozen is what is advised of a line but for depths that stay at one figure where the
// receiver held all of its figures: among what was found on the line is then that nothing
// shows that it was heard on the same rows, which says more.
func ButFrozen(advised []trace.Advice, found []trace.Finding) []trace.Advice {
	return slices.DeleteFunc(slices.Clone(advised), func(a trace.Advice) bool {
		on, _ := a.Remark.(remark.OnLine)
		frozen, ok := on.What.(remark.DepthsFrozen)
		return ok && slices.ContainsFunc(found, func(f trace.Finding) bool {
			d, _ := f.(finding.Doubt)
			why, ok := d.Why.(remark.Unheard)
			// The first of them shows its figures for the first time.
			return ok && why.Held && why.FromRow <= frozen.Row && frozen.Row <= why.ToRow && frozen.N <= why.N+1
		})
	})
}

package pdf

import (
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
)

// numberFindings gives the findings the numbers of the items of what to check, in whose
// order they stand: what is one item has one number on the plan, and what asks nothing has
// none. A check in the field that asks to be made again follows them.
func (j *drawnJob) numberFindings() {
	j.items = advice.MostImportantFirst(j.s)
	no := len(j.items)
	for k, a := range j.items {
		for i := range j.findings {
			if n := &j.findings[i]; n.no == 0 && advice.IsAbout(a, n.Finding) {
				n.no = k + 1
			}
		}
	}
	for i := range j.findings {
		n := &j.findings[i]
		if n.no > 0 || !n.NeedsEyes() && !inconclusive(n.Finding) {
			continue
		}
		if !inconclusive(n.Finding) {
			n.no = j.numberOfItemWith(n.Finding)
		}
		if n.no == 0 {
			no++
			n.no = no
		}
	}
	slices.SortStableFunc(j.findings, func(a, b numbered) int {
		switch {
		case a.no == b.no:
			return 0
		case a.no == 0 || b.no != 0 && a.no > b.no:
			return 1
		}
		return -1
	})
}

// inconclusive reports a check made in the field that asks to be made again: it says
// nothing against the map, and is still to do.
func inconclusive(f trace.Finding) bool {
	c, ok := f.(finding.FieldCheck)
	return ok && c.Outcome == trace.OutcomeInconclusive
}

// afterItems are what has a number of its own behind those of the items, so that none
// stands on a plan that no list has: the checks in the field that ask to be made again.
func (j *drawnJob) afterItems() (out []numbered) {
	for _, n := range j.findings {
		if n.no > len(j.items) {
			out = append(out, n)
		}
	}
	return out
}

// numberOfItemWith is the number of the item that a finding was put with: the first
// one on its line that its stretch lies in, of a kind that takes others in.
func (j *drawnJob) numberOfItemWith(f trace.Finding) int {
	holds := func(line string, fromM, toM float64) int {
		for k, a := range j.items {
			if a.Line == line && (a.Kind == trace.AdviseBleed || a.Kind == trace.AdviseDoubt || a.Kind == trace.AdviseCrossing) && fromM <= a.ToM && toM >= a.FromM {
				return k + 1
			}
		}
		return 0
	}
	from, to := f.Span()
	if no := holds(f.OnLine(), from, to); no > 0 {
		return no
	}
	if c, ok := f.(finding.Crossing); ok && !c.OnRecord() {
		return holds(c.Other, c.OtherStationM, c.OtherStationM)
	}
	return 0
}

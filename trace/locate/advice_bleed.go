package locate

import (
	"cmp"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/zones"
)

// bleedItem is one thing to check: suspicions of one line that overlap, and what
// belongs to them.
type bleedItem struct {
	lead   finding.BleedOver   // the gravest: the item is about it
	all    []finding.BleedOver // by station
	parts  [][2]float64        // of a stretch to be watched: what no graver item and no doubt covers; all of it where empty
	beside [][2]float64        // graver items that a stretch to be watched meets
	blocks []finding.Doubt     // blocks of readings set aside where the trace jumped
	also   []string            // lines whose signal is to be watched on the same stretch
	// inDoubt says of a stretch that the line is in doubt on all of it, so that nothing
	// bounds how far off it may lie; open are the parts where it is, of a graver one.
	inDoubt bool
	open    [][2]float64
}

func (i bleedItem) span() (fromM, toM float64) {
	fromM, toM = i.lead.FromM, i.lead.ToM
	for _, b := range i.all {
		fromM, toM = min(fromM, b.FromM), max(toM, b.ToM)
	}
	return fromM, toM
}

// stretches are where the item asks for care.
func (i bleedItem) stretches() [][2]float64 {
	if len(i.parts) > 0 {
		return i.parts
	}
	from, to := i.span()
	return [][2]float64{{from, to}}
}

// advice is one piece for each stretch that asks for care, so that what its fields say
// is what its words say. A suspicion is told with each that it reaches.
func (i bleedItem) advice(l trace.Line) []trace.Advice {
	var out []trace.Advice
	for _, p := range i.stretches() {
		part := i
		if len(i.parts) > 0 {
			part.parts = [][2]float64{p}
			part.all = slices.DeleteFunc(slices.Clone(i.all), func(b finding.BleedOver) bool { return b.FromM >= p[1] || b.ToM <= p[0] })
		}
		out = append(out, trace.Advice{Line: l.Setup.Name, FromM: p[0], ToM: p[1], LeadM: [2]float64{i.lead.FromM, i.lead.ToM},
			Kind: trace.AdviseBleed, Remark: part.remark(l)})
	}
	return out
}

// remark is what is suspected, what to expose, and how to find the line again; never
// surer than the evidence is.
func (i bleedItem) remark(l trace.Line) remark.BleedItem {
	out := remark.BleedItem{Line: i.lead.Line, LeavesM: trace.Unknown, Also: i.also, Reach: i.reach(l)}
	for _, p := range i.stretches() {
		out.Stretches = append(out.Stretches, remark.Stretch{FromM: p[0], ToM: p[1]})
	}
	for _, d := range i.blocks {
		out.Blocks = append(out.Blocks, d.Why)
	}
	from, to := i.span()
	told, branch := false, false
	for _, b := range i.all {
		if grave(b) && trace.Known(b.LikelyShiftM) && b.LikelySide != "" {
			out.Likely = append(out.Likely, remark.Displaced{Stretch: remark.Stretch{FromM: b.FromM, ToM: b.ToM},
				Side: b.LikelySide, ShiftM: b.LikelyShiftM, Shift95M: b.Shift95M, All: b.FromM == from && b.ToM == to})
		}
		if !b.Jump {
			if gradeRank(b.Grade) > gradeRank(out.Grade) {
				out.Grade = b.Grade
			}
			if out.From == "" && named(b) {
				out.From, out.Of.AsideM = b.Neighbor, b.SeparationM
			}
			continue
		}
		if at := leavesM(b); !(at >= out.LeavesM) {
			out.LeavesM = at
		}
		falls := fallsOff(b)
		if told && b.Neighbor == trace.UnknownNeighbor && (branch || !falls) {
			continue
		}
		told, branch = true, branch || falls
		j := remark.Jump{Stretch: remark.Stretch{FromM: b.FromM, ToM: b.ToM}, All: b.FromM == from && b.ToM == to}
		j.Branch = falls
		if named(b) {
			j.Onto = b.Neighbor
			j.Either = slices.Contains(b.Evidence, trace.Remark(remark.OrNeighborHere{Neighbor: b.Neighbor}))
		}
		out.Jumps = append(out.Jumps, j)
	}
	out.Graded = i.graded(out.Grade)
	return out
}

// graded is where a suspicion is as grave as that, of an item that goes on beyond it because a
// jump does; nothing where that is all of it.
func (i bleedItem) graded(as trace.Grade) (at remark.Stretch) {
	for _, b := range i.all {
		switch {
		case b.Jump:
		case b.Grade != as:
			return remark.Stretch{} // suspected there as well
		case at.ToM > at.FromM:
			at.FromM, at.ToM = min(at.FromM, b.FromM), max(at.ToM, b.ToM)
		default:
			at = remark.Stretch{FromM: b.FromM, ToM: b.ToM}
		}
	}
	stretches := i.stretches()
	if len(stretches) > 1 || at.FromM <= stretches[0][0] && at.ToM >= stretches[0][1] {
		return remark.Stretch{}
	}
	return at
}

// fallsOff reports whether all that is suspected is that the current falls.
func fallsOff(b finding.BleedOver) bool {
	return slices.ContainsFunc(b.Evidence, func(e trace.Remark) bool { _, is := e.(remark.CurrentFalls); return is })
}

// named reports whether the other line is known.
func named(b finding.BleedOver) bool { return b.Neighbor != "" && b.Neighbor != trace.UnknownNeighbor }

// reach is how far from the mark the line may lie: what is drawn on the stretch.
// Where a stretch to be watched meets a graver one, the zone widens to that one's
// width; that is told of the end, not of all of the stretch.
func (i bleedItem) reach(l trace.Line) remark.Reach {
	var all, core zones.Reach
	if i.inDoubt || i.lead.Grade == trace.GradeWatch && fallsOff(i.lead) {
		return remark.Reach{}
	}
	near := func(s float64) bool {
		if slices.ContainsFunc(i.open, func(o [2]float64) bool { return s >= o[0] && s <= o[1] }) {
			return true
		}
		return slices.ContainsFunc(i.beside, func(g [2]float64) bool { return s > g[0]-roundM(l, g[0])-1e-6 && s < g[1]+roundM(l, g[1])+1e-6 })
	}
	var ends []float64
	for _, p := range i.stretches() {
		core = core.With(zones.ReachOver(l.Reach, p[0], p[1], near))
		all = all.With(zones.ReachOver(l.Reach, p[0], p[1], func(float64) bool { return false }))
		for _, g := range i.beside {
			if g[1] <= p[0] && g[1] > p[0]-roundM(l, g[1]) {
				ends = append(ends, p[0])
			}
			if g[0] >= p[1] && g[0] < p[1]+roundM(l, g[0]) {
				ends = append(ends, p[1])
			}
		}
	}
	if !core.Known && len(i.open) == 0 {
		return remark.Reach{LeftM: all.Left, RightM: all.Right, Known: all.Known}
	}
	out := remark.Reach{LeftM: core.Left, RightM: core.Right, Known: core.Known}
	for _, o := range i.open {
		out.Open = append(out.Open, remark.Stretch{FromM: o[0], ToM: o[1]})
	}
	if len(i.beside) == 0 {
		return out
	}
	if all.Left[1] > core.Left[1] || all.Right[1] > core.Right[1] {
		out.FartherAtM = ends
	}
	return out
}

// roundM is how far beyond the end of a graver stretch its zone, which is round there, is
// drawn.
func roundM(l trace.Line, endM float64) float64 {
	at := zones.ReachOver(l.Reach, endM, endM, func(float64) bool { return false })
	return max(trace.ZoneShoulderM, at.Left[1], at.Right[1])
}

func gradeRank(g trace.Grade) int {
	return map[trace.Grade]int{trace.GradeWatch: 1, trace.GradeSuspect: 2, trace.GradeStrong: 3}[g]
}

// weight puts the gravest first: a strong suspicion, a jump, then a weaker one.
func weight(b finding.BleedOver) int {
	switch {
	case b.Grade == trace.GradeStrong:
		return 4
	case b.Jump:
		return 3
	}
	return gradeRank(b.Grade)
}

func grave(b finding.BleedOver) bool { return b.Jump || b.Grade != trace.GradeWatch }

// bleedItems joins the suspicions about a line that overlap: one place to look at is
// one item. What is only to be watched gives way to what is graver. told are the
// numbers of the findings that stand in an item whose lead is another.
func bleedItems(findings []trace.Finding) (items map[int]bleedItem, told map[int]bool) {
	items, told = map[int]bleedItem{}, map[int]bool{}
	var order []int
	for k, f := range findings {
		if _, ok := f.(finding.BleedOver); ok {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return weight(findings[b].(finding.BleedOver)) - weight(findings[a].(finding.BleedOver))
	})
	for _, k := range order {
		b := findings[k].(finding.BleedOver)
		if j, ok := joins(items, order, b); ok {
			it := items[j]
			it.all = append(it.all, b)
			items[j], told[k] = it, true
			continue
		}
		items[k] = bleedItem{lead: b, all: []finding.BleedOver{b}}
	}
	for _, k := range order {
		if it, ok := items[k]; ok && !grave(it.lead) {
			yield(items, told, order, k)
			if it, ok := items[k]; ok {
				items[k] = it.besideDoubts(findings)
			}
		}
	}
	for k, it := range items {
		if grave(it.lead) {
			it = it.amidDoubts(findings)
		}
		slices.SortStableFunc(it.all, func(a, b finding.BleedOver) int { return cmp.Compare(a.FromM, b.FromM) })
		items[k] = it
	}
	return items, told
}

func sameSource(a, b finding.BleedOver) bool {
	return a.Neighbor == b.Neighbor || !named(a) || !named(b)
}

// joins is the item that a suspicion of the same weight class belongs to.
func joins(items map[int]bleedItem, order []int, b finding.BleedOver) (int, bool) {
	for _, j := range order {
		it, ok := items[j]
		if !ok || grave(it.lead) != grave(b) || !sameSource(it.lead, b) {
			continue
		}
		if from, to := it.span(); b.FromM <= to && b.ToM >= from {
			return j, true
		}
	}
	return 0, false
}

// leastPartM is the shortest stretch worth an item of its own beside a graver one:
// the shoulder of that one's zone reaches as far.
const leastPartM = trace.ZoneShoulderM

// cutOut is what a stretch leaves of others, and whether it takes anything from them.
func cutOut(parts [][2]float64, fromM, toM float64) (left [][2]float64, cut bool) {
	for _, p := range parts {
		if toM <= p[0] || fromM >= p[1] {
			left = append(left, p)
			continue
		}
		cut = true
		for _, q := range [][2]float64{{p[0], fromM}, {toM, p[1]}} {
			if q[1]-q[0] >= leastPartM {
				left = append(left, q)
			}
		}
	}
	return left, cut
}

// besideDoubts takes out of a stretch to be watched what is in doubt: there its figures
// do not hold, unless the band was widened until it holds the doubt as well.
func (i bleedItem) besideDoubts(findings []trace.Finding) bleedItem {
	parts, cut := i.stretches(), false
	for _, f := range findings {
		d, ok := f.(finding.Doubt)
		if !ok || !trace.Known(d.FromM) || remark.BandHolds(d) {
			continue
		}
		var one bool
		parts, one = cutOut(parts, d.FromM, d.ToM)
		cut = cut || one
	}
	switch {
	case cut && len(parts) > 0:
		i.parts = parts
	case cut:
		i.inDoubt = true
	}
	return i
}

// yield takes out of a stretch to be watched what graver items cover; one that is
// covered whole is told with them.
func yield(items map[int]bleedItem, told map[int]bool, order []int, k int) {
	watch := items[k]
	from, to := watch.span()
	parts := [][2]float64{{from, to}}
	into := -1
	for _, j := range order {
		over, ok := items[j]
		if !ok || !grave(over.lead) {
			continue
		}
		a, b := over.span()
		if a < to+trace.ZoneShoulderM && b > from-trace.ZoneShoulderM {
			watch.beside = append(watch.beside, [2]float64{a, b})
		}
		left, cut := cutOut(parts, a, b)
		if cut && into < 0 {
			into = j
		}
		parts = left
	}
	switch {
	case into < 0:
		items[k] = watch
	case len(parts) > 0:
		watch.parts = parts
		items[k] = watch
	default:
		over := items[into]
		if n := watch.lead.Neighbor; named(watch.lead) && !slices.ContainsFunc(over.all, func(b finding.BleedOver) bool { return b.Neighbor == n }) && !slices.Contains(over.also, n) {
			over.also = append(over.also, n)
		}
		items[into], told[k] = over, true
		delete(items, k)
	}
}

// amidDoubts notes on a graver stretch where the line is in doubt besides: the stretch is
// told whole, but not with a distance there.
func (i bleedItem) amidDoubts(findings []trace.Finding) bleedItem {
	from, to := i.span()
	left := [][2]float64{{from, to}}
	for _, f := range findings {
		d, ok := f.(finding.Doubt)
		if !ok || !trace.Known(d.FromM) || d.FromM >= to || d.ToM <= from || remark.BandHolds(d) {
			continue
		}
		left, _ = cutOut(left, d.FromM, d.ToM)
		i.open = append(i.open, [2]float64{max(d.FromM, from), min(d.ToM, to)})
	}
	if i.inDoubt = len(left) == 0; i.inDoubt {
		i.open = nil
	}
	slices.SortFunc(i.open, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	return i
}

package locate

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loamline/geo"
	"loamline/trace"
)

// gradeWords is how far bleed-over is suspected.
var gradeWords = map[trace.Grade]string{trace.GradeWatch: "possible bleed-over",
	trace.GradeSuspect: "bleed-over suspected", trace.GradeStrong: "bleed-over strongly suspected"}

// bleedItem is one thing to check: suspicions of one line that overlap, and what
// belongs to them.
type bleedItem struct {
	lead   trace.BleedOver   // the gravest: the item is about it
	all    []trace.BleedOver // by station
	parts  [][2]float64      // of a stretch to be watched: what no graver item covers; all of it where empty
	beside [][2]float64      // graver items that a stretch to be watched meets
	blocks []trace.Doubt     // blocks of readings set aside where the trace jumped
	also   []string          // lines whose signal is to be watched on the same stretch
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

// words say what is suspected, what to expose, and how to find the line again.
func (i bleedItem) words(l trace.Line, s *trace.Sheet) string {
	u := s.Job.Units
	var where []string
	for _, p := range i.stretches() {
		where = append(where, u.Long(p[0])+" to "+u.Long(p[1]))
	}
	out := i.lead.Line + ", " + strings.Join(where, " and ") + ": " + i.suspicion(u)
	for _, d := range i.blocks {
		out += " " + d.Why
	}
	for _, name := range i.also {
		out += " The signal of " + name + " may mix in too."
	}
	if within := i.within(l, u); within != "" {
		out += " Expose before digging " + within + "."
	}
	if from, jumped := i.jump(); jumped {
		out += fmt.Sprintf(" Find %s again: connect to it alone, trace on from %s and see which way it goes.", i.lead.Line, u.Long(from))
	}
	return out
}

// suspicion is what is suspected, never surer than the evidence is.
func (i bleedItem) suspicion(u geo.Units) string {
	from, to := i.span()
	worst := trace.Grade("")
	var out []string
	for _, b := range i.all {
		if !b.Jump && gradeRank(b.Grade) > gradeRank(worst) {
			worst = b.Grade
		}
	}
	if worst != "" {
		out = append(out, gradeWords[worst]+", "+i.source()+".")
	}
	told := false
	for _, b := range i.all {
		if !b.Jump || told && b.Neighbor == "unknown" {
			continue
		}
		told = true
		other, why := b.Neighbor, ""
		if other == "" || other == "unknown" {
			other, why = "another line", ", or the line has an offset made with fittings there"
		}
		may := fmt.Sprintf("the trace may follow %s instead of its own line%s.", other, why)
		if worst != "" || other != "another line" && (b.FromM != from || b.ToM != to) {
			may = fmt.Sprintf("From %s to %s ", u.Long(b.FromM), u.Long(b.ToM)) + may
		}
		out = append(out, may)
	}
	return strings.Join(out, " ")
}

// source is where the signal seems to come from.
func (i bleedItem) source() string {
	for _, b := range i.all {
		if known := b.Neighbor != "" && b.Neighbor != "unknown"; known && !b.Jump {
			return "perhaps from " + b.Neighbor
		}
	}
	return "no known line there"
}

// jump is where a trace that may have jumped leaves its line.
func (i bleedItem) jump() (fromM float64, jumped bool) {
	for _, b := range i.all {
		if b.Jump && (!jumped || b.FromM < fromM) {
			fromM, jumped = b.FromM, true
		}
	}
	return fromM, jumped
}

// within is how far from the mark the line may lie: what is drawn on the stretch.
// Where a stretch to be watched meets a graver one, the zone widens to that one's
// width; that is told of the end, not of all of the stretch.
func (i bleedItem) within(l trace.Line, u geo.Units) string {
	var all, core reach
	near := func(s float64) bool {
		return slices.ContainsFunc(i.beside, func(g [2]float64) bool { return s > g[0]-shoulderM-1e-6 && s < g[1]+shoulderM+1e-6 })
	}
	var ends []float64
	for _, p := range i.stretches() {
		core = core.with(reachOver(l.Reach, p[0], p[1], near))
		all = all.with(reachOver(l.Reach, p[0], p[1], func(float64) bool { return false }))
		for _, g := range i.beside {
			if g[1] <= p[0] && g[1] > p[0]-shoulderM {
				ends = append(ends, g[1])
			}
			if g[0] >= p[1] && g[0] < p[1]+shoulderM {
				ends = append(ends, g[0])
			}
		}
	}
	if !core.known {
		return all.words(u)
	}
	words := core.words(u)
	if len(ends) > 0 && (all.left[1] > core.left[1] || all.right[1] > core.right[1]) {
		var at []string
		for _, e := range ends {
			at = append(at, u.Long(e))
		}
		words += ", and farther close to " + strings.Join(at, " and ")
	}
	return words
}

func gradeRank(g trace.Grade) int {
	return map[trace.Grade]int{trace.GradeWatch: 1, trace.GradeSuspect: 2, trace.GradeStrong: 3}[g]
}

// weight puts the gravest first: a strong suspicion, a jump, then a weaker one.
func weight(b trace.BleedOver) int {
	switch {
	case b.Grade == trace.GradeStrong:
		return 4
	case b.Jump:
		return 3
	}
	return gradeRank(b.Grade)
}

func grave(b trace.BleedOver) bool { return b.Jump || b.Grade != trace.GradeWatch }

// bleedItems joins the suspicions about a line that overlap: one place to look at is
// one item. What is only to be watched gives way to what is graver. told are the
// numbers of the findings that stand in an item whose lead is another.
func bleedItems(findings []trace.Finding) (items map[int]bleedItem, told map[int]bool) {
	items, told = map[int]bleedItem{}, map[int]bool{}
	var order []int
	for k, f := range findings {
		if _, ok := f.(trace.BleedOver); ok {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return weight(findings[b].(trace.BleedOver)) - weight(findings[a].(trace.BleedOver))
	})
	for _, k := range order {
		b := findings[k].(trace.BleedOver)
		if j, ok := joins(items, order, b); ok {
			it := items[j]
			it.all = append(it.all, b)
			items[j], told[k] = it, true
			continue
		}
		items[k] = bleedItem{lead: b, all: []trace.BleedOver{b}}
	}
	for _, k := range order {
		if it, ok := items[k]; ok && !grave(it.lead) {
			yield(items, told, order, k)
		}
	}
	for k, it := range items {
		slices.SortStableFunc(it.all, func(a, b trace.BleedOver) int { return cmp.Compare(a.FromM, b.FromM) })
		items[k] = it
	}
	return items, told
}

func sameSource(a, b trace.BleedOver) bool {
	unknown := func(n string) bool { return n == "" || n == "unknown" }
	return a.Neighbor == b.Neighbor || unknown(a.Neighbor) || unknown(b.Neighbor)
}

// joins is the item that a suspicion of the same weight class belongs to.
func joins(items map[int]bleedItem, order []int, b trace.BleedOver) (int, bool) {
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
const leastPartM = shoulderM

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
		if a < to+shoulderM && b > from-shoulderM {
			watch.beside = append(watch.beside, [2]float64{a, b})
		}
		var left [][2]float64
		for _, p := range parts {
			if b <= p[0] || a >= p[1] {
				left = append(left, p)
				continue
			}
			if into < 0 {
				into = j
			}
			for _, q := range [][2]float64{{p[0], a}, {b, p[1]}} {
				if q[1]-q[0] >= leastPartM {
					left = append(left, q)
				}
			}
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
		if n := watch.lead.Neighbor; n != "" && n != "unknown" && !slices.ContainsFunc(over.all, func(b trace.BleedOver) bool { return b.Neighbor == n }) && !slices.Contains(over.also, n) {
			over.also = append(over.also, n)
		}
		items[into], told[k] = over, true
		delete(items, k)
	}
}

package locate

import (
	"cmp"
	"reflect"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
	"loamline.example/trace/records"
	"loamline.example/trace/remark"
	"loamline.example/trace/stretches"
)

// adviseFindings is what the findings of a line ask to be checked, one item a place:
// suspicions that overlap, a jump with the readings set aside in it and with the line
// that it meets there, and doubts about one stretch are told together.
func adviseFindings(s *trace.Sheet, l trace.Line) []trace.Advice {
	items, told := bleedItems(l.Findings)
	watched, inCrossing := watchedCrossings(l, items)
	for k := range inCrossing {
		delete(items, k)
		told[k] = true
	}
	doubts := joinedDoubts(l.Findings, items, told)
	within := advice.GapsWithin(l.Findings)
	for _, in := range within {
		for _, k := range in {
			told[k] = true
		}
	}
	var out []trace.Advice
	for k, f := range l.Findings {
		if c, ok := f.(finding.Crossing); told[k] || ok && c.ByJump || toldByDoubt(f) {
			continue
		}
		if b, ok := watched[k]; ok {
			out = append(out, adviseWatched(f.(finding.Crossing), b, l))
			continue
		}
		if it, ok := items[k]; ok {
			out = append(out, it.advice(l)...)
			continue
		}
		if d, ok := doubts[k]; ok {
			if a, first, many := alike(l, k, doubts, told); many {
				if first {
					out = append(out, a)
				}
				continue
			}
			f = d
		}
		if a, ok := adviseFinding(f, l); ok {
			out = append(out, withGaps(a, l.Findings, within[k]))
		}
	}
	for i := range out {
		if b, ok := out[i].Remark.(remark.BleedItem); ok && b.From != "" {
			b.Of = records.NeighborOf(s, l, b.From, b.Of.AsideM, b.Stretches)
			out[i].Remark = b
		}
	}
	return out
}

// withGaps is an item on a stretch that is not traced with the places in it that it tells
// as well.
func withGaps(a trace.Advice, findings []trace.Finding, within []int) trace.Advice {
	if len(within) == 0 {
		return a
	}
	at := a.Remark.(remark.LookAt)
	a.Places = append(a.Places, [2]float64{a.FromM, a.ToM})
	for _, k := range within {
		g := findings[k].(finding.Gap)
		at.Within = append(at.Within, g)
		a.Places = append(a.Places, *g.Along)
	}
	a.Remark = at
	return a
}

// joinedDoubts puts a doubt about a block of readings with the jump that it lies in,
// and a doubt within another's stretch with that one.
func joinedDoubts(findings []trace.Finding, items map[int]bleedItem, told map[int]bool) map[int]finding.Doubt {
	joined := map[int]finding.Doubt{}
	within := func(d finding.Doubt, from, to float64) bool {
		return d.FromM >= from-trace.ZoneShoulderM && d.ToM <= to+trace.ZoneShoulderM
	}
	for k, f := range findings {
		d, ok := f.(finding.Doubt)
		if !ok || d.ByExposure || !trace.Known(d.FromM) {
			continue
		}
		for j := range findings {
			it, ok := items[j]
			if !ok || told[k] || !slices.ContainsFunc(it.all, func(b finding.BleedOver) bool { return b.Jump && within(d, b.FromM, b.ToM) }) {
				continue
			}
			it.blocks = append(it.blocks, d)
			items[j], told[k] = it, true
		}
	}
	return joinedWithin(findings, told, joined)
}

// joinedWithin puts a doubt whose stretch lies within another's with that one.
func joinedWithin(findings []trace.Finding, told map[int]bool, joined map[int]finding.Doubt) map[int]finding.Doubt {
	var order []int
	for k, f := range findings {
		if d, ok := f.(finding.Doubt); ok && !told[k] && !d.ByExposure && trace.Known(d.FromM) {
			joined[k] = d
			order = append(order, k)
		}
	}
	long := func(k int) float64 { return joined[k].ToM - joined[k].FromM }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(long(b), long(a)) })
	of := make([]remark.Stretch, len(order))
	for i, k := range order {
		of[i] = remark.Stretch{FromM: joined[k].FromM, ToM: joined[k].ToM}
	}
	for i, in := range stretches.Around(of) {
		if j, k := order[in], order[i]; j != k {
			o := joined[j]
			o.Why = alsoWithin(o, joined[k])
			joined[j], told[k] = o, true
		}
	}
	return joined
}

// alsoWithin tells a doubt with the one that it lies in. Of one sort there may be too many
// to tell apart: these are told together.
func alsoWithin(o, d finding.Doubt) trace.Remark {
	part, unknown := remark.Stretch{FromM: d.FromM, ToM: d.ToM}, remark.Stretch{FromM: trace.Unknown, ToM: trace.Unknown}
	if d.FromM == o.FromM && d.ToM == o.ToM {
		return remark.AlsoWithin{First: o.Why, Part: unknown, Why: d.Why}
	}
	sort := reflect.TypeOf(d.Why)
	if d.Among == nil || sort != reflect.TypeOf(d.Among) || sort == reflect.TypeOf(o.Why) {
		return remark.AlsoWithin{First: o.Why, Part: part, Why: d.Why}
	}
	var put func(r trace.Remark) (trace.Remark, bool)
	put = func(r trace.Remark) (trace.Remark, bool) {
		a, ok := r.(remark.AlsoWithin)
		if !ok {
			return r, false
		}
		if p, ok := a.Why.(remark.AtPlaces); ok && reflect.TypeOf(p.Worst) == sort {
			p.Places, p.Worst = append(slices.Clone(p.Places), part), d.Among
			slices.SortFunc(p.Places, func(p, q remark.Stretch) int { return cmp.Compare(p.FromM, q.FromM) })
			a.Why = p
			return a, true
		}
		a.First, ok = put(a.First)
		return a, ok
	}
	if r, ok := put(o.Why); ok {
		return r
	}
	return remark.AlsoWithin{First: o.Why, Part: unknown, Why: remark.AtPlaces{Places: []remark.Stretch{part}, Worst: d.Why}}
}

// alike is the one item of the doubts of one sort, where there are too many to tell apart;
// first where this one comes before the others.
func alike(l trace.Line, k int, doubts map[int]finding.Doubt, told map[int]bool) (a trace.Advice, first, many bool) {
	sort := func(j int) reflect.Type {
		if d := doubts[j]; !told[j] && d.Among != nil && reflect.TypeOf(d.Why) == reflect.TypeOf(d.Among) { // which others joined says more
			return reflect.TypeOf(d.Among)
		}
		return nil
	}
	what := remark.AtPlaces{Line: l.Setup.Name, Worst: doubts[k].Among}
	first = true
	for j := range l.Findings {
		if sort(j) == nil || sort(j) != sort(k) {
			continue
		}
		what.Places = append(what.Places, remark.Stretch{FromM: doubts[j].FromM, ToM: doubts[j].ToM})
		first = first && j >= k
	}
	if len(what.Places) < 2 {
		return a, false, false
	}
	slices.SortFunc(what.Places, func(p, q remark.Stretch) int { return cmp.Compare(p.FromM, q.FromM) })
	a = trace.Advice{Line: l.Setup.Name, FromM: what.Places[0].FromM, ToM: what.Places[0].ToM, Kind: trace.AdviseDoubt, Remark: what}
	for _, p := range what.Places {
		a.ToM, a.Places = max(a.ToM, p.ToM), append(a.Places, [2]float64{p.FromM, p.ToM})
	}
	return a, first, true
}

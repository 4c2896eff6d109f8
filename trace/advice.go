package trace

import (
	"cmp"
	"slices"
)

// MostImportantFirst is the advice in the order in which to read it: what was
// measured in the open, what is not drawn at all, what must not be trusted,
// what may hold a second line, and last what is only to be watched. Advice of
// one weight keeps its order.
func (s *Sheet) MostImportantFirst() []Advice {
	out := slices.Clone(s.Advice)
	weight := map[stretch]int{}
	for i := range s.Lines {
		for _, f := range s.Lines[i].Findings {
			from, to := f.Span()
			at := stretch{f.OnLine(), from, to}
			weight[at] = max(weight[at], bleedWeight.Of(f))
		}
	}
	slices.SortStableFunc(out, func(a, b Advice) int {
		return cmp.Compare(rank(a, weight), rank(b, weight))
	})
	return out
}

// stretch tells two pieces of advice on bleed-over apart.
type stretch struct {
	line       string
	fromM, toM float64
}

// bleedWeight is how much a suspicion of bleed-over weighs, 0 for what is none.
var bleedWeight = PerKind[int]{
	BleedOver: func(b BleedOver) int {
		switch {
		case b.Jump, b.Grade == GradeStrong:
			return 2
		case b.Grade == GradeSuspect:
			return 1
		}
		return 0
	},
	Else: func(Finding) int { return 0 },
}

// bleedRank is the place in the list of each weight of bleed-over: a stretch to
// be watched comes last.
var bleedRank = [...]int{12, 4, 3}

// rank is a place in the list, the first 0.
func rank(a Advice, weight map[stretch]int) int {
	switch a.Kind {
	case AdviseExposed:
		return 0
	case AdviseNoLine:
		return 1
	case AdviseDoubt:
		return 2
	case AdviseBleed:
		from, to := a.lead()
		return bleedRank[weight[stretch{a.Line, from, to}]]
	case AdviseGap:
		return 5
	case AdviseFrame:
		return 6
	case AdviseInput:
		return 7
	case AdviseAccuracy:
		return 8
	case AdviseCrossing:
		return 9
	case AdviseCheck:
		return 10
	case AdviseRecord:
		return 11
	}
	if a.Kind == "" {
		return 12
	}
	return 2 // on a finding without a kind of its own, which is told as a doubt
}

// adviseAbout is the role of the findings that a kind of advice is about.
var adviseAbout = map[AdviceKind]string{
	AdviseBleed: BleedOver{}.Role(), AdviseGap: Gap{}.Role(), AdviseDoubt: Doubt{}.Role(), AdviseExposed: Doubt{}.Role(),
	AdviseCrossing: Crossing{}.Role(), AdviseCheck: FieldCheck{}.Role(), AdviseRecord: RecordDifference{}.Role(),
}

// AdviseAbout is the kind of the advice on a finding of which no other kind is.
func AdviseAbout(f Finding) AdviceKind { return AdviceKind(f.Role()) }

// about is the role of the findings that the advice is about; none where it is about
// none.
func (a Advice) about() string {
	if role, own := adviseAbout[a.Kind]; own {
		return role
	}
	return string(a.Kind)
}

// About reports whether the advice is about a finding. A crossing may be told
// together with a stretch about it.
func (a Advice) About(f Finding) bool {
	from, to := f.Span()
	same := func(x, y float64) bool { return x == y || !Known(x) && !Known(y) }
	if a.Kind == AdviseCrossing {
		return f.Role() == a.about() && f.OnLine() == a.Line && same(from, a.AtM)
	}
	leadFrom, leadTo := a.lead()
	return f.Role() == a.about() && f.OnLine() == a.Line && same(from, leadFrom) && same(to, leadTo)
}

// lead is the stretch of the finding that the advice is about.
func (a Advice) lead() (fromM, toM float64) {
	if a.LeadM != [2]float64{} {
		return a.LeadM[0], a.LeadM[1]
	}
	return a.FromM, a.ToM
}

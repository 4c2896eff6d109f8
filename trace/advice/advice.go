// Package advice says which advice is about which finding, and in which order to read it.
package advice

import (
	"cmp"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// MostImportantFirst is the advice in the order in which to read it: what was
// measured in the open, what is not drawn at all, what must not be trusted,
// what may hold a second line, and last what is only to be watched. Advice of
// one weight keeps its order.
func MostImportantFirst(s *trace.Sheet) []trace.Advice {
	out := slices.Clone(s.Advice)
	weight := map[stretch]int{}
	for i := range s.Lines {
		for _, f := range s.Lines[i].Findings {
			from, to := f.Span()
			at := stretch{f.OnLine(), from, to}
			weight[at] = max(weight[at], bleedWeight.Of(f))
		}
	}
	slices.SortStableFunc(out, func(a, b trace.Advice) int {
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
var bleedWeight = finding.PerKind[int]{
	BleedOver: func(b finding.BleedOver) int {
		switch {
		case b.Jump, b.Grade == trace.GradeStrong:
			return 2
		case b.Grade == trace.GradeSuspect:
			return 1
		}
		return 0
	},
	Else: func(trace.Finding) int { return 0 },
}

// bleedRank is the place in the list of each weight of bleed-over: a stretch to
// be watched comes last.
var bleedRank = [...]int{12, 4, 3}

// rank is a place in the list, the first 0.
func rank(a trace.Advice, weight map[stretch]int) int {
	switch a.Kind {
	case trace.AdviseExposed:
		return 0
	case trace.AdviseNoLine:
		return 1
	case trace.AdviseDoubt:
		return 2
	case trace.AdviseBleed:
		from, to := lead(a)
		return bleedRank[weight[stretch{a.Line, from, to}]]
	case trace.AdviseGap:
		return 5
	case trace.AdviseFrame:
		return 6
	case trace.AdviseInput:
		return 7
	case trace.AdviseAccuracy:
		return 8
	case trace.AdviseCrossing:
		return 9
	case trace.AdviseCheck:
		return 10
	case trace.AdviseRecord:
		return 11
	}
	if a.Kind == "" {
		return 12
	}
	return 2 // on a finding without a kind of its own, which is told as a doubt
}

// adviseAbout is the role of the findings that a kind of advice is about.
var adviseAbout = map[trace.AdviceKind]string{
	trace.AdviseBleed: finding.BleedOver{}.Role(), trace.AdviseGap: finding.Gap{}.Role(), trace.AdviseDoubt: finding.Doubt{}.Role(), trace.AdviseExposed: finding.Doubt{}.Role(),
	trace.AdviseCrossing: finding.Crossing{}.Role(), trace.AdviseCheck: finding.FieldCheck{}.Role(), trace.AdviseRecord: finding.RecordDifference{}.Role(),
}

// KindOf is the kind of the advice on a finding of which no other kind is.
func KindOf(f trace.Finding) trace.AdviceKind { return trace.AdviceKind(f.Role()) }

// about is the role of the findings that the advice is about; none where it is about
// none.
func about(a trace.Advice) string {
	if role, own := adviseAbout[a.Kind]; own {
		return role
	}
	return string(a.Kind)
}

// IsAbout reports whether the advice is about a finding. A crossing may be told
// together with a stretch about it.
func IsAbout(a trace.Advice, f trace.Finding) bool {
	from, to := f.Span()
	if g, ok := f.(finding.Gap); ok {
		from, to = g.Place() // where its advice is told, if it lies beside the line or past its end
	}
	same := func(x, y float64) bool { return x == y || !trace.Known(x) && !trace.Known(y) }
	if a.Kind == trace.AdviseCrossing {
		return f.Role() == about(a) && f.OnLine() == a.Line && same(from, a.AtM)
	}
	if len(a.Places) > 0 {
		return f.Role() == about(a) && f.OnLine() == a.Line && slices.Contains(a.Places, [2]float64{from, to})
	}
	leadFrom, leadTo := lead(a)
	return f.Role() == about(a) && f.OnLine() == a.Line && same(from, leadFrom) && same(to, leadTo)
}

// lead is the stretch of the finding that the advice is about.
func lead(a trace.Advice) (fromM, toM float64) {
	if a.LeadM != [2]float64{} {
		return a.LeadM[0], a.LeadM[1]
	}
	return a.FromM, a.ToM
}

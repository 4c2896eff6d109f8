package report

import (
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

// HandPair is what a person says about one line of the first map: which line of
// the second it is, none where empty, and what to call it. Auto leaves the pairing
// to the program.
type HandPair struct {
	First, Second, Call string
	Auto                bool
}

// Comparison is a second locate laid over a first.
type Comparison struct {
	Lines         []Overlay
	First, Second trace.Located
	Laid          []compare.Overlay // what Lines are made of, line by line
}

func theLine(o compare.Overlay) string {
	if o.Other == "" {
		return "the first map calls it " + o.Line
	}
	return "the first map calls it " + o.Line + ", the second " + o.Other
}

// pairsOf pairs by hand first, then whatever is left by place and name.
func pairsOf(first, second trace.Located, hand []HandPair) ([]compare.Pair, map[string]HandPair, error) {
	said, taken := map[string]HandPair{}, map[string]string{}
	for _, h := range hand {
		if !hasLine(first, h.First) {
			return nil, nil, problem.Refuse(problem.Problem{Field: "line", Value: h.First, Cause: "the first map has no line of this name"})
		}
		if h.Auto {
			said[h.First] = h
			continue
		}
		if h.Second != "" && !hasLine(second, h.Second) {
			return nil, nil, problem.Refuse(problem.Problem{Field: "with", Value: h.Second, Cause: "the second map has no line of this name"})
		}
		if other, twice := taken[h.Second]; twice && h.Second != "" && other != h.First {
			return nil, nil, problem.Refuse(problem.Problem{Field: "with", Value: h.Second, Cause: "this line is paired twice: with " + other + " and with " + h.First, Hint: "a line can be one other line only"})
		}
		said[h.First], taken[h.Second] = h, h.First
	}
	var restA, restB trace.Located
	for _, l := range first.Lines {
		if h, done := said[l.Name]; !done || h.Auto {
			restA.Lines = append(restA.Lines, l)
		}
	}
	for _, l := range second.Lines {
		if taken[l.Name] == "" {
			restB.Lines = append(restB.Lines, l)
		}
	}
	with := map[string]compare.Pair{}
	var only []compare.Pair
	for _, p := range compare.PairLines(restA, restB) {
		if p.First == "" {
			only = append(only, p)
		} else {
			with[p.First] = p
		}
	}
	var out []compare.Pair
	for _, l := range first.Lines {
		if h, byHand := said[l.Name]; byHand && !h.Auto {
			out = append(out, compare.Pair{First: l.Name, Second: h.Second})
		} else {
			out = append(out, with[l.Name])
		}
	}
	return append(out, only...), said, nil
}

func hasLine(m trace.Located, name string) bool {
	for _, l := range m.Lines {
		if l.Name == name {
			return true
		}
	}
	return false
}

// Compare lays a second map over a first. Lines are paired by place and name; what a
// person says about a line goes before.
func Compare(first, second trace.Located, u geo.Units, hand []HandPair) (Comparison, error) {
	out := Comparison{First: first, Second: second}
	pairs, said, err := pairsOf(out.First, out.Second, hand)
	if err != nil {
		return out, err
	}
	out.Laid = compare.OverlayPairs(out.First, out.Second, pairs)
	for _, o := range out.Laid {
		line := overlayOf(o, u)
		h, isSaid := said[o.Line]
		byHand := isSaid && !h.Auto
		switch {
		case o.OtherOnly || o.FirstOnly && !byHand:
		case byHand:
			line.Paired = "hand"
		case o.Other == o.Line:
			line.Paired = "name"
		default:
			line.Paired = "place"
		}
		if o.Other != o.Line {
			line.Second = o.Other
		}
		if isSaid && h.Call != "" && !o.OtherOnly {
			line.Line = h.Call
			line.Words = append([]string{"This name is used here only: " + theLine(o) + "."}, line.Words...)
		}
		out.Lines = append(out.Lines, line)
	}
	return out, nil
}

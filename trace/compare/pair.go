package compare

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Pair is a line of a first map and the line of a second that is taken for the
// same; one of the two is empty where there is no other.
type Pair struct {
	First, Second string
	ByPlace       bool // they have different names, and lie in the same place
}

// pairReachM is how far apart two locates of one line may lie for their place
// alone to make them a pair: 2 m is wider than most marks of one line are apart,
// and narrower than the space that most lines of one kind keep. Common practice,
// no source; a person can pair otherwise.
const pairReachM = 2.0

// pairShare is how much of one of two lines must run beside the other. Judgement.
const pairShare = 0.5

// PairLines pairs the lines of two maps by where they lie, and by their names
// where the place leaves it open: first those that agree within both bands, of
// the same name before others, then those of the same name wherever they can be
// compared, then those of different names that lie within two metres. Pairs come
// in the order of the first map, then the lines that only the second has.
func PairLines(first, second trace.Located) []Pair {
	type candidate struct {
		a, b, rank int
		meanM      float64
	}
	var all []candidate
	for i, a := range first.Lines {
		for k, b := range second.Lines {
			same := a.Name == b.Name
			meanM, allowedM, ok := beside(a, b)
			rank := 0
			switch {
			case ok && meanM <= allowedM && same:
			case ok && meanM <= allowedM:
				rank = 1
			case same:
				rank = 2
			case ok && meanM <= pairReachM:
				rank = 3
			default:
				continue
			}
			all = append(all, candidate{i, k, rank, meanM})
		}
	}
	slices.SortStableFunc(all, func(p, q candidate) int {
		return cmp.Or(cmp.Compare(p.rank, q.rank), cmp.Compare(p.meanM, q.meanM))
	})
	with := make([]int, len(first.Lines))
	for i := range with {
		with[i] = -1
	}
	taken := make([]bool, len(second.Lines))
	for _, c := range all {
		if with[c.a] < 0 && !taken[c.b] {
			with[c.a], taken[c.b] = c.b, true
		}
	}
	var out []Pair
	for i, a := range first.Lines {
		p := Pair{First: a.Name}
		if k := with[i]; k >= 0 {
			p.Second = second.Lines[k].Name
			p.ByPlace = p.Second != p.First
		}
		out = append(out, p)
	}
	for k, b := range second.Lines {
		if !taken[k] {
			out = append(out, Pair{Second: b.Name})
		}
	}
	return out
}

// beside measures how far two lines lie apart on average where they run side by
// side, and what both bands allow there; ok is false where they hardly do.
func beside(a, b trace.LocatedLine) (meanM, allowedM float64, ok bool) {
	if len(a.Parts) == 0 || len(b.Parts) == 0 || !nearBoxes(a, b) {
		return math.Inf(1), 0, false
	}
	o := placesOf(a, b)
	shared := float64(len(o.Places)) / float64(vertices(a))
	if shared < pairShare {
		o = placesOf(b, a)
		shared = float64(len(o.Places)) / float64(vertices(b))
	}
	if shared < pairShare || len(o.Places) == 0 {
		return math.Inf(1), 0, false
	}
	for _, p := range o.Places {
		meanM += math.Abs(p.OffsetM)
		allowedM += p.AllowedM
	}
	n := float64(len(o.Places))
	return meanM / n, allowedM / n, true
}

func vertices(l trace.LocatedLine) int {
	n := 0
	for _, p := range l.Parts {
		n += len(p)
	}
	return n
}

// nearBoxes spares lines that lie nowhere near each other a closer look.
func nearBoxes(a, b trace.LocatedLine) bool {
	plane := geo.NewPlane(a.Parts[0][0].At)
	box := func(l trace.LocatedLine) (lo, hi geo.XY) {
		lo, hi = geo.XY{X: math.Inf(1), Y: math.Inf(1)}, geo.XY{X: math.Inf(-1), Y: math.Inf(-1)}
		for _, part := range l.Parts {
			for _, v := range part {
				p := plane.XY(v.At)
				lo, hi = geo.XY{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, geo.XY{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
			}
		}
		return lo, hi
	}
	al, ah := box(a)
	bl, bh := box(b)
	return al.X <= bh.X+overlayReachM && bl.X <= ah.X+overlayReachM && al.Y <= bh.Y+overlayReachM && bl.Y <= ah.Y+overlayReachM
}

// OverlayPairs lays the second map's lines over the first's, pair by pair.
func OverlayPairs(first, second trace.Located, pairs []Pair) []Overlay {
	var out []Overlay
	for _, p := range pairs {
		a, b := lineNamed(first, p.First), lineNamed(second, p.Second)
		switch {
		case a == nil && b == nil:
		case a == nil:
			out = append(out, Overlay{Line: b.Name, OtherOnly: true})
		case b == nil || len(a.Parts) == 0 || len(b.Parts) == 0:
			out = append(out, Overlay{Line: a.Name, FirstOnly: true})
		default:
			o := overlayLine(*a, *b)
			o.Other = b.Name
			out = append(out, o)
		}
	}
	return out
}

func lineNamed(m trace.Located, name string) *trace.LocatedLine {
	if name == "" {
		return nil
	}
	for i := range m.Lines {
		if m.Lines[i].Name == name {
			return &m.Lines[i]
		}
	}
	return nil
}

package guard

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A single reading up to mostJogM off the line, and many times its own error, is as well of
// a jog of the line as it is a leap, and the band holds it; farther off it is told alone,
// for a band of that width says nothing any more. Judgement: fittings set a line aside by a
// metre or two.
const mostJogM = 2.5

// mostSingles is how many places of single readings are told one by one; more are told as
// one over all of them. Judgement: nobody looks at each place of a longer list.
const mostSingles = 8

// single is where along a part the line may go aside to readings by themselves.
type single struct {
	part   int
	lo, hi float64
	which  []int
}

// alone tells of single readings that were set aside so far off that their own error does
// not reach the zone, or that agree with their neighbour, and are told in no block: nothing
// tells a leap from a short way aside. Each is told where the line may go aside to it, which
// is between the readings before and after it, and those whose stretches meet are told
// together. The band is asked for at each of them by itself, and at those inside the zone.
func (v *view) alone(walk []int, reported, agreed map[int]bool) []Breach {
	var all []single
	var out []Breach
	for k, i := range walk {
		if reported[i] || v.Readings[i].Status != trace.StatusSetAside || v.feet[i].part < 0 {
			continue
		}
		lo, hi := v.between(walk, k)
		if !v.inZone(i) || agreed[i] {
			all = append(all, single{v.feet[i].part, lo, hi, []int{i}})
		}
		if f := v.feet[i]; f.distM <= mostJogM && f.distM >= leastOwnOut*v.ownM(i) && !f.beyond {
			out = append(out, Breach{Kind: Between, FromM: lo, ToM: hi, BandM: f.distM + 2*v.ownM(i)})
		}
	}
	slices.SortStableFunc(all, func(a, b single) int { return cmp.Or(cmp.Compare(a.part, b.part), cmp.Compare(a.lo, b.lo)) })
	var joined []single
	for _, s := range all {
		if n := len(joined) - 1; n >= 0 && joined[n].part == s.part && s.lo < joined[n].hi+joinedM {
			joined[n].hi, joined[n].which = math.Max(joined[n].hi, s.hi), append(joined[n].which, s.which...)
			continue
		}
		joined = append(joined, s)
	}
	if n := len(joined); n > mostSingles {
		joined = []single{{lo: joined[0].lo, hi: joined[n-1].hi, which: which(all)}}
	}
	for _, s := range joined {
		farthestM, side := v.offTheLine(s.which)
		out = append(out, Breach{Kind: Uncovered, FromM: s.lo, ToM: s.hi, Covered: true, Readings: len(s.which),
			Remark: remark.SingleReadings{N: len(s.which), Row: v.Readings[s.which[0]].Row, FarthestM: farthestM, Side: side, Fates: v.fates(s.which)}})
	}
	return out
}

// offTheLine is how far off the line readings lie at most, and to which side where it is one:
// past the end of what is drawn across the line as it would go on, not from its end.
func (v *view) offTheLine(which []int) (farthestM float64, side trace.Side) {
	left, right := false, false
	for _, i := range which {
		offM, f := v.feet[i].distM, v.feet[i]
		toRight := f.offsetM
		if r := &v.Readings[i]; f.beyond && trace.Known(r.OffsetM) {
			offM, toRight = math.Abs(r.OffsetM), r.OffsetM
		}
		farthestM = math.Max(farthestM, offM)
		left, right = left || toRight < 0, right || toRight > 0
	}
	switch {
	case left && !right:
		side = trace.Left
	case right && !left:
		side = trace.Right
	}
	return farthestM, side
}

// which are all readings of some places.
func which(all []single) (out []int) {
	for _, s := range all {
		out = append(out, s.which...)
	}
	return out
}

// between is the stretch of the line between the nearest readings before and after one on
// the walk that the line stands for, where that stretch holds its foot; else the foot.
func (v *view) between(walk []int, k int) (lo, hi float64) {
	f := v.feet[walk[k]]
	before, after := k-1, k+1
	for before >= 0 && v.lost(walk[before]) {
		before--
	}
	for after < len(walk) && v.lost(walk[after]) {
		after++
	}
	if before < 0 || after == len(walk) {
		return f.stationM, f.stationM
	}
	a, b := v.feet[walk[before]], v.feet[walk[after]]
	lo, hi = math.Min(a.stationM, b.stationM), math.Max(a.stationM, b.stationM)
	if a.part != f.part || b.part != f.part || f.stationM < lo || f.stationM > hi || hi-lo > apartM {
		return f.stationM, f.stationM
	}
	return lo, hi
}

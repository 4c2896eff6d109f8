// Package stretches tells of many stretches of one line, in time that grows hardly faster
// than they are many, which places lie in any of them ([Union]) and which of them lies in
// which other one ([Around]).
package stretches

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"loamline.example/trace/remark"
)

// Joined are stretches that do not meet, in their order.
type Joined []remark.Stretch

// Union is what lies in any of some stretches; those without a from or a to are none.
func Union(of []remark.Stretch) (out Joined) {
	of = slices.DeleteFunc(slices.Clone(of), func(s remark.Stretch) bool { return !(s.FromM <= s.ToM) })
	slices.SortFunc(of, func(a, b remark.Stretch) int { return cmp.Compare(a.FromM, b.FromM) })
	for _, s := range of {
		if n := len(out) - 1; n >= 0 && s.FromM <= out[n].ToM {
			out[n].ToM = math.Max(out[n].ToM, s.ToM)
			continue
		}
		out = append(out, s)
	}
	return out
}

// Hold reports whether a station lies in one of them.
func (j Joined) Hold(stationM float64) bool {
	k := sort.Search(len(j), func(k int) bool { return j[k].ToM >= stationM })
	return k < len(j) && j[k].FromM <= stationM
}

// Around is for each stretch the first one that holds it, which is itself where no earlier
// one does; they come the longest first. Of those that lie in no other one, both ends come
// in the same order, so that those around a stretch are next to each other.
func Around(of []remark.Stretch) []int {
	ranks := make([]int, len(of))
	for i := range ranks {
		ranks[i] = i
	}
	slices.SortStableFunc(ranks, func(a, b int) int {
		return cmp.Or(cmp.Compare(of[a].FromM, of[b].FromM), cmp.Compare(of[b].ToM, of[a].ToM))
	})
	var outer []int
	for _, i := range ranks {
		if n := len(outer); n == 0 || of[i].ToM > of[outer[n-1]].ToM {
			outer = append(outer, i)
		}
	}
	in := make([]int, len(of))
	for i := range in {
		first := sort.Search(len(outer), func(k int) bool { return of[outer[k]].ToM >= of[i].ToM })
		in[i] = i
		for _, j := range outer[first:] {
			if of[j].FromM > of[i].FromM {
				break
			}
			in[i] = min(in[i], j)
		}
	}
	return in
}

// Package setups tells with what the current was put onto a line when each of its readings
// was taken ([Of]): the hookup and the frequency, where two are one ([Setup.Same]), and
// which of many are ([Alike]).
package setups

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace"
)

// sameFreqRel is how much frequencies of one name differ: 8192 Hz is sold as 8 kHz, and
// 32768 as 33 kHz. Judgement.
const sameFreqRel = 0.05

// Setup is what the current of a line is put on with.
type Setup struct {
	Hookup trace.Hookup // empty where never told
	FreqHz float64      // 0 where never told
}

// Same reports whether two are one.
func (s Setup) Same(o Setup) bool { return s.Hookup == o.Hookup && SameHz(s.FreqHz, o.FreqHz) }

// SameHz reports whether two frequencies go by one name.
func SameHz(a, b float64) bool { return math.Abs(a-b) <= sameFreqRel*math.Max(a, b) }

// Of is the set-up of each of a line's readings: what a row leaves open is as in the row
// before it, tables one after the other, and before the first row that tells it as there.
func Of(rs []trace.Reading) []Setup {
	rows := make([]int, len(rs))
	for i := range rows {
		rows[i] = i
	}
	slices.SortStableFunc(rows, func(a, b int) int {
		return cmp.Or(cmp.Compare(rs[a].File, rs[b].File), cmp.Compare(rs[a].Row, rs[b].Row))
	})
	out := make([]Setup, len(rs))
	var now Setup
	carry := func(s *Setup) {
		s.Hookup = cmp.Or(s.Hookup, now.Hookup)
		s.FreqHz = cmp.Or(s.FreqHz, now.FreqHz)
		now = *s
	}
	for _, i := range rows {
		out[i].Hookup = rs[i].Hookup
		if rs[i].FreqHz > 0 {
			out[i].FreqHz = rs[i].FreqHz
		}
		carry(&out[i])
	}
	for _, i := range slices.Backward(rows) {
		carry(&out[i])
	}
	return out
}

// Alike puts for each of some set-ups one that stands for all that are the same: that of
// their lowest frequency.
func Alike(of []Setup) []Setup {
	all := slices.Clone(of)
	slices.SortFunc(all, func(a, b Setup) int {
		return cmp.Or(cmp.Compare(a.Hookup, b.Hookup), cmp.Compare(a.FreqHz, b.FreqHz))
	})
	all = slices.Compact(all)
	stands := make(map[Setup]Setup, len(all))
	for k, s := range all {
		stands[s] = s
		if k > 0 {
			if lowest := stands[all[k-1]]; lowest.Same(s) {
				stands[s] = lowest
			}
		}
	}
	out := make([]Setup, len(of))
	for i, s := range of {
		out[i] = stands[s]
	}
	return out
}

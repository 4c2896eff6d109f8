// Package passdepth compares the depths that passes of one walk read at the same places
// ([Compare]), in time and memory that grow as the readings do: who stands still at a place
// in two passes has as many pairs of depths as the product of both, and no more to tell.
package passdepth

import (
	"cmp"
	"math"
	"slices"
)

// Reading is a depth that was read at a station, in a pass of the walk.
type Reading struct {
	StationM, DepthM float64
	Pass             int
}

// Pair is two passes, with the ln of the later one's depth over the earlier one's at each
// place that both read: as often as the one with fewer depths there has some.
type Pair struct {
	Earlier, Later int
	Ln             []float64
}

// nextPasses is with how many of the passes that come next at a place each is compared.
// Judgement: who walks a place more often than that has no other receiver each time.
const nextPasses = 6

// Compare compares readings in the order of their stations, at places that are withinM long
// at most: the middle depths that each pass read there.
func Compare(on []Reading, withinM float64) []Pair {
	of := map[[2]int][]float64{}
	for from := 0; from < len(on); {
		to := from + 1
		for to < len(on) && on[to].StationM-on[from].StationM <= withinM {
			to++
		}
		here := middles(on[from:to])
		for k, a := range here {
			for _, b := range here[k+1 : min(len(here), k+1+nextPasses)] {
				at, ln := [2]int{a.pass, b.pass}, math.Log(b.depthM/a.depthM)
				for range min(a.n, b.n) {
					of[at] = append(of[at], ln)
				}
			}
		}
		from = to
	}
	out := make([]Pair, 0, len(of))
	for at, ln := range of {
		out = append(out, Pair{at[0], at[1], ln})
	}
	slices.SortFunc(out, func(a, b Pair) int { return cmp.Or(a.Earlier-b.Earlier, a.Later-b.Later) })
	return out
}

// middle is what a pass read at a place.
type middle struct {
	pass, n int
	depthM  float64
}

// middles are those of the passes that readings of one place are of, in the order of these.
func middles(here []Reading) (out []middle) {
	here = slices.Clone(here)
	slices.SortFunc(here, func(a, b Reading) int { return cmp.Or(a.Pass-b.Pass, cmp.Compare(a.DepthM, b.DepthM)) })
	for from := 0; from < len(here); {
		to := from + 1
		for to < len(here) && here[to].Pass == here[from].Pass {
			to++
		}
		out = append(out, middle{here[from].Pass, to - from, here[from+(to-from)/2].DepthM})
		from = to
	}
	return out
}

package bleed

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/walkorder"
)

// A null is read to the right of the direction of travel. On the way back along a line
// that is to the left of the way that its stations run, and its sign is turned.

// What a step against the stations tells at most of the direction of travel, what a
// turn costs, and what both come to at most a step of rows that are a walk, in nats: one
// step back is jitter, two are a way back, and rows in no order go to and fro all the
// time. Judgement.
const (
	mostDirectionNats = 5.0
	turnCosts         = 6.0
	mostOfWalk        = 1.0
	ownStep           = 0.3 // of the usual step, that steps differ by
)

// turnNulls turns the signs of nulls that were read against the direction of the
// stations, in the order of the times, or else of the file. Rows in no order tell no
// direction of travel: they stay as they are.
func turnNulls(rd []reading, rows []trace.Reading) {
	order, _ := walkorder.Travel(rows)
	if !slices.ContainsFunc(rd, func(r reading) bool { return r.NullOffsetM != 0 && !math.IsNaN(r.NullOffsetM) }) {
		return
	}
	at := make(map[int32]*reading, len(rd))
	for k := range rd {
		at[rd[k].index] = &rd[k]
	}
	walk := make([]*reading, 0, len(rd))
	for _, i := range order {
		if r := at[int32(i)]; r != nil {
			walk = append(walk, r)
		}
	}
	for k, back := range goesBack(walk) {
		if back {
			walk[k].NullOffsetM = -walk[k].NullOffsetM
		}
	}
}

// goesBack tells of each reading of a walk whether it was reached against the direction
// of the stations: the likeliest sequence of directions (Viterbi, 1967, IEEE Trans.
// Inf. Theory 13:260).
func goesBack(walk []*reading) []bool {
	n := len(walk)
	if n < 3 {
		return make([]bool, n)
	}
	step := make([]float64, n) // to each reading
	var lengths []float64
	for k := 1; k < n; k++ {
		step[k] = walk[k].StationM - walk[k-1].StationM
		lengths = append(lengths, math.Abs(step[k]))
	}
	usual := median(lengths)
	var cost [2]float64
	from := make([][2]int8, n)
	for k := 1; k < n; k++ {
		noise := math.Hypot(math.Hypot(positionSigma(*walk[k]), positionSigma(*walk[k-1])), ownStep*usual)
		nats := 0.0
		if noise > 0 {
			nats = math.Max(-mostDirectionNats, math.Min(mostDirectionNats, 2*step[k]*usual/(noise*noise)))
		}
		var next [2]float64
		for way, against := range [2]float64{math.Max(0, -nats), math.Max(0, nats)} {
			from[k][way] = int8(way)
			next[way] = cost[way]
			if other := cost[1-way] + turnCosts; other < cost[way] {
				from[k][way], next[way] = int8(1-way), other
			}
			next[way] += against
		}
		cost = next
	}
	back := make([]bool, n)
	way := int8(0)
	if cost[1] < cost[0] {
		way = 1
	}
	if cost[way] > mostOfWalk*float64(n-1) {
		return back
	}
	for k := n - 1; k >= 0; k-- {
		back[k] = way == 1
		way = from[k][way]
	}
	back[0] = back[1]
	return back
}

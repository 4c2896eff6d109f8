package fit

import (
	"context"
	"math"

	"loamline/geo"
)

// sample is one kept reading as the segmentation sees it, sorted by station.
type sample struct {
	p       geo.XY
	station float64
	wt      float64 // 1/variance of the effective noise across the line
	obs     int32
}

// span is a stretch of samples [from, to) of one shape.
type span struct {
	from, to int
	arc      bool
}

// Limits of the segmentation.
const (
	maxBreaks   = 600 // candidate break points that are all tried
	maxReach    = 160 // candidates that one piece may span beyond that
	minRadiusM  = 3.0
	maxRadiusM  = 400.0
	lineParams  = 3.0 // two of the line and one for where it starts
	arcParams   = 4.0
	strayParams = 2.4
)

// segment cuts the samples into straight lines, arcs and single strays at the
// least sum of weighted squares plus the price of each piece: dynamic
// programming (Bellman 1961, CACM 4:284) with Schwarz's price (1978, Ann. Stat.
// 6:461). Beyond maxBreaks the candidates are thinned, so that time stays near
// linear.
func segment(ctx context.Context, s []sample, minLengthM float64) ([]span, error) {
	n := len(s)
	stride := 1
	if n > maxBreaks {
		stride = 2
	}
	for n/stride > 20000 {
		stride *= 2
	}
	m := (n + stride - 1) / stride
	at := func(k int) int { return min(k*stride, n) }
	price := math.Log(math.Max(8, float64(n)))
	cost := make([]float64, m+1)
	from := make([]int32, m+1)
	kind := make([]bool, m+1)
	for k := 1; k <= m; k++ {
		cost[k] = math.Inf(1)
	}
	reach := m
	if n > maxBreaks {
		reach = maxReach
	}
	for i := 0; i < m; i++ {
		if i&255 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if c := cost[i] + strayParams*price*float64(at(i+1)-at(i)); c < cost[i+1] {
			cost[i+1], from[i+1], kind[i+1] = c, int32(i), false
		}
		extend(s, i, min(m, i+reach), at, minLengthM, price, func(k int, c float64, arc bool) {
			if cost[i]+c < cost[k] {
				cost[k], from[k], kind[k] = cost[i]+c, int32(i), arc
			}
		})
	}
	var out []span
	for k := m; k > 0; k = int(from[k]) {
		out = append(out, span{at(int(from[k])), at(k), kind[k]})
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out, nil
}

// extend prices the pieces that start at candidate i and end at each later one.
func extend(s []sample, i, last int, at func(int) int, minLengthM, price float64, offer func(int, float64, bool)) {
	var m moments
	origin := s[at(i)].p
	for k := i + 1; k <= last; k++ {
		for j := at(k - 1); j < at(k); j++ {
			m.add(s[j].p.Sub(origin), s[j].wt)
		}
		if m.n < 3 {
			continue
		}
		long := s[at(k)-1].station-s[at(i)].station >= minLengthM
		line := m.lineCost()
		if long {
			offer(k, line+lineParams*price, false)
		}
		bend := math.Inf(1)
		if m.n >= 4 && line > price {
			if c, cost, ok := m.arc(); ok && c.radius >= minRadiusM && c.radius <= maxRadiusM {
				bend = cost
				if long {
					offer(k, cost+arcParams*price, true)
				}
			}
		}
		if limit := 40*price + 2*float64(m.n); line > limit && bend > limit {
			return
		}
	}
}

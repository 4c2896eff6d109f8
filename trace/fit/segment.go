package fit

import (
	"context"
	"math"
	"slices"

	"loamline.example/geo"
)

// sample is a kept reading as the segmentation sees it, sorted by station. It is
// the walk's own and no copy, so that a long walk is in memory once; the stations
// stay as they are while a shape is fitted.
type sample = *observation

// span is a stretch of samples [from, to) of one shape.
type span struct {
	from, to int
	arc      bool
	skip     int8 // the second or third sample is left out from the start
}

// Limits of the segmentation. The prices of a line and an arc are those of a prototype study
// of the method, which took 2.4 for an outlier and 5 m for the least radius; the rest is
// judgement. Fewer breaks, less reach and fewer candidates save time and miss bends; a
// cheaper outlier loses readings of bends, a dearer one bends the line to leaps.
const (
	maxBreaks     = 600   // candidate break points that are all tried
	maxReach      = 160   // candidates that one piece may span beyond that
	maxCandidates = 20000 // whatever the number of samples
	startSamples  = 8     // among which the first three that are no suspects are looked for
	minRadiusM    = 3.0
	maxRadiusM    = 400.0
	lineParams    = 3.0 // two of the line and one for where it starts
	arcParams     = 4.0
	outlierParams = 2.1
	burstShare    = 0.6 // of the price of an outlier that follows another
	suspectParams = 1.2 // of a suspect
	suspectFits   = 4.0 // squared misfit at which a suspect is taken in
)

// segment cuts the samples into straight lines, arcs and single outliers at the
// least sum of weighted squares plus the price of each piece: dynamic
// programming (Bellman 1961, CACM 4:284) with Schwarz's price (1978, Ann. Stat.
// 6:461). Beyond maxBreaks the candidates are thinned, so that time stays near
// linear.
func segment(ctx context.Context, s []sample, minLengthM, nearM float64, known *firstCut) ([]span, error) {
	n := len(s)
	stride := 1
	if n > maxBreaks {
		stride = 2
	}
	for n/stride > maxCandidates {
		stride *= 2
	}
	m := (n + stride - 1) / stride
	price := segmentPrice(n)
	outlierCost := outlierParams * price
	cost := make([]float64, m+1)
	from := make([]int32, m+1)
	kind := make([]span, m+1)
	for k := 1; k <= m; k++ {
		cost[k] = math.Inf(1)
	}
	reach := m
	if n > maxBreaks {
		reach = maxReach
	}
	x := &cut{s, stride, reach, nearM}
	var steps []grown
	begins := known.begins(s)
	for i := 0; i < m; i++ {
		// Now and then alone, for it takes time. Judgement.
		if i&255 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if c := cost[i] + outlierPrice(s[x.at(i):x.at(i+1)], outlierCost); c < cost[i+1] {
			cost[i+1], from[i+1], kind[i+1] = c, int32(i), span{}
		}
		if begins != nil && !begins[x.at(i)] {
			continue
		}
		for skip := int8(0); skip <= outliersAtStart(s[x.at(i):], outlierCost); skip++ {
			steps = x.grow(steps[:0], i, skip, price)
			fromM, short := s[x.at(i)].stationM, true
			for k := range steps {
				g, end := &steps[k], i+1+k
				if short = short && s[x.at(end)-1].stationM-fromM < minLengthM; short { // they only get longer
					continue
				}
				if c := cost[i] + g.straight + lineParams*price; g.straightHeld && c < cost[end] {
					cost[end], from[end], kind[end] = c, int32(i), span{skip: skip}
				}
				if !g.bentHeld || g.straight <= price {
					continue
				}
				if c := cost[i] + g.bent + arcParams*price; c < cost[end] {
					cost[end], from[end], kind[end] = c, int32(i), span{arc: true, skip: skip}
				}
			}
		}
	}
	var out []span
	for k := m; k > 0; k = int(from[k]) {
		sp := kind[k]
		sp.from, sp.to = x.at(int(from[k])), x.at(k)
		out = append(out, sp)
	}
	slices.Reverse(out)
	known.note(s, out)
	return out, nil
}

// piece grows from its first sample, leaving out samples that it can't hold.
type piece struct {
	m     moments
	left  leftOut
	last  geo.XY  // sample held last
	nearM float64 // how far from it a suspect may be
	seen  int8    // samples offered that are no suspects, at most 4
	skip  int8    // which of them is left out from the start, 0 for none
}

// leftOut counts the samples that a piece leaves out.
type leftOut struct {
	outliers, more int32 // those that follow another are in more
	inARow         int32
}

// price is what they cost.
func (l leftOut) price(outlierCost float64) float64 {
	return float64(l.outliers)*outlierCost + float64(l.more)*(burstShare*outlierCost)
}

func newPiece(skip int8, nearM float64) piece {
	return piece{skip: skip, nearM: nearM}
}

// outliersAtStart tells how many ways of starting a piece are worth a try: the first
// three samples as they come, and where they are off one line also without the
// second or the third.
func outliersAtStart(s []sample, outlierCost float64) int8 {
	var m moments
	for _, q := range s[:min(startSamples, len(s))] {
		if !q.suspect {
			m.add(q.p.Sub(s[0].p), q.wt)
		}
		if m.n == 3 {
			if m.lineCost() > outlierCost {
				return 2
			}
			break
		}
	}
	return 0
}

// include adds a sample unless leaving it out is cheaper. It reports whether
// the sample is in.
func (p *piece) include(q sample, at geo.XY, d2, outlierCost float64) bool {
	in := p.takes(q, d2, outlierCost)
	if in {
		p.m.add(at, q.wt)
	}
	return in
}

// takes reports whether leaving a sample out is dearer, and counts it: d2 is its squared
// distance from the piece over the variance of that distance.
func (p *piece) takes(q sample, d2, outlierCost float64) bool {
	if q.suspect {
		if d2 == 0 || d2 > suspectFits || q.p.Dist(p.last) > p.nearM {
			return false
		}
	} else {
		p.seen = min(p.seen+1, 4)
		if d2 > outlierCost || (p.skip > 0 && p.seen == p.skip+1) {
			if p.left.inARow++; p.left.inARow > 1 {
				p.left.more++
			} else {
				p.left.outliers++
			}
			return false
		}
	}
	p.left.inARow, p.last = 0, q.p
	return true
}

// maxOutliersInARow ends a piece that has lost the readings. Judgement: as many as the
// search for blunders leaves out in a row.
const maxOutliersInARow = 6

// lost tells a piece that has lost the readings.
func (p *piece) lost() bool { return p.left.inARow > maxOutliersInARow }

// outlierPrice is what it costs to leave samples to no piece.
func outlierPrice(s []sample, outlierCost float64) float64 {
	c := 0.0
	for _, q := range s {
		if !q.suspect {
			c += outlierCost
		}
	}
	return c
}

// leastPriced is the number of readings below which the price stays: a handful
// says little about how many bends a line has. Above mostPriced it stays too. Judgement.
const leastPriced, mostPriced = 90.0, 2000.0

// segmentPrice is Schwarz's price of one parameter.
func segmentPrice(n int) float64 { return math.Log(clamp(float64(n), leastPriced, mostPriced)) }

// include marks the samples of a span that its piece holds and returns their sums
// about the first one. Suspects that came before the piece was there are looked
// at again.
func include(s []sample, included []bool, sp span, outlierCost, nearM float64) moments {
	p := newPiece(sp.skip, nearM)
	misfit := func(q sample) float64 {
		if sp.arc {
			return p.m.arcMisfit(q.p.Sub(s[0].p), q.wt)
		}
		return p.m.lineMisfit(q.p.Sub(s[0].p), q.wt)
	}
	for i, q := range s {
		included[i] = p.include(q, q.p.Sub(s[0].p), misfit(q), outlierCost)
	}
	for i := len(s) - 1; i >= 0; i-- {
		if included[i] {
			p.last = s[i].p
			continue
		}
		if d2 := misfit(s[i]); s[i].suspect && d2 > 0 && d2 < suspectFits && s[i].p.Dist(p.last) < nearM {
			included[i] = true
		}
	}
	return p.m
}

package fit

import (
	"context"
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Judgement: more is gathered by smaller figures, and tight bends with it.
const (
	minGathered   = 100 // readings of a walk that may be gathered at all
	blockLen      = 16  // readings over which progress is told from scatter
	denseScatter  = 2.5 // meanScatter over progress from which readings are gathered
	groupScatters = 1.5 // progress of a group, in scatters
	maxGroup      = 60
	leapScatters  = 6 // distance from its group's middle at which a reading has leapt
)

// Line fits one line. Fewer than two distinct usable positions give a Result without parts,
// not an error; the only error is the context's. It first gathers readings that stand much
// closer together than they scatter, as a positioning receiver's log of a fix a
// second does: consecutive readings become one at their median (Tukey 1977,
// Exploratory Data Analysis: running medians), in number such that a group gets
// on by about 1.5 times its readings' scatter. It needs times, for a dense cloud
// has no other order. Before that, positions written more coarsely than the stride
// are placed within what their digits allow.
func Line(ctx context.Context, readings []trace.Reading, opt Options) (Result, error) {
	in := offered(readings, opt)
	hideExposedDepths(in)
	moved := withinCells(in)
	res, err := fitGathered(ctx, in, opt)
	if err != nil {
		return res, err
	}
	asWritten(moved, &res)
	res.over(in, len(readings))
	return res, nil
}

func fitGathered(ctx context.Context, readings []reading, opt Options) (Result, error) {
	groups := gather(readings)
	if groups == nil {
		return fitLine(ctx, readings, opt)
	}
	in := make([]reading, len(groups))
	for g, members := range groups {
		in[g] = middle(readings, members)
	}
	res, err := fitLine(ctx, in, opt)
	if err != nil {
		return res, err
	}
	for e := range res.Exposures {
		res.Exposures[e].Index = groups[res.Exposures[e].Index][0]
	}
	res.Verdicts = verdictsOf(readings, groups, in, res)
	return res, nil
}

// gather groups the readings in the order of their times, or returns nil where
// they stand far enough apart, or have no times.
func gather(readings []reading) [][]int {
	order := timed(readings)
	if order == nil {
		return nil
	}
	scatterM, progressM := gait(readings, order)
	if !(scatterM > denseScatter*progressM) {
		return nil
	}
	size := maxGroup
	if n := groupScatters * scatterM / progressM; n < maxGroup {
		size = max(2, int(math.Round(n)))
	}
	pauseS := 10 * medianStepS(readings, order)
	var groups [][]int
	open := -1
	for k, i := range order {
		if readings[i].Exposed {
			groups = append(groups, []int{i})
			open = -1
			continue
		}
		if open < 0 || len(groups[open]) >= size || readings[i].TimeS-readings[order[k-1]].TimeS > pauseS {
			groups = append(groups, nil)
			open = len(groups) - 1
		}
		groups[open] = append(groups[open], i)
	}
	return groups
}

// timed returns the readings in the order of their times; nil where they are
// few or one has none.
func timed(readings []reading) []int {
	if len(readings) < minGathered {
		return nil
	}
	order := make([]int, len(readings))
	for i, r := range readings {
		if math.IsNaN(r.TimeS) {
			return nil
		}
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return readings[order[a]].TimeS < readings[order[b]].TimeS })
	return order
}

// gait tells the scatter of single readings, robustly from their second
// differences, from the progress a reading that the medians of blocks make.
func gait(readings []reading, order []int) (scatterM, progressM float64) {
	var second, steps []float64
	var last geo.XY
	for k, i := range order {
		if k > 0 && k+1 < len(order) {
			d := readings[i].Pos.Scale(2).Sub(readings[order[k-1]].Pos).Sub(readings[order[k+1]].Pos)
			second = append(second, math.Abs(d.X), math.Abs(d.Y))
		}
		if k%blockLen == 0 && k+blockLen <= len(order) {
			m := medianPos(readings, order[k:k+blockLen])
			if k > 0 {
				steps = append(steps, m.Dist(last)/blockLen)
			}
			last = m
		}
	}
	// The median of |x| is 0.6745 sigma, and a second difference of white noise
	// has sigma √6. Derived.
	return median(second) / 0.6745 / math.Sqrt(6), median(steps)
}

func medianStepS(readings []reading, order []int) float64 {
	var d []float64
	for k := 1; k < len(order); k++ {
		d = append(d, readings[order[k]].TimeS-readings[order[k-1]].TimeS)
	}
	return median(d)
}

func medianPos(readings []reading, members []int) geo.XY {
	x, y := make([]float64, len(members)), make([]float64, len(members))
	for k, i := range members {
		x[k], y[k] = readings[i].Pos.X, readings[i].Pos.Y
	}
	return geo.XY{X: median(x), Y: median(y)}
}

// middle is the reading that stands for a group: medians of what is known, and
// the first member's fix.
func middle(readings []reading, members []int) reading {
	r := readings[members[0]]
	if len(members) == 1 {
		return r
	}
	r.Pos = medianPos(readings, members)
	known := func(get func(reading) float64) float64 {
		var v []float64
		for _, i := range members {
			if x := get(readings[i]); !math.IsNaN(x) {
				v = append(v, x)
			}
		}
		if len(v) == 0 {
			return math.NaN()
		}
		return median(v)
	}
	r.TimeS = known(func(r reading) float64 { return r.TimeS })
	r.SigmaM = known(func(r reading) float64 { return r.SigmaM })
	r.HDOP = known(func(r reading) float64 { return r.HDOP })
	r.DepthM = known(func(r reading) float64 { return r.DepthM })
	return r
}

// verdictsOf gives each reading its group's fate and its own place; one that leapt
// away from its group took no part in the median and is a blunder.
func verdictsOf(readings []reading, groups [][]int, middles []reading, res Result) []Verdict {
	out := make([]Verdict, len(readings))
	for g, members := range groups {
		dist := make([]float64, len(members))
		for k, i := range members {
			dist[k] = readings[i].Pos.Dist(middles[g].Pos)
		}
		usual := median(append([]float64(nil), dist...))
		for k, i := range members {
			v := res.Verdicts[g]
			if len(members) > 2 && dist[k] > leapScatters*usual {
				v.Fate, v.Why = Blunder, remark.Outlier{From: remark.FromNeighbours, OffM: dist[k]}
			}
			if along, ok := dirAt(res.Parts, v.StationM); ok && len(members) > 1 {
				d := readings[i].Pos.Sub(middles[g].Pos)
				v.StationM += d.Dot(along)
				v.OffsetM += d.Cross(along)
			}
			out[i] = v
		}
	}
	return out
}

// dirAt is the direction of travel at a station, false off the line.
func dirAt(parts []trace.Part, stationM float64) (geo.XY, bool) {
	for _, part := range parts {
		p := part.Vertices
		k := sort.Search(len(p), func(k int) bool { return p[k].StationM >= stationM })
		if k == len(p) || k == 0 && p[0].StationM > stationM {
			continue
		}
		k = max(k, 1)
		d := p[k].Pos.Sub(p[k-1].Pos)
		if n := d.Norm(); n > 0 {
			return d.Scale(1 / n), true
		}
	}
	return geo.XY{}, false
}

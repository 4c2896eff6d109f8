package locate

import (
	"fmt"
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/walkorder"
)

// What tells readings without a course from a line. Judgement.
const (
	leastForCourse = 300  // fewer readings are fitted in no time, and judged by their fit
	courseWindow   = 1200 // readings that are looked at together
	courseWindows  = 9    // places of a long line that are looked at
	courseSquares  = 16   // squares along each side of the ground that they cover
	areaShare      = 0.25 // of the squares, that a course does not fill
	courseBlock    = 8    // readings whose middle is one point of the way, so that scatter makes no crossings
	crossingShare  = 0.2  // crossings from point to point, that no walk along a line makes
)

// refuseTangles sets the readings of a line aside that lie about an area in no
// order, and says so. Every course through them would be as good as every other,
// and looking for the best would take hours.
func refuseTangles(t trace.Trace, inputs []trace.Input) []trace.Problem {
	rs := walkorder.Taken(t.Readings, func(r *trace.Reading) bool { return r.Status == "" })
	if !withoutCourse(rs) {
		return nil
	}
	for _, r := range rs {
		r.SetAside(remark.NoCourse)
	}
	return []trace.Problem{{File: inputs[rs[0].File].Name, Row: int(rs[0].Row), Field: "line", Value: trace.Shorten(t.Name), Warn: true,
		Cause: fmt.Sprintf("its %d readings have no course: they go back and forth across an area, as readings of many lines under one name, or of no line, do", len(rs)),
		Hint:  "give each line its own name, and the readings times or the order in which they were taken"}}
}

// withoutCourse reports whether readings fill an area and cross their own way
// again and again, even where eight of them together are one point of it. Along a
// line they do not, however it winds and however they scatter.
func withoutCourse(rs []*trace.Reading) bool {
	if len(rs) < leastForCourse {
		return false
	}
	tangled, looked := 0, 0
	step := max(1, (len(rs)-courseWindow)/(courseWindows-1))
	for from := 0; from == 0 || from+courseWindow <= len(rs); from += step {
		window := make([]geo.XY, 0, courseWindow)
		for _, r := range rs[from:min(len(rs), from+courseWindow)] {
			window = append(window, r.Pos)
		}
		looked++
		if fillsArea(window) && crossesItself(blocks(window)) {
			tangled++
		}
	}
	return 3*tangled > looked
}

// fillsArea reports whether points lie all over a piece of ground. The outermost
// few do not count: one outlier would make the ground wide.
func fillsArea(ps []geo.XY) bool {
	xs, ys := make([]float64, len(ps)), make([]float64, len(ps))
	for i, p := range ps {
		xs[i], ys[i] = p.X, p.Y
	}
	slices.Sort(xs)
	slices.Sort(ys)
	k := len(ps) / 50 // one in fifty on each side (judged; no source)
	west, east, south, north := xs[k], xs[len(xs)-1-k], ys[k], ys[len(ys)-1-k]
	side := math.Max(east-west, north-south)
	if !(side > 0) {
		return false
	}
	seen := map[[2]int]bool{}
	for _, p := range ps {
		if p.X >= west && p.X <= east && p.Y >= south && p.Y <= north {
			seen[[2]int{int(courseSquares * (p.X - west) / side), int(courseSquares * (p.Y - south) / side)}] = true
		}
	}
	return float64(len(seen)) > areaShare*courseSquares*courseSquares
}

// crossesItself counts the crossings of the way from point to point.
func crossesItself(ps []geo.XY) bool {
	most := int(crossingShare * float64(len(ps)))
	n := 0
	for i := 3; i < len(ps); i++ {
		for k := 1; k < i-1; k++ {
			if segmentsCross(ps[i-1], ps[i], ps[k-1], ps[k]) {
				if n++; n > most {
					return true
				}
			}
		}
	}
	return false
}

// blocks are the middles of points that follow each other.
func blocks(ps []geo.XY) []geo.XY {
	var out []geo.XY
	for i := 0; i+courseBlock <= len(ps); i += courseBlock {
		var sum geo.XY
		for _, p := range ps[i : i+courseBlock] {
			sum = sum.Add(p)
		}
		out = append(out, sum.Scale(1.0/courseBlock))
	}
	return out
}

func segmentsCross(a, b, c, d geo.XY) bool {
	side := func(p, q, r geo.XY) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

package bleed

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Where two lines cross at an acute angle both are heard for some metres, and a trace that
// comes out of there on the other line goes on by that one's course, at its depth: nothing
// about it beyond is wrong but that it is not the line. A line with an elbow beside a neighbour
// that couples for a while does the same where its depth changes there as well, which is rarer.

// The course beyond a suspected stretch has turned by leastTurnedOn or more, and the depth
// stays by leastTurnedLn another; of turnedReadings on either side, or no fewer than
// leastTurnedOf of them. Judgement: an elbow of 11¼° is the least that is made, and a depth
// changes by less along most lines.
const (
	leastTurnedOn  = 7 * math.Pi / 180
	leastTurnedLn  = 0.12
	turnedReadings = 8
	leastTurnedOf  = 4
)

// turnedScore is the probability that such a stretch displaces a mark dangerously, where no
// more is known. Judgement.
const turnedScore = 0.1

// turnedOn are the stretches from suspected ones on, to the next or the end of the trace, on
// which the trace may follow the line whose signal it met there.
func (m unmapped) turnedOn(found []Stretch) []Stretch {
	var out []Stretch
	for _, s := range found {
		if s.Grade == trace.GradeWatch {
			continue
		}
		from, to := m.readingsIn(s.FromM, s.ToM)
		end := len(m.rd)
		for _, o := range found {
			if o.Grade != trace.GradeWatch && o.FromM > s.ToM {
				first, _ := m.readingsIn(o.FromM, o.ToM)
				end = min(end, first)
			}
		}
		if from > to || end-to-1 < leastTurnedOf {
			continue
		}
		// A stretch that begins with the trace has nothing before it but its own beginning.
		before := [2]int{max(0, from-turnedReadings), from}
		if from < leastTurnedOf {
			before = [2]int{0, min(leastTurnedOf, to)}
		}
		after := [2]int{max(to+1, end-turnedReadings), end}
		turn, ok := m.turnBetween(before, [2]int{to + 1, min(end, to+1+turnedReadings)})
		if !ok || math.Abs(turn) < leastTurnedOn || !m.stayOther(before, after) {
			continue
		}
		t := m.unexplained(to, end-1, trace.GradeWatch)
		t.Score, t.Jump, t.WidenLeftM, t.WidenRightM, t.LnDepth95 = turnedScore, true, 0, 0, math.NaN()
		t.Evidence = []trace.Remark{remark.TurnsAway{StationM: m.rd[to].StationM, TurnRad: math.Abs(turn)}}
		out = append(out, t)
	}
	return out
}

// turnBetween is by how much the course turns from some readings to others.
func (c *columns) turnBetween(a, b [2]int) (float64, bool) {
	dir := func(in [2]int) (d geo.XY, ok bool) {
		var at []geo.XY
		for k := in[0]; k < in[1]; k++ {
			if !c.rd[k].SetAside {
				at = append(at, c.rd[k].Pos)
			}
		}
		if len(at) < leastTurnedOf {
			return d, false
		}
		d = at[len(at)-1].Sub(at[0])
		return d, d.Norm() > 0
	}
	x, okX := dir(a)
	y, okY := dir(b)
	return math.Atan2(x.Cross(y), x.Dot(y)), okX && okY
}

// stayOther reports whether the depths of some readings are other than of others. The current
// does not tell: a neighbour that couples changes it for good where it comes and goes.
func (c *columns) stayOther(a, b [2]int) bool {
	level := func(in [2]int) float64 {
		var v []float64
		for k := in[0]; k < in[1]; k++ {
			if x, ok := c.depthOf(k); ok {
				v = append(v, x)
			}
		}
		if len(v) < leastTurnedOf-1 {
			return math.NaN()
		}
		return median(v)
	}
	return math.Abs(level(b)-level(a)) >= leastTurnedLn
}

package guard

import (
	"fmt"
	"math"

	"loamline/trace"
)

const (
	// sharpTurn is a turn that a walk along a line does not make again and again.
	sharpTurn = 50 * math.Pi / 180
	// zigzagTurns such turns to alternating sides are a sweep.
	zigzagTurns = 5
	// longer is how much longer than its ends are apart a line must be drawn there
	// to be said to follow the sweep.
	longer = 1.25
)

// zigzags finds stretches where the line as drawn goes from side to side with the
// walk: a receiver that was swept across the line, and not the line.
func (v *view) zigzags() []Breach {
	var walk []int
	for _, i := range v.order {
		r := &v.Readings[i]
		if r.Status != trace.StatusUsed {
			continue
		}
		// Readings at one place tell no direction.
		if n := len(walk); n > 0 && r.Pos.Dist(v.Readings[walk[n-1]].Pos) < 3*v.ownM(i) {
			continue
		}
		walk = append(walk, i)
	}
	var out []Breach
	run, last := 0, 0.0
	for k := 1; k <= len(walk); k++ {
		turn := 0.0
		if k+1 < len(walk) {
			turn = v.turn(walk[k-1], walk[k], walk[k+1])
		}
		if math.Abs(turn) > sharpTurn && (run == 0 || turn*last < 0) {
			run, last = run+1, turn
			continue
		}
		if run >= zigzagTurns {
			if b, ok := v.zigzag(walk[k-run-1 : min(k+1, len(walk))]); ok {
				out = append(out, b)
			}
		}
		run = 0
		if math.Abs(turn) > sharpTurn {
			run, last = 1, turn
		}
	}
	return out
}

// turn is the change of direction from ab to bc, in radians, positive to the left.
func (v *view) turn(a, b, c int) float64 {
	p, q := v.Readings[b].Pos.Sub(v.Readings[a].Pos), v.Readings[c].Pos.Sub(v.Readings[b].Pos)
	return math.Atan2(p.Cross(q), p.Dot(q))
}

// zigzag tells of one sweep, if the line follows it. The band must hold from the
// middle of the sweep to its sides.
func (v *view) zigzag(run []int) (Breach, bool) {
	part, lo, hi := v.feet[run[0]].part, math.Inf(1), math.Inf(-1)
	for _, i := range run {
		if v.feet[i].part == part {
			lo, hi = math.Min(lo, v.feet[i].stationM), math.Max(hi, v.feet[i].stationM)
		}
	}
	first, last := v.Readings[run[0]].Pos, v.Readings[run[len(run)-1]].Pos
	if hi-lo < longer*first.Dist(last) {
		return Breach{}, false
	}
	widest := 0.0
	for k := 1; k+1 < len(run); k++ {
		a, b, c := v.Readings[run[k-1]].Pos, v.Readings[run[k]].Pos, v.Readings[run[k+1]].Pos
		widest = math.Max(widest, b.Dist(a.Lerp(c, 0.5)))
	}
	return Breach{Kind: Zigzag, Readings: len(run), FromM: lo, ToM: hi, BandM: widest, Words: fmt.Sprintf(
		"the readings go from side to side by up to %s, and so does the line drawn. A receiver that is swept across a line does that, a line does not: the true line may lie anywhere between the sides.",
		v.rule.Units.Short(widest))}, true
}

package fit

import "math"

// sideChangePrice is what each change of the line to the other side costs, in
// parameters: lines bend, but they hardly ever bend out and back. Judgement.
const sideChangePrice = 1.25

// leastSideTurn is the turn to one side that counts as a side. Judgement.
const leastSideTurn = 20 * math.Pi / 180

// sideChanges counts how often the line between two corners changes the side to which
// it turns by more than leastSideTurn.
func (sh *shape) sideChanges() int {
	n, side, turned := 0, 0.0, 0.0
	pts := sh.line.Points
	for k := 1; k+1 < len(pts); k++ {
		if sh.corner[k] {
			side, turned = 0, 0
			continue
		}
		a, b := pts[k].Sub(pts[k-1]), pts[k+1].Sub(pts[k])
		t := math.Atan2(a.Cross(b), a.Dot(b))
		if t*turned < 0 {
			turned = 0
		}
		if turned += t; math.Abs(turned) > leastSideTurn && turned*side <= 0 {
			if side != 0 {
				n++
			}
			side = turned
		}
	}
	return n
}

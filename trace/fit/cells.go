package fit

import (
	"math"

	"loamline.example/geo"
)

// Where the digits of positions are coarser than the stride, several readings in a row
// share a figure, and the line through them is a stair that nobody walked. Such a figure
// says that the reading was taken somewhere in its cell, and the walk says beside that it
// got on evenly from reading to reading. So, each coordinate by itself, the walk is taken
// that quickens and turns least (the least sum of squared second differences: Whittaker
// 1923, Proc. Edinburgh Math. Soc. 41:63) of those that keep each reading in its cell: a
// quadratic programme with bounds, by a semismooth Newton method (Hintermüller, Ito and
// Kunisch 2003, SIAM J. Optim. 13:865), each step a band matrix. What the digits hide is
// in the bands as before.

const (
	// sharedPart of the steps, at least, end on the figure where they began if cells are
	// longer than strides: two readings a cell. Derived.
	sharedPart = 0.5
	// fewestInCells readings in a row are a walk that can get on evenly. Judgement.
	fewestInCells = 6
	// nextCell is how many cells away the next reading lies at most, where strides are
	// shorter than cells: in the next, and the figure half a step beside. Derived.
	nextCell = 1.5
	// middleCells is over how many cells a walk that fits in several ways goes by their
	// middles. Judgement.
	middleCells = 4
	// furthestReach is over how many readings that is at most. Judgement: digits.
	furthestReach = 100
	// cellSteps bounds the steps of the method, which ends after ten or so. Judgement.
	cellSteps = 60
)

// withinCells moves each reading of a walk whose digits are coarser than its stride to
// where the walk has it in its cell, and returns by how much each was moved; nil where
// none was.
func withinCells(in []reading) []geo.XY {
	rounded := false
	for i := range in {
		rounded = rounded || in[i].Cell != geo.XY{}
	}
	if !rounded {
		return nil
	}
	w := newWalk(in)
	if !w.order {
		return nil
	}
	walked := make([]int, 0, len(w.obs))
	for i := range w.obs {
		if !w.obs[i].exposed {
			walked = append(walked, int(w.obs[i].index))
		}
	}
	moved := make([]geo.XY, len(in))
	some := inCells(walked, func(i int) (*float64, float64, *float64) { return &in[i].Pos.X, in[i].Cell.X, &moved[i].X })
	if inCells(walked, func(i int) (*float64, float64, *float64) { return &in[i].Pos.Y, in[i].Cell.Y, &moved[i].Y }) || some {
		return moved
	}
	return nil
}

// inCells moves one coordinate of the readings of a walk; of gives it, how long its cell
// is, and where to note by how much it was moved.
func inCells(walked []int, of func(i int) (at *float64, cellM float64, moved *float64)) (some bool) {
	for from := 0; from < len(walked); {
		at, cell, _ := of(walked[from])
		middles, shared := []float64{*at}, 0
		for _, i := range walked[from+1:] {
			next, nextM, _ := of(i)
			step := math.Abs(*next - middles[len(middles)-1])
			if cell <= 0 || nextM != cell || step > nextCell*cell {
				break
			}
			if step < cell/2 {
				shared++
			}
			middles = append(middles, *next)
		}
		if n := len(middles); n >= fewestInCells && float64(shared) >= sharedPart*float64(n-1) && shared < n-1 {
			some = true
			for k, v := range evenWalk(middles, cell/2, float64(n)/float64(n-shared)) {
				at, _, moved := of(walked[from+k])
				*moved = v - *at
				*at = v
			}
		}
		from += len(middles)
	}
	return some
}

// evenWalk is the walk that keeps each reading within half a cell of its middle and
// quickens and turns least, with so many readings a cell.
func evenWalk(middles []float64, half, aCell float64) []float64 {
	n := len(middles)
	// A smoothing spline's reach is the fourth root of what smoothness weighs over
	// closeness (Silverman 1984, Ann. Statist. 12:898).
	near := math.Pow(math.Min(middleCells*aCell, furthestReach), -4)
	x, beyond := make([]float64, n), make([]int8, n)
	for range cellSteps {
		m := newBanded(n)
		for i := range n {
			m.a[3*i] = near
			x[i] = near * middles[i]
			if beyond[i] != 0 {
				m.a[3*i]++ // as stiff as the walk itself is from one reading to the next
				x[i] += middles[i] + float64(beyond[i])*half
			}
		}
		for i := 0; i+2 < n; i++ {
			for a, u := range secondDifference {
				for b := a; b < 3; b++ {
					m.a[3*(i+a)+b-a] += u * secondDifference[b]
				}
			}
		}
		m.factor()
		m.solve(x)
		settled := true
		for i, v := range x {
			var side int8
			if off := v - middles[i]; math.Abs(off) > half {
				side = int8(math.Copysign(1, off))
			}
			settled = settled && side == beyond[i]
			beyond[i] = side
		}
		if settled {
			break
		}
	}
	for i := range x {
		x[i] = clamp(x[i], middles[i]-half, middles[i]+half)
	}
	return x
}

// secondDifference is that of three readings in a row. Derived.
var secondDifference = [3]float64{1, -2, 1}

// asWritten has the verdicts tell where the readings stand by their own figures.
func asWritten(moved []geo.XY, res *Result) {
	for i, by := range moved {
		v := &res.Verdicts[i]
		if along, ok := dirAt(res.Parts, v.StationM); ok {
			v.StationM -= by.Dot(along)
			v.OffsetM -= by.Cross(along)
		}
	}
}

package plan

import "math"

// taken are the reserved places of a board, sorted into squares: a crowded
// street has thousands of them, and each label tries hundreds of places.
type taken struct {
	rects  []Rect
	square map[[2]int][]int32
	stamp  []int32 // the last question in which a place was met
	asked  int32
}

const takenSquareMM = 12.0

// squares are the first and last squares that a rectangle lies in.
func squares(r Rect) (x0, y0, x1, y1 int) {
	at := func(v float64) int { return int(math.Floor(math.Max(-1e6, math.Min(1e6, v)) / takenSquareMM)) }
	return at(r.X), at(r.Y), at(r.Right()), at(r.Bottom())
}

func (t *taken) add(r Rect) {
	if t.square == nil {
		t.square = map[[2]int][]int32{}
	}
	n := int32(len(t.rects))
	t.rects, t.stamp = append(t.rects, r), append(t.stamp, 0)
	x0, y0, x1, y1 := squares(r)
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			t.square[[2]int{x, y}] = append(t.square[[2]int{x, y}], n)
		}
	}
}

// each calls f once for every place that may touch a rectangle, until f says to
// stop.
func (t *taken) each(r Rect, f func(Rect) bool) {
	t.asked++
	x0, y0, x1, y1 := squares(r)
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			for _, n := range t.square[[2]int{x, y}] {
				if t.stamp[n] == t.asked {
					continue
				}
				t.stamp[n] = t.asked
				if !f(t.rects[n]) {
					return
				}
			}
		}
	}
}

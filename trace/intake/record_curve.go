package intake

import (
	"errors"
	"fmt"
	"math"
)

// chordErrorM is how far the chords that stand for an arc lie off it at most.
const chordErrorM = 0.005

// mostChords bounds what one arc becomes: more than these have no place on the
// ground, a circle of ten thousand kilometres has a hundred thousand.
const mostChords = 200_000

var (
	errOddArc     = errors.New("an arc of its curve is not given by three positions")
	errArcTooWide = errors.New("an arc of its curve is too wide for a line on the ground")
	errBrokenLine = errors.New("the pieces of its curve do not join")
)

// chordError is chordErrorM in the unit of the layer's coordinates. In degrees an
// arc is one in the plane of longitude and latitude, as databases and desktop
// programs draw it; a degree is nowhere longer than at the poles, 111.7 km.
func (r *wkbReader) chordError() float64 {
	const longestDegreeM = 111_700.0
	if r.frame.CRS.Geographic() {
		return chordErrorM / longestDegreeM
	}
	return chordErrorM / r.frame.CRS.UnitM
}

// arcs reads a circular string (ISO/IEC 13249-3, ST_CircularString; well-known
// binary as OGC 06-103r4 has it): of its positions each second one lies on the arc
// between its neighbours.
func (r *wkbReader) arcs(numbers int) ([]xy, error) {
	p, err := r.positions(numbers)
	if err != nil || len(p) == 0 {
		return nil, err
	}
	if len(p) < 3 || len(p)%2 == 0 {
		return nil, errOddArc
	}
	out := p[:1:1]
	for i := 0; i+2 < len(p); i += 2 {
		if out, err = appendArc(out, p[i], p[i+1], p[i+2], r.chordError()); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// appendArc appends the arc from a through b to c, without a, in chords that lie
// within an error of it; a, b and c are corners of them. Where c is a the arc is
// the whole circle whose diameter is ab. Three positions in a line are a line.
//
// A chord over an angle θ lies off its arc of radius r by the sagitta, at most
// r(1 − cos(θ/2)) (Weisstein, "Sagitta", MathWorld), which is 2r sin²(θ/4): the
// greatest angle is 4 asin √(e/2r).
func appendArc(out []xy, a, b, c xy, chordError float64) ([]xy, error) {
	center, ok := arcCenter(a, b, c)
	if !ok {
		return append(out, b, c), nil
	}
	radius := math.Hypot(a.x-center.x, a.y-center.y)
	from := math.Atan2(a.y-center.y, a.x-center.x)
	full := 2 * math.Pi
	toB := math.Mod(math.Atan2(b.y-center.y, b.x-center.x)-from+full, full)
	toC := math.Mod(math.Atan2(c.y-center.y, c.x-center.x)-from+full, full)
	if c == a {
		toC = full
	}
	if toB > toC { // it turns the other way
		toB, toC = toB-full, toC-full
	}
	step := 4 * math.Asin(math.Min(1/math.Sqrt2, math.Sqrt(chordError/(2*radius)))) // half a circle at most
	for _, piece := range [][2]float64{{0, toB}, {toB, toC}} {
		n := math.Ceil(math.Abs(piece[1]-piece[0]) / step)
		if !(n <= mostChords) {
			return nil, errArcTooWide
		}
		for k := 1.0; k < n; k++ {
			at := from + piece[0] + (piece[1]-piece[0])*k/n
			out = append(out, xy{center.x + radius*math.Cos(at), center.y + radius*math.Sin(at)})
		}
		if piece[0] == 0 {
			out = append(out, b)
		} else {
			out = append(out, c)
		}
	}
	return out, nil
}

// arcCenter is the middle of the circle through three positions, about the first
// of them so that far-off origins cost no figures; false where they lie in a line,
// as far as their figures tell.
func arcCenter(a, b, c xy) (xy, bool) {
	bx, by := b.x-a.x, b.y-a.y
	if a == c {
		return xy{a.x + bx/2, a.y + by/2}, bx != 0 || by != 0
	}
	cx, cy := c.x-a.x, c.y-a.y
	cross := bx*cy - by*cx
	bb, cc := bx*bx+by*by, cx*cx+cy*cy
	if !(math.Abs(cross) > 1e-12*(bb+cc)) {
		return xy{}, false
	}
	return xy{a.x + (cy*bb-by*cc)/(2*cross), a.y + (bx*cc-cx*bb)/(2*cross)}, true
}

// compound reads a curve of straight and round pieces, each of which begins where
// the one before ended.
func (r *wkbReader) compound() ([]xy, error) {
	n, err := r.uint32()
	if err != nil {
		return nil, err
	}
	var out []xy
	for range n {
		piece, err := r.piece()
		switch {
		case err != nil:
			return nil, err
		case len(piece) == 0:
			continue
		case len(out) == 0:
			out = piece
			continue
		}
		last := out[len(out)-1]
		if !(math.Hypot(piece[0].x-last.x, piece[0].y-last.y) <= r.chordError()) {
			return nil, errBrokenLine
		}
		out = append(out, piece[1:]...)
	}
	return out, nil
}

func (r *wkbReader) piece() ([]xy, error) {
	kind, numbers, err := r.header()
	switch {
	case err != nil:
		return nil, err
	case kind == 2:
		return r.positions(numbers)
	case kind == 8:
		return r.arcs(numbers)
	}
	return nil, fmt.Errorf("a piece of its curve is of the kind %d", kind)
}

// curvedRings reads an area whose rings are lines or curves.
func (r *wkbReader) curvedRings(depth int) error {
	lines := len(r.lines)
	err := r.parts(depth)
	if !r.areas {
		r.lines = r.lines[:lines]
	}
	return err
}

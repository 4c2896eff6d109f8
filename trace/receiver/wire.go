package receiver

import "math"

// Point is a place in space: X across, Y along, Z up, in metres, with the
// lower antenna's height as 0.
type Point struct{ X, Y, Z float64 }

func (p Point) sub(q Point) Point   { return Point{p.X - q.X, p.Y - q.Y, p.Z - q.Z} }
func (p Point) dot(q Point) float64 { return p.X*q.X + p.Y*q.Y + p.Z*q.Z }
func (p Point) norm() float64       { return math.Sqrt(p.dot(p)) }
func (p Point) cross(q Point) Point {
	return Point{p.Y*q.Z - p.Z*q.Y, p.Z*q.X - p.X*q.Z, p.X*q.Y - p.Y*q.X}
}

// Wire is a line of straight pieces that carries CurrentA along its points, or
// PieceA from each point to the next where that is given. The current's way
// back through the soil is left out, as near its ends only.
type Wire struct {
	Points   []Point
	CurrentA float64
	PieceA   []float64 // one fewer than points

	laid []piece // see Laid
}

// Laid is a wire that is to be asked in dozens of places, and keeps what is the same for
// all of them. Its points and currents are to stay as they are.
func (w Wire) Laid() Wire {
	w.laid = w.pieces()
	return w
}

// piece is a straight piece of a wire, with what its field anywhere depends on.
type piece struct {
	from, to Point
	l        Point   // from one to the other
	n2       float64 // square of that length
	half     float64 // tesla metres by its current, halved
}

// pieces are those of some length.
func (w Wire) pieces() []piece {
	if w.laid != nil {
		return w.laid
	}
	out := make([]piece, 0, len(w.Points))
	for i := 1; i < len(w.Points); i++ {
		l := w.Points[i].sub(w.Points[i-1])
		n := l.norm()
		if n == 0 {
			continue
		}
		amps := w.CurrentA
		if w.PieceA != nil {
			amps = w.PieceA[i-1]
		}
		out = append(out, piece{w.Points[i-1], w.Points[i], l, n * n, TeslaMetrePerAmpere / 2 * amps})
	}
	return out
}

// B returns the field vector in tesla, by the law of Biot and Savart for each
// straight piece: k I/r · ½(sin α1 + sin α2), square to piece and radius.
func (w Wire) B(at Point) Point { return field(w.pieces(), at) }

func field(pieces []piece, at Point) Point {
	var sum, b Point
	far := 0.0 // norm of b
	if len(pieces) > 0 {
		b = at.sub(pieces[0].from)
		far = b.norm()
	}
	for i := range pieces {
		p := &pieces[i]
		a, near := b, far
		b = at.sub(p.to) // where the next one begins, but for pieces without length
		far = b.norm()
		c := p.l.cross(a)
		r2 := c.dot(c) / p.n2 // square of the distance from the piece's axis
		if r2 == 0 {
			continue
		}
		f := p.half * (p.l.dot(a)/near - p.l.dot(b)/far) / (p.n2 * r2)
		sum = Point{sum.X + f*c.X, sum.Y + f*c.Y, sum.Z + f*c.Z}
	}
	return sum
}

// PeakM returns where, along the unit vector across from the place over, the
// magnitude of the component along across is greatest, sought within one
// depthM on each side by golden sections (Kiefer, 1953), and from where it lies within a
// quarter of that by parabolas, of which the second errs by less than 1e-4 of it.
func (w Wire) PeakM(over, across Point, depthM float64) float64 {
	pieces := w.pieces()
	at := func(m float64) float64 {
		return math.Abs(field(pieces, Point{over.X + m*across.X, over.Y + m*across.Y, over.Z}).dot(across))
	}
	const ratio = 0.6180339887498949 // derived: of the golden section
	a, b := -depthM, depthM
	c, d := b-ratio*(b-a), a+ratio*(b-a)
	fc, fd := at(c), at(d)
	for b-a > depthM/4 {
		if fc > fd {
			b, d, fd = d, c, fc
			c = b - ratio*(b-a)
			fc = at(c)
		} else {
			a, c, fc = c, d, fd
			d = a + ratio*(b-a)
			fd = at(d)
		}
	}
	peak := (a + b) / 2
	for _, h := range [...]float64{(b - a) / 2, (b - a) / 16} {
		left, mid, right := at(peak-h), at(peak), at(peak+h)
		if curved := left - 2*mid + right; curved < 0 {
			peak += h * math.Max(-1, math.Min(1, (left-right)/(2*curved)))
		}
	}
	return math.Max(-depthM, math.Min(depthM, peak))
}

// Across returns the null's offset along the unit vector across from the place
// over, and the two-antenna depth there by the horizontal component along
// across. The null is sought within reachM on each side of over; NaN without.
func (w Wire) Across(over, across Point, gapM, reachM float64) (nullM, depthM float64) {
	pieces := w.pieces()
	down := func(m float64) float64 {
		return field(pieces, Point{over.X + m*across.X, over.Y + m*across.Y, over.Z}).Z
	}
	up := Point{over.X, over.Y, over.Z + gapM}
	low, high := math.Abs(field(pieces, over).dot(across)), math.Abs(field(pieces, up).dot(across))
	depthM = TwoAntennaDepthM(low, high, gapM)
	left, right := down(-reachM), down(reachM)
	if left*right > 0 {
		return math.NaN(), depthM
	}
	return zeroOf(down, -reachM, reachM, left, right), depthM
}

// zeroOf is where a function is zero between two places where its values have not the same
// sign, to a millionth of the way between them, less closely where it is flat: by secants, with
// half the value at an end that stays (the Illinois method; Dowell and Jarratt, 1971, BIT
// 11:168), and halvings where these do not get there.
func zeroOf(f func(float64) float64, lo, hi, left, right float64) float64 {
	near := 1e-6 * (hi - lo)
	x := lo
	for k := range 48 { // steps: twice what halvings alone take
		before := x
		if x = hi - right*(hi-lo)/(right-left); k >= 24 || !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		v := f(x)
		if v == 0 || hi-lo < near || k > 0 && math.Abs(x-before) < near/4 {
			return x
		}
		if v*left > 0 {
			if k > 0 && before <= lo {
				right /= 2
			}
			lo, left = x, v
		} else {
			if k > 0 && before >= hi {
				left /= 2
			}
			hi, right = x, v
		}
	}
	return x
}

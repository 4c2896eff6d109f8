package receiver

import (
	"math"

	"loamline.example/geo"
)

// SeenLeg is a level straight piece of a line from over the place whose field is asked for:
// how far off its axis passes, squared, what part of its field is across, and its ends
// along its axis. It is a [Wire] of one piece for whoever asks a hundred thousand times: of
// the field one part alone, at two heights, by a current of one.
type SeenLeg struct{ off2, along, x, y float64 }

// SeeLeg is a leg from a to c seen from over the origin, where the line under test heads
// along the unit vector t.
func SeeLeg(a, c, t geo.XY) SeenLeg {
	l := c.Sub(a)
	n := l.Norm()
	if n == 0 {
		return SeenLeg{}
	}
	u := l.Scale(1 / n)
	off := u.Cross(a)
	return SeenLeg{off * off, u.Dot(t), -u.Dot(a), u.Dot(c)}
}

// Fields are those of the current in a leg at both antennas, the lower at depthM over
// the origin, along the horizontal normal of the heading there, in units of
// [TeslaMetrePerAmpere] (Biot and Savart, as [Wire.B]).
func (l SeenLeg) Fields(depthM, gapM float64) (low, high float64) {
	if l.x == 0 && l.y == 0 {
		return 0, 0 // without length
	}
	at := func(h float64) float64 {
		r2 := l.off2 + h*h
		return h * l.along / (2 * r2) * (l.x/math.Sqrt(l.x*l.x+r2) + l.y/math.Sqrt(l.y*l.y+r2))
	}
	return at(depthM), at(depthM + gapM)
}

package receiver

import (
	"math"

	"loamline.example/geo"
)

// SeenLeg is a level straight piece of a line from over the place whose field is asked for:
// how far off its axis passes, to its left, what part of its field is across, and its ends
// along its axis. It is a [Wire] of one piece for whoever asks a hundred thousand times, by a
// current of one.
type SeenLeg struct{ off, along, x, y float64 }

// SeeLeg is a leg from a to c seen from over the origin, where the line under test heads
// along the unit vector t.
func SeeLeg(a, c, t geo.XY) SeenLeg {
	l := c.Sub(a)
	n := l.Norm()
	if n == 0 {
		return SeenLeg{}
	}
	u := l.Scale(1 / n)
	return SeenLeg{u.Cross(a), u.Dot(t), -u.Dot(a), u.Dot(c)}
}

// Fields are those of the current in a leg at both antennas, the lower at depthM over
// the origin, along the horizontal normal of the heading there, in units of
// [TeslaMetrePerAmpere] (Biot and Savart, as [Wire.B]).
func (l SeenLeg) Fields(depthM, gapM float64) (low, high float64) {
	if l.x == 0 && l.y == 0 {
		return 0, 0 // without length
	}
	near, nearEnds := l.ends(depthM)
	far, farEnds := l.ends(depthM + gapM)
	return depthM * l.along / (2 * near) * nearEnds, (depthM + gapM) * l.along / (2 * far) * farEnds
}

// Field is that of the current in a leg heightM over it, in the same units: along the
// horizontal normal of the heading, and downward.
func (l SeenLeg) Field(heightM float64) (across, down float64) {
	if l.x == 0 && l.y == 0 {
		return 0, 0
	}
	r2, ends := l.ends(heightM)
	return heightM * l.along / (2 * r2) * ends, l.off / (2 * r2) * ends
}

// ends is the square of the distance from the axis of a leg, and the sum of the cosines under
// which its ends are seen.
func (l SeenLeg) ends(heightM float64) (r2, ends float64) {
	r2 = l.off*l.off + heightM*heightM
	return r2, l.x/math.Sqrt(l.x*l.x+r2) + l.y/math.Sqrt(l.y*l.y+r2)
}

package cases

import (
	"math"

	"loamline.example/geo"
)

// straightPath runs east.
func straightPath(lengthM float64) []geo.XY { return []geo.XY{{}, {X: lengthM}} }

// polyPath goes through places given as x, y, x, y.
func polyPath(xy ...float64) []geo.XY {
	var out []geo.XY
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, geo.XY{X: xy[i], Y: xy[i+1]})
	}
	return out
}

// arcPath is a part of a circle, counter-clockwise from its east.
func arcPath(radiusM, degrees float64) []geo.XY {
	n := int(math.Ceil(degrees))
	var out []geo.XY
	for i := 0; i <= n; i++ {
		a := degrees * math.Pi / 180 * float64(i) / float64(n)
		out = append(out, geo.XY{X: radiusM * math.Cos(a), Y: radiusM * math.Sin(a)})
	}
	return out
}

// wavePath winds about the east.
func wavePath(lengthM, amplitudeM, waveM float64) []geo.XY {
	var out []geo.XY
	n := int(math.Ceil(lengthM))
	for i := 0; i <= n; i++ {
		x := lengthM * float64(i) / float64(n)
		out = append(out, geo.XY{X: x, Y: amplitudeM * math.Sin(2*math.Pi*x/waveM)})
	}
	return out
}

// detourPath goes straight but for a stretch that lies aside.
func detourPath(lengthM, fromM, toM, asideM float64) []geo.XY {
	return polyPath(0, 0, fromM, 0, fromM, asideM, toM, asideM, toM, 0, lengthM, 0)
}

// uTurnPath goes out and comes back beside itself.
func uTurnPath(lengthM, apartM float64) []geo.XY {
	return polyPath(0, 0, lengthM, 0, lengthM, apartM, 0, apartM)
}

// dive is a depth that goes from a to z between two stations and back between
// two more.
func dive(a, z, downM, bottomM, riseM, topM float64) func(float64) float64 {
	return func(s float64) float64 {
		switch {
		case s <= downM || s >= topM:
			return a
		case s < bottomM:
			return a + (z-a)*(s-downM)/(bottomM-downM)
		case s <= riseM:
			return z
		}
		return z + (a-z)*(s-riseM)/(topM-riseM)
	}
}

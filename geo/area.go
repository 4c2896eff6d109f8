package geo

import "math"

// Area is where a system is meant to be used, as the EPSG dataset has it: a name
// and a box in degrees on WGS 84, over the antimeridian where WestDeg is the
// greater.
type Area struct {
	WestDeg, SouthDeg, EastDeg, NorthDeg float64
	Name                                 string // "Netherlands - onshore"
}

// Holds reports whether a position lies in the box. Its sides are rounded to 0.01
// degrees, and so much is let through beyond them.
func (a Area) Holds(p LonLat) bool { return p.Valid() && a.holds(p, 0.01) }

func (a Area) holds(p LonLat, marginDeg float64) bool {
	if p.LatDeg < a.SouthDeg-marginDeg || p.LatDeg > a.NorthDeg+marginDeg {
		return false
	}
	if a.WestDeg > a.EastDeg { // over the antimeridian
		return p.LonDeg >= a.WestDeg-marginDeg || p.LonDeg <= a.EastDeg+marginDeg
	}
	return p.LonDeg >= a.WestDeg-marginDeg && p.LonDeg <= a.EastDeg+marginDeg
}

// sizeDeg2 orders areas from a city's to the world, by what the box covers.
func (a Area) sizeDeg2() float64 {
	width := a.EastDeg - a.WestDeg
	if width < 0 {
		width += 360
	}
	rad := math.Pi / 180
	return width / rad * (math.Sin(a.NorthDeg*rad) - math.Sin(a.SouthDeg*rad))
}

// Area is where the system is meant to be used; a job that lies outside has most
// likely the wrong code.
func (c CRS) Area() Area { return c.area }

// Holds reports whether a position, on WGS 84 or on the system's own frame, lies
// where the system is meant to be used.
func (c CRS) Holds(p LonLat) bool { return c.area.Holds(p) }

// Covers is Holds with a margin of about 100 km: elsewhere a wrong unit or sign is
// likely.
func (c CRS) Covers(p LonLat) bool {
	return p.Valid() && c.area.holds(p, 1/math.Max(0.3, math.Cos(p.LatDeg*math.Pi/180)))
}

package bleed

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// streetBend is a line in a street that bends at 60 m with a radius of 30 m.
func streetBend(s, asideM float64) geo.XY {
	const bendM, radiusM = 60, 30
	if s <= bendM {
		return geo.XY{X: s, Y: -asideM}
	}
	a := (s - bendM) / radiusM
	return geo.XY{X: bendM + (radiusM+asideM)*math.Sin(a), Y: radiusM - (radiusM+asideM)*math.Cos(a)}
}

// Marks go over to a line 3 m beside just before both bend with the street: the
// line's own course, known from the geometry, lies in the strip that follows the
// street, whichever way the line was walked.
func TestOwnCourseBendsWithTheStreet(t *testing.T) {
	for _, away := range []float64{1, -1} {
		const leaveM, endM = 50, 100
		var at []geo.XY
		for s := 0.0; s <= endM; s += 2 {
			part := max(0, min(1, (s-leaveM)/10))
			at = append(at, streetBend(s, 3*part*part*(3-2*part)))
		}
		c := &columns{}
		for i := range at {
			k := i
			if away < 0 {
				k = len(at) - 1 - i
			}
			c.rd = append(c.rd, reading{Reading: trace.Reading{Pos: at[k], HAccM: 0.02, Fix: 4, DepthM: 1}})
			c.depth = append(c.depth, 1)
		}
		line := Line{}
		for i := range c.rd {
			line.Points = append(line.Points, c.rd[i].Pos)
			if i > 0 {
				c.rd[i].StationM = c.rd[i-1].StationM + c.rd[i].Pos.Dist(c.rd[i-1].Pos)
			}
		}
		m := meeting{neighbour: neighbour{at: outOfReach(len(c.rd))}, line: line, col: c, on: make([]onNeighbour, len(c.rd))}
		from, to := leaveM/2, len(at)-1
		if away < 0 {
			from, to = 0, len(at)-1-leaveM/2
		}
		own, ok := carryOn(c, from, to)
		if !ok {
			t.Fatal("not carried on")
		}
		if off, sigma := own.beside(streetBend(endM, 0)); math.Abs(off) < 5*sigma {
			t.Fatalf("carried straight on it is only %.1f m off: no test of the bend", off)
		}
		street, ok := m.street(own, from, to)
		if !ok {
			t.Fatal("no course along the street")
		}
		strip := street.strip()
		course := carried{path: strip.Path, sigmaM: strip.Half95M}
		for s := float64(leaveM); s <= endM; s += 2 {
			if off, half := course.beside(streetBend(s, 0)); math.Abs(off) > half || half > 2 {
				t.Errorf("walked %+g: at %g m the line lies %.2f m off a course known to ± %.2f m", away, s, off, half)
			}
		}
		if want := -3 * away; math.Abs(street.asideM-want) > 1.96*street.sigmaFrom(own) {
			t.Errorf("walked %+g: the line lies %.1f m to the right, want %.1f", away, street.asideM, want)
		}
	}
}

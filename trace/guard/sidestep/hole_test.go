package sidestep

import (
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
)

// TestOverHole: the course behind lies as far to the side as it was laid, to the right for
// a walk either way; a run that bends before the hole is asked from the bend on.
func TestOverHole(t *testing.T) {
	for _, turn := range []float64{0, 1, 2.5, -2} {
		sin, cos := math.Sincos(turn)
		laid := func(x, y float64) geo.XY { return geo.XY{X: x*cos - y*sin, Y: x*sin + y*cos} }
		for _, rightM := range []float64{-2.4, 1.1} {
			before := []geo.XY{laid(-20, 8), laid(-18, 6), laid(-16, 4), laid(-14, 2)}
			var after []geo.XY
			for x := -12.0; x <= 0; x += 2 {
				before = append(before, laid(x, 0))
				after = append(after, laid(48+x, -rightM))
			}
			back := slices.Clone(before)
			slices.Reverse(back)
			s, ok := OverHole(back, after, 0.02)
			if !ok || math.Abs(s.LateralM-rightM) > 1e-9 {
				t.Errorf("%.1f m to the right: %+v, %v", rightM, s, ok)
			}
			if again, ok := OverHole(after, back, 0.02); !ok || math.Abs(again.LateralM-rightM) > 1e-9 {
				t.Errorf("%.1f m to the right, walked back: %+v, %v", rightM, again, ok)
			}
			if s, ok := OverHole(back[:3], after, 0.02); ok {
				t.Errorf("three places tell a run: %+v", s)
			}
		}
	}
}

// A stride that goes aside by 0.4 m is a step, and a course that goes aside by as much over
// several strides is none.
func TestAtOnce(t *testing.T) {
	at := func(y ...float64) (out []geo.XY) {
		for i, y := range y {
			out = append(out, geo.XY{X: 1.5 * float64(i), Y: y})
		}
		return out
	}
	for _, c := range []struct {
		at     []geo.XY
		before int
		want   float64
	}{
		{at(0, 0, 0, 0, 0.4, 0.4, 0.4, 0.4), 3, -0.4},
		{at(0, 0.02, 0, -0.02, -0.42, -0.4, -0.38, -0.4), 3, 0.4},
		{at(0, 0, 0, 0.1, 0.2, 0.3, 0.4, 0.4, 0.4, 0.4), 4, 0},
		{at(0, 0, 0, 0, 0.2, 0.2, 0.2, 0.2), 3, 0},
	} {
		s, ok := AtOnce(c.at, c.before)
		if ok != (c.want != 0) || ok && math.Abs(s.LateralM-c.want) > 0.05 {
			t.Errorf("%v: %+v %v, want %.1f", c.at, s, ok, c.want)
		}
	}
}

// TestAcrossHole: long runs see a small step across a hole; short ones do not, nor is a
// course that goes straight on, or that one bend explains, a step.
func TestAcrossHole(t *testing.T) {
	for _, c := range []struct {
		name          string
		places        int
		rightM, turnX float64
		want          bool
	}{
		{"0.4 m aside", 10, 0.4, 0, true},
		{"0.4 m to the left", 10, -0.4, 0, true},
		{"0.2 m aside", 10, 0.2, 0, false},
		{"straight on", 10, 0, 0, false},
		{"by short runs", 5, 0.4, 0, false},
		{"turned by 3 degrees in the hole", 10, 0.25, 0.05, false},
	} {
		var before, after []geo.XY
		for k := range c.places {
			x := 2 * float64(k)
			before = append(before, geo.XY{X: -x})
			after = append(after, geo.XY{X: 10 + x, Y: -c.rightM - c.turnX*x})
		}
		s, ok := AcrossHole(before, after, 0.02)
		if ok != c.want || ok && math.Abs(s.LateralM-c.rightM) > 0.01 {
			t.Errorf("%s: %+v, %v", c.name, s, ok)
		}
	}
}

// A stride that leaps aside in a corner is a leap; one that cuts the corner, however long, or
// goes on along the course, is none.
func TestLeap(t *testing.T) {
	for _, c := range []struct {
		name string
		over geo.XY // the stride in the middle
		turn float64
		want bool
	}{
		{"aside by 0.7 m in a corner", geo.XY{X: 0.3, Y: 0.8}, 0.35, true},
		{"to the outside of the corner", geo.XY{X: 0.4, Y: -0.7}, 0.35, true},
		{"on a straight course", geo.XY{X: 0.3, Y: 0.8}, 0, true},
		{"cuts the corner", geo.XY{X: 0.9, Y: 0.15}, 0.35, false},
		{"a long stride", geo.XY{X: 1}, 0, false},
		{"a usual stride", geo.XY{X: 0.4, Y: 0.3}, 0, false},
		{"at a square corner", geo.XY{X: 0.2, Y: 1}, 1.5, false},
	} {
		var at []geo.XY
		for k := range 6 {
			at = append(at, geo.XY{X: 0.45 * float64(k)})
		}
		sin, cos := math.Sincos(c.turn)
		for k := range 6 {
			at = append(at, at[5].Add(c.over).Add(geo.XY{X: cos, Y: sin}.Scale(0.45*float64(k))))
		}
		s, ok := Leap(at, 5)
		if ok != c.want || ok && s.LateralM*c.over.Y >= 0 {
			t.Errorf("%s: %+v, %v", c.name, s, ok)
		}
	}
}

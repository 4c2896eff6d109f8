package geo

import (
	"math"
	"testing"
)

// The series for the geographic latitude says what Newton's method does.
func TestGeographicLatitudeAgainstNewton(t *testing.T) {
	for _, el := range []Ellipsoid{WGS84Ellipsoid, Airy1830, Bessel1841, International1924} {
		series := newTransverseMercator(el, 0, 0, 1, 0, 0).delta
		for deg := -90.0; deg <= 90; deg += 0.25 {
			conformal := deg * math.Pi / 180
			want := math.Atan(geographicTan(math.Tan(conformal), math.Sqrt(el.e2())))
			if got := geographicLatitude(conformal, &series); math.Abs(got-want) > 1e-15 {
				t.Fatalf("%v: conformal latitude %v° is geographic %v, by Newton's method %v rad", el, deg, got, want)
			}
		}
	}
}

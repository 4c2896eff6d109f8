package place

import (
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"loamline.example/geo"
)

// An edge drawn straight in degrees stays within half a millimetre of the
// straight line on the ground, up to 60 degrees of latitude.
func TestLongEdgesAreDensified(t *testing.T) {
	for _, lat := range []float64{0, 30, 45, 60} {
		plane := geo.NewPlane(geo.LonLat{LonDeg: 10, LatDeg: lat})
		path := DensePath([]geo.XY{{X: 0, Y: 0}, {X: 730, Y: 40}})
		for i := 1; i < len(path); i++ {
			a, b := plane.LonLat(path[i-1]), plane.LonLat(path[i])
			mid := plane.XY(geo.LonLat{LonDeg: (a.LonDeg + b.LonDeg) / 2, LatDeg: (a.LatDeg + b.LatDeg) / 2})
			if off := mid.Dist(path[i-1].Lerp(path[i], 0.5)); off > 0.0005 {
				t.Errorf("at %v: %.2f mm off", lat, off*1000)
			}
		}
	}
}

// A slit of a tenth of a millimetre closes on itself when it is rounded: the
// zone stays valid and does not get narrower anywhere.
func TestAreaStaysValidAfterRounding(t *testing.T) {
	plane := geo.NewPlane(geo.LonLat{LonDeg: -71.5, LatDeg: 44.1})
	slit := orb.Polygon{{
		{0, 0}, {10, 0}, {10, 5}, {5.00005, 5}, {5.00003, 1}, {5, 0.9}, {4.99998, 1}, {4.99997, 5}, {0, 5}, {0, 0},
	}}
	d := NewDegrees(plane)
	if areValid(d.rings(orb.MultiPolygon{slit}, RoundingM)) {
		t.Fatal("the case is too easy: valid after plain rounding")
	}
	polys, err := d.Area(orb.MultiPolygon{slit})
	if err != nil || !areValid(polys) {
		t.Fatalf("not valid: %v", err)
	}
	var plain []LonLatE8
	for _, p := range slit[0] {
		plain = append(plain, d.XY(orbXY(p)))
	}
	if got, want := twiceArea(polys[0][0]), twiceArea(plain); got < want {
		t.Errorf("area shrank from %g to %g", want, got)
	}
}

// Two outputs that ask for the same zone are handed the same positions, and nothing is kept
// for a third.
func TestAreasAreWorkedOutOnceForTwo(t *testing.T) {
	plane := geo.NewPlane(geo.LonLat{LonDeg: -71.5, LatDeg: 44.1})
	zone := orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 5}, {0, 5}, {0, 0}}}}
	shared, own := SharedAreas(plane), &Areas{Degrees: NewDegrees(plane)}
	var got [3][][][]LonLatE8
	for i := range got {
		var err error
		if got[i], err = shared.Area(zone); err != nil {
			t.Fatal(err)
		}
		want, _ := own.Area(zone)
		if !reflect.DeepEqual(got[i], want) {
			t.Errorf("time %d: %v, alone %v", i, got[i], want)
		}
	}
	if &got[0][0][0][0] != &got[1][0][0][0] {
		t.Error("worked out again for the second")
	}
	if &got[2][0][0][0] == &got[0][0][0][0] {
		t.Error("kept after the second had it")
	}
}

package intake

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Feet on a grid in metres are told with how far the two kinds lie apart there; metres are
// not, nor feet near a grid's origin.
func TestFeetOnAGridInMetres(t *testing.T) {
	job := trace.DefaultJob()
	job.CRS = "EPSG:32615"
	for _, c := range []struct {
		column string
		north  float64
		apartM float64 // 0: not told
	}{{"north_ft", 4980518, 10.0}, {"north_usft", 4980518, 10.0}, {"north_m", 4980518, 0}, {"north_ft", 12, 0}} {
		rs := []trace.Reading{{Projected: [2]float64{c.north / 10, c.north}}}
		got, err := checkFeet("t.csv", job, []TableColumn{{Name: c.column, Header: c.column, Row: 1, Column: 1, Filled: 1}}, rs)
		if err != nil {
			t.Fatal(err)
		}
		if c.apartM == 0 {
			if len(got) > 0 {
				t.Errorf("%s at %g: %v", c.column, c.north, got)
			}
			continue
		}
		if len(got) != 1 {
			t.Errorf("%s at %g: nothing told", c.column, c.north)
		} else if apart := got[0].Check.(remark.FootUnsaid).ApartM; math.Abs(apart-c.apartM) > 0.1 {
			t.Errorf("%s at %g: %g m apart", c.column, c.north, apart)
		}
	}
}

// Which foot positions were converted to is asked from where the two lie 5 cm apart: 2 parts
// in a million of the coordinates (derived, 0.3048 m against 1200/3937 m), which is 25 km
// from the grid's origin.
func TestFeetAreAskedAboutFromFiveCentimetres(t *testing.T) {
	crs, err := geo.LookupCRS("EPSG:26919")
	if err != nil {
		t.Fatal(err)
	}
	columns := []TableColumn{{Name: "north_ft", Header: "N", Filled: 1, Row: 1, Column: 1}}
	for northM, want := range map[float64]int{24_000: 0, 26_000: 1} {
		r := trace.NewReading()
		r.Projected = [2]float64{100, northM}
		if got := feetUnsaid("walk.csv", crs, columns, []trace.Reading{r}); len(got) != want {
			t.Errorf("%g m: %+v", northM, got)
		}
	}
}

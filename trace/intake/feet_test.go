package intake

import (
	"math"
	"testing"

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

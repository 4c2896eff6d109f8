package place

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"loamline.example/geo"
)

// Sides of a square and of a hole in it move by the distance, away from the area.
func TestOutwards(t *testing.T) {
	for _, tt := range []struct {
		name string
		ring orb.Ring
		want []geo.XY
	}{
		{"outer", orb.Ring{{0, 0}, {4, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}, []geo.XY{{X: -1, Y: -1}, {X: 5, Y: -1}, {X: 5, Y: 5}, {X: -1, Y: 5}}},
		{"hole", orb.Ring{{0, 0}, {0, 4}, {4, 4}, {4, 0}, {0, 0}}, []geo.XY{{X: 1, Y: 1}, {X: 1, Y: 3}, {X: 3, Y: 3}, {X: 3, Y: 1}}},
		{"collapsed", orb.Ring{{1, 1}, {2, 2}, {1, 1}}, []geo.XY{{X: 1, Y: 1}, {X: 2, Y: 2}}},
	} {
		got := outwards(tt.ring, 1)
		if len(got) != len(tt.want) {
			t.Fatalf("%s: %v", tt.name, got)
		}
		for i := range got {
			if got[i].Dist(tt.want[i]) > 1e-12 {
				t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
			}
		}
	}
}

// A needle's tip moves, but not out of the map.
func TestOutwardsOfANeedle(t *testing.T) {
	for i, q := range outwards(orb.Ring{{0, 0}, {10, -1e-9}, {10, 1e-9}, {0, 0}}, 0.002) {
		if d := math.Min(q.Norm(), q.Dist(geo.XY{X: 10})); d > 0.1 {
			t.Errorf("corner %d went %g m", i, d)
		}
	}
}

// The half-width is a promise about the zone as it is written, measured from the
// line as it is written: against geo.Buffer without a reserve both round towards
// each other somewhere.
func TestZoneHoldsItsHalfWidthAfterRounding(t *testing.T) {
	const halfM = 0.4572
	for _, lat := range []float64{0.001, 44.1, -65} {
		plane := geo.NewPlane(geo.LonLat{LonDeg: -71.5, LatDeg: lat})
		d := NewDegrees(plane)
		var path []geo.XY
		for i := range 200 {
			path = append(path, geo.XY{X: 0.37 * float64(i), Y: 3 * math.Sin(float64(i)/17)})
		}
		zone, err := geo.Buffer(path, halfM)
		if err != nil {
			t.Fatal(err)
		}
		polys, err := d.Area(zone)
		if err != nil {
			t.Fatal(err)
		}
		var written []geo.XY
		for _, p := range d.Path(path) {
			written = append(written, plane.XY(geo.LonLat{LonDeg: p.Lon.Deg(), LatDeg: p.Lat.Deg()}))
		}
		line := geo.NewPolyline(written)
		least := math.Inf(1)
		for _, poly := range polys {
			for _, ring := range poly {
				for i, p := range ring {
					q := plane.XY(geo.LonLat{LonDeg: p.Lon.Deg(), LatDeg: p.Lat.Deg()})
					mid := q
					if i > 0 {
						mid = q.Lerp(plane.XY(geo.LonLat{LonDeg: ring[i-1].Lon.Deg(), LatDeg: ring[i-1].Lat.Deg()}), 0.5)
					}
					least = math.Min(least, math.Min(q.Dist(line.Nearest(q).At), mid.Dist(line.Nearest(mid).At)))
				}
			}
		}
		if least < halfM || least > halfM+2*RoundingM {
			t.Errorf("at latitude %g the zone's edge comes within %.5f m, want %.4f", lat, least, halfM)
		}
	}
}

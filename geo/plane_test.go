package geo

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// Distances of 6 m to 1.1 km anywhere on the ellipsoid, from C. F. F. Karney's
// test set for geodesics (doi:10.5281/zenodo.32156). The plane's scale error at
// distance x from its meridian is x²/2R².
func TestPlaneDistancesAgainstKarney(t *testing.T) {
	rows := readTable(t, "geodesic/geodtest_short_distances_200.csv")
	if len(rows) < 200 {
		t.Fatalf("%d rows", len(rows))
	}
	worst := 0.0
	for _, r := range rows {
		a := LonLat{num(t, r["lon1_deg"]), num(t, r["lat1_deg"])}
		b := LonLat{num(t, r["lon2_deg"]), num(t, r["lat2_deg"])}
		want := num(t, r["s12_m"])
		plane := NewPlane(a)
		got := plane.XY(b).Dist(plane.XY(a))
		worst = math.Max(worst, math.Abs(got-want))
		if tolM := want*want*want/(2*6.33e6*6.33e6) + 2e-8; math.Abs(got-want) > tolM {
			t.Errorf("%v to %v: %.8f m, want %.8f", a, b, got, want)
		}
	}
	t.Logf("worst difference %.3g m", worst)
}

// Areas of small strips on the ellipsoid, computed with PROJ's geodesic library.
func TestPlaneAreas(t *testing.T) {
	raw, err := os.ReadFile("../testdata/geodesic/polygon_areas.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Generated []struct {
			Name   string
			Points [][2]float64 // latitude, longitude
			AreaM2 float64      `json:"area_m2"`
		}
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Generated) != 4 {
		t.Fatalf("%d areas", len(file.Generated))
	}
	for _, c := range file.Generated {
		plane := NewPlane(LonLat{c.Points[0][1], c.Points[0][0]})
		var ring orb.Ring
		for _, p := range c.Points {
			xy := plane.XY(LonLat{p[1], p[0]})
			ring = append(ring, orb.Point{xy.X, xy.Y})
		}
		ring = append(ring, ring[0])
		// Coordinates are printed to 1e-12 degrees: 0.1 micrometre.
		if got := planar.Area(ring); math.Abs(got-c.AreaM2) > 2e-8*c.AreaM2+1e-6 {
			t.Errorf("%s: %.9f m2, want %.9f", c.Name, got, c.AreaM2)
		}
	}
}

func TestPlaneRoundTrip(t *testing.T) {
	for _, origin := range []LonLat{{-71.5, 44.1}, {179.999, -17.5}, {0, 0}, {25, 78.2}} {
		plane := NewPlane(origin)
		for _, p := range []XY{{0, 0}, {10000, -10000}, {-0.001, 0.001}, {-8000, 9000}} {
			if q := plane.XY(plane.LonLat(p)); q.Dist(p) > 2e-8 {
				t.Errorf("%v: %v came back as %v", origin, p, q)
			}
		}
	}
}

// Lengths in the Illinois East grid that the City of Chicago published with its
// pedway lines (testdata/SOURCES.md, chicago): two of 44 are wrong in the source.
func TestChicagoPedwayLengths(t *testing.T) {
	raw, err := os.ReadFile("../testdata/chicago/pedway_routes.geojson")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Features []struct {
			Properties struct {
				ID     int     `json:"OBJECTID"`
				LenFt  float64 `json:"SHAPE_LEN"`
				Street string  `json:"PED_ROUTE"`
			}
			Geometry struct{ Coordinates orb.MultiLineString }
		}
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	geodesic := map[int]float64{}
	for _, r := range readTable(t, "chicago/pedway_length_check.csv") {
		geodesic[int(num(t, r["objectid"]))] = num(t, r["geodesic_length_m_geod"])
	}
	crs := mustCRS(t, "EPSG:3435")
	agree := 0
	for _, f := range file.Features {
		gridM, groundM := 0.0, 0.0
		for _, line := range f.Geometry.Coordinates {
			plane := NewPlane(LonLat{line[0][0], line[0][1]})
			var grid, ground []XY
			for _, p := range line {
				e, n, err := crs.Project(LonLat{p[0], p[1]})
				if err != nil {
					t.Fatal(err)
				}
				grid = append(grid, XY{e, n})
				ground = append(ground, plane.XY(LonLat{p[0], p[1]}))
			}
			gridM += NewPolyline(grid).Length()
			groundM += NewPolyline(ground).Length()
		}
		if math.Abs(gridM/USSurveyFootM/f.Properties.LenFt-1) < 1e-8 {
			agree++
		} else if id := f.Properties.ID; id != 20 && id != 21 {
			t.Errorf("%d %s: %.6f ft, published %.6f", id, f.Properties.Street, gridM/USSurveyFootM, f.Properties.LenFt)
		}
		if want := geodesic[f.Properties.ID]; math.Abs(groundM-want) > 2e-5 {
			t.Errorf("%d: %.6f m on the ground, want %.6f", f.Properties.ID, groundM, want)
		}
	}
	if agree != 42 {
		t.Errorf("%d of %d lines agree", agree, len(file.Features))
	}
}

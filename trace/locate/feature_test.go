package locate

import (
	"math"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// A fixed feature lies in the plane where the job's frame puts it; one that
// cannot be right is told and measured from by nobody.
func TestFixedFeatures(t *testing.T) {
	job := trace.DefaultJob()
	job.CRS = "EPSG:32619"
	frame, err := setting.Frame(job)
	if err != nil {
		t.Fatal(err)
	}
	origin := geo.LonLat{LonDeg: -71.5, LatDeg: 44.1}
	plane := geo.NewPlane(origin)
	e, n, err := frame.CRS.Project(geo.LonLat{LonDeg: -71.5, LatDeg: 44.1001})
	if err != nil {
		t.Fatal(err)
	}
	job.Features = []trace.FixedFeature{
		{Name: "degrees", X: -71.5, Y: 44.1001}, {Name: "grid", X: e, Y: n, Grid: true},
		{Name: "far", X: -71.4, Y: 44.1}, {Name: "swapped", X: 44.1, Y: -71.5},
	}
	out, problems := fixedFeatures(job, frame, plane, []trace.Reading{{Pos: geo.XY{}}})
	if len(out) != 2 || len(problems) != 2 {
		t.Fatalf("%+v, %v", out, problems)
	}
	for _, f := range out {
		// 0.0001° of latitude are 11.11 m at 44° on WGS 84 (a degree is 111.1 km there,
		// NIMA TR8350.2).
		if q := f.Path[0]; math.Abs(q.X) > 1e-3 || math.Abs(q.Y-11.11) > 0.01 {
			t.Errorf("%s at %v", f.Name, q)
		}
	}
	for i, name := range []string{"far", "swapped"} {
		if p := problems[i]; !strings.Contains(p.Error(), name) || !strings.Contains(p.Error(), "check its position") || !p.Warn {
			t.Errorf("%v", p)
		}
	}
	job.CRS = ""
	degrees, _ := setting.Frame(job)
	if _, problems := fixedFeatures(job, degrees, plane, []trace.Reading{{}}); len(problems) != 3 {
		t.Errorf("without a grid: %v", problems)
	}
}

// A kerb of a background layer is as good as a hydrant to hold a tape to, unless
// its layer's frame leaves its place in doubt.
func TestTapedBackground(t *testing.T) {
	got := taped([]trace.Background{
		{Name: "kerb east", Source: "kerbs.geojson", Path: []geo.XY{{}, {X: 10}}},
		{Name: "kerb west", Path: []geo.XY{{}, {X: 10}}, DoubtM: 1.4},
		{Path: []geo.XY{{}, {X: 10}}},
	})
	if len(got) != 1 || got[0].Name != "kerb east" || got[0].Source != "kerbs.geojson" || len(got[0].Path) != 2 {
		t.Errorf("%+v", got)
	}
}

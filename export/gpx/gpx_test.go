package gpx

import (
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

func gpxEvery(m float64) func(io.Writer, *trace.Sheet) error {
	return func(w io.Writer, s *trace.Sheet) error { return Write(w, s, m) }
}

// gpx is GPX 1.1 (TopoGrafix, GPX 1.1 schema documentation) as far as it is used.
type gpx struct {
	XMLName  xml.Name `xml:"http://www.topografix.com/GPX/1/1 gpx"`
	Version  string   `xml:"version,attr"`
	Creator  string   `xml:"creator,attr"`
	Metadata struct {
		Name string `xml:"name"`
		Desc string `xml:"desc"`
	} `xml:"metadata"`
	Wpt []struct {
		Lat  float64 `xml:"lat,attr"`
		Lon  float64 `xml:"lon,attr"`
		Name string  `xml:"name"`
		Desc string  `xml:"desc"`
		Ele  *string `xml:"ele"`
	} `xml:"wpt"`
	Trk []struct {
		Name string `xml:"name"`
		Seg  []struct {
			Pt []struct {
				Lat float64 `xml:"lat,attr"`
				Lon float64 `xml:"lon,attr"`
			} `xml:"trkpt"`
		} `xml:"trkseg"`
	} `xml:"trk"`
}

func readGPX(t *testing.T, text []byte) gpx {
	t.Helper()
	var g gpx
	if err := xml.Unmarshal(text, &g); err != nil {
		t.Fatal(err)
	}
	return g
}

func TestGPXGolden(t *testing.T) {
	check.Golden(t, "sample.gpx", check.Write(t, sample.Sheet(), gpxEvery(10)))
}

// Whoever has the file alone is told what to check, of the whole map too.
func TestGPXTellsWhatToCheck(t *testing.T) {
	s := sample.Sheet()
	g := readGPX(t, check.Write(t, s, gpxEvery(10)))
	advice := words.Advice(s)
	if len(advice) == 0 {
		t.Fatal("the sample has nothing to check")
	}
	for _, a := range append(advice, s.Frame.In(s.Job.Units)) {
		if !strings.Contains(g.Metadata.Desc, a) {
			t.Errorf("not told: %s", a)
		}
	}
}

// A waypoint tells its place in the job's grid too, in words: a GPX file has degrees alone.
func TestGPXTellsTheGrid(t *testing.T) {
	s := sample.Sheet()
	for crs, want := range map[string]bool{"EPSG:26919": true, "EPSG:4326": false} {
		s.Job.CRS = crs
		var b strings.Builder
		if err := Write(&b, s, 5); err != nil {
			t.Fatal(err)
		}
		points, told := strings.Count(b.String(), "<wpt "), strings.Count(b.String(), "EPSG:26919, m: north ")
		if want && told != points || !want && told != 0 {
			t.Errorf("%s: %d of %d points have their place in the grid", crs, told, points)
		}
	}
}

func TestGPXMarksEveryStepEndAndBend(t *testing.T) {
	s := sample.Sheet()
	g := readGPX(t, check.Write(t, s, gpxEvery(10)))
	if g.Version != "1.1" || g.Creator == "" || !strings.Contains(g.Metadata.Desc, s.Cautions[0]) {
		t.Errorf("head %+v", g)
	}
	byName := map[string]geo.XY{}
	for _, w := range g.Wpt {
		if _, twice := byName[w.Name]; twice {
			t.Errorf("two waypoints %q", w.Name)
		}
		byName[w.Name] = s.Plane.XY(geo.LonLat{LonDeg: w.Lon, LatDeg: w.Lat})
		if w.Ele != nil || !strings.Contains(w.Desc, "xpose to verify") {
			t.Errorf("%s: elevation %v, %q", w.Name, w.Ele, w.Desc)
		}
	}
	for _, name := range []string{
		"W-1 0.0 m", "W-1 10.0 m", "W-1 20.0 m, do not trust", "W-1 40.0 m", "W-1 52.0 m", "W-1 60.0 m bend", "W-1 91.8 m", `C <7> & "spare" 10.0 m`,
	} {
		if _, ok := byName[name]; !ok {
			t.Errorf("no waypoint %q among %d", name, len(byName))
		}
	}
	if at := byName["W-1 60.0 m bend"]; math.Abs(at.X-60) > 0.002 {
		t.Errorf("elbow at %v", at)
	}
	if len(g.Trk) != 4 {
		t.Errorf("%d tracks", len(g.Trk))
	}
}

func TestGPXStepByUnits(t *testing.T) {
	s := sample.Sheet()
	s.Job.Units = geo.US
	names := string(check.Write(t, s, gpxEvery(0)))
	if !strings.Contains(names, "<name>W-1 25 ft</name>") {
		t.Error("no waypoint at 25 ft")
	}
}

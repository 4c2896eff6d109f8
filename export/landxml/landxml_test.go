package landxml

import (
	"bytes"
	"encoding/xml"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/layer"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// surveyed is the sample in a plane system of its place, with elevations of its
// first stretch.
func surveyed(t *testing.T, crs, datum string) *trace.Sheet {
	t.Helper()
	s := sample.Sheet()
	var err error
	if s.Output, err = geo.NewFrame(crs, datum, 2026.36); err != nil {
		t.Fatal(err)
	}
	s.Job.VerticalDatum = "NAVD 88"
	for i := range s.Lines[0].Centerline.Parts[0].Vertices {
		s.Lines[0].Centerline.Parts[0].Vertices[i].ElevM = 200 + 0.01*float64(i)
	}
	return s
}

// The structure is the schema's, as libxml2 judges it.
func TestFilesFollowTheSchema(t *testing.T) {
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("xmllint is not installed (Debian: libxml2-utils): nothing is held against the schema")
	}
	feet := surveyed(t, "EPSG:3437", "NAD83(2011)")
	feet.Background = []trace.Background{{Name: "kerb", Source: "kerbs.shp", Path: []geo.XY{{X: 0, Y: 4}, {X: 40, Y: 4}}}}
	undated := sample.Sheet()
	undated.Job.Date = ""
	for name, s := range map[string]*trace.Sheet{"feet": feet, "zone of the place": sample.Sheet(), "nothing usable": sample.NothingUsable(),
		"long names": sample.LongNames(), "every kind": sample.EveryKind(), "undated": undated} {
		path := filepath.Join(t.TempDir(), "job.xml")
		if err := os.WriteFile(path, check.Write(t, s, Write), 0o644); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command("xmllint", "--noout", "--nonet", "--schema", "testdata/landxml-1.2-used.xsd", path).CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%.2000s", name, err, out)
		}
	}
	// The judge must be able to say no.
	bad := bytes.Replace(check.Write(t, feet, Write), []byte("<End>"), []byte("<End>1 2 3 4 "), 1)
	path := filepath.Join(t.TempDir(), "bad.xml")
	if err := os.WriteFile(path, bad, 0o644); err != nil {
		t.Fatal(err)
	}
	if exec.Command("xmllint", "--noout", "--nonet", "--schema", "testdata/landxml-1.2-used.xsd", path).Run() == nil {
		t.Error("a position with too many coordinates passes")
	}
}

// file is what the tests read back, with a reader that knows nothing of the writer.
type file struct {
	Date   string `xml:"date,attr"`
	System struct {
		EPSG     string    `xml:"epsgCode,attr"`
		Datum    string    `xml:"horizontalDatum,attr"`
		Vertical string    `xml:"verticalDatum,attr"`
		Features []feature `xml:"Feature"`
	} `xml:"CoordinateSystem"`
	Units struct {
		Imperial struct {
			Linear string `xml:"linearUnit,attr"`
		}
		Metric struct {
			Linear string `xml:"linearUnit,attr"`
		}
	}
	Project struct {
		Features []feature `xml:"Feature"`
	}
	Points []struct {
		Name     string    `xml:"name,attr"`
		Points   []point   `xml:"CgPoint"`
		Features []feature `xml:"Feature"`
	} `xml:"CgPoints"`
	Plans []struct {
		Name  string        `xml:"name,attr"`
		Plans []planFeature `xml:"PlanFeature"`
	} `xml:"PlanFeatures"`
}

type point struct {
	Name string `xml:"name,attr"`
	Desc string `xml:"desc,attr"`
	Ref  string `xml:"featureRef,attr"`
	At   string `xml:",chardata"`
}

type planFeature struct {
	Name     string `xml:"name,attr"`
	Location string
	Geom     []struct {
		Desc      string `xml:"desc,attr"`
		Line      *run
		Irregular *run `xml:"IrregularLine"`
	} `xml:"CoordGeom"`
	Features []feature `xml:"Feature"`
}

type run struct{ Start, End, PntList2D, PntList3D string }

type feature struct {
	Name       string `xml:"name,attr"`
	Properties []struct {
		Label string `xml:"label,attr"`
		Value string `xml:"value,attr"`
	} `xml:"Property"`
}

func (f feature) get(label string) string {
	for _, p := range f.Properties {
		if p.Label == label {
			return p.Value
		}
	}
	return ""
}

func read(t *testing.T, s *trace.Sheet) file {
	t.Helper()
	var f file
	if err := xml.Unmarshal(check.Write(t, s, Write), &f); err != nil {
		t.Fatal(err)
	}
	return f
}

func (f file) plans(name string) []planFeature {
	for _, p := range f.Plans {
		if p.Name == name {
			return p.Plans
		}
	}
	return nil
}

func numbers(t *testing.T, list string) []float64 {
	t.Helper()
	var out []float64
	for _, w := range strings.Fields(list) {
		v, err := strconv.ParseFloat(w, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}

// Coordinates are north, east, elevation in the unit of the stated system, by the
// schema's own words, and lie where PROJ puts the line.
func TestPositionsAreNorthEastElevation(t *testing.T) {
	s := surveyed(t, "EPSG:3437", "NAD83(2011)")
	f := read(t, s)
	if f.System.EPSG != "3437" || f.System.Datum != "NAD83(2011)" || f.System.Vertical != "NAVD 88" || f.Units.Imperial.Linear != "USSurveyFoot" {
		t.Errorf("system %+v, units %+v", f.System, f.Units)
	}
	stretches := f.plans("centerline")
	part := s.Lines[0].Centerline.Parts[0]
	if len(stretches) == 0 || stretches[0].Geom[0].Irregular == nil {
		t.Fatalf("stretches %+v", stretches)
	}
	// In plan all of it, in space what is to be trusted.
	if r := stretches[0].Geom[0].Irregular; r.PntList3D != "" || len(numbers(t, r.PntList2D)) != 2*len(part.Vertices) {
		t.Errorf("stretch in plan %+v", r)
	}
	solid, along := f.plans("centerline_3d"), words.NewAlong(&s.Lines[0])
	runs := layer.SolidRuns(along, part)
	if len(runs) == 0 || len(solid) != len(runs) {
		t.Fatalf("%d lines in space for %d runs", len(solid), len(runs))
	}
	run := runs[0]
	if whole := len(runs) == 1 && len(run) == len(part.Vertices); whole {
		t.Error("the sample has no place that is not to be trusted")
	}
	three := numbers(t, solid[0].Geom[0].Irregular.PntList3D)
	if len(three) != 3*len(run) {
		t.Fatalf("%d numbers for %d vertices", len(three), len(run))
	}
	for i, v := range run {
		x, y, err := s.Output.FromWGS84(s.Plane.LonLat(v.Pos))
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Max(math.Hypot(three[3*i]-y, three[3*i+1]-x), math.Abs(three[3*i+2]*geo.USSurveyFootM-v.ElevM)); d > 1e-3 {
			t.Errorf("vertex %d is %.4f off", i, d)
		}
	}
	// Where no elevation is known the list has pairs, and nothing stands for it.
	if r := stretches[1].Geom[0].Irregular; r == nil || r.PntList3D != "" || len(numbers(t, r.PntList2D)) != 2*len(s.Lines[0].Centerline.Parts[1].Vertices) {
		t.Errorf("second stretch %+v", r)
	}
	// Figures beside the positions count as the positions do.
	figures := stretches[0].Features[0]
	for label, want := range map[string]func(trace.Vertex) float64{"depth_m": func(v trace.Vertex) float64 { return v.DepthM },
		"depth_95_m": func(v trace.Vertex) float64 { return v.Depth95M }, "horizontal_95_m": func(v trace.Vertex) float64 { return v.Horizontal95M }} {
		got := numbers(t, figures.get(label))
		if len(got) != len(part.Vertices) || math.Abs(got[3]-want(part.Vertices[3])) > 5e-4 {
			t.Errorf("%s: %v", label, got)
		}
	}
}

// The same positions through PROJ's command, which shares nothing with geo.
func TestAPositionByPROJ(t *testing.T) {
	if _, err := exec.LookPath("gdaltransform"); err != nil {
		t.Skip("gdaltransform is not installed (Debian: gdal-bin): nothing is held against PROJ")
	}
	s := sample.Sheet() // WGS 84, so that the projection alone is between
	s.Job.CRS, s.Job.Datum = "EPSG:4326", "WGS84"
	f := read(t, s)
	got := numbers(t, f.plans("centerline")[0].Geom[0].Irregular.Start)
	at := s.Plane.LonLat(s.Lines[0].Centerline.Parts[0].Vertices[0].Pos)
	cmd := exec.Command("gdaltransform", "-s_srs", "EPSG:4326", "-t_srs", "EPSG:"+f.System.EPSG, "-output_xy")
	cmd.Stdin = strings.NewReader(strconv.FormatFloat(at.LonDeg, 'f', 10, 64) + " " + strconv.FormatFloat(at.LatDeg, 'f', 10, 64) + "\n")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	want := numbers(t, string(out))
	if len(got) != 2 || math.Hypot(got[0]-want[1], got[1]-want[0]) > 1e-3 {
		t.Errorf("north east %v, by PROJ east north %v", got, want)
	}
}

// Every role is there with all its features, and what is said of the map with it.
func TestNothingIsLeftOut(t *testing.T) {
	s := sample.EveryKind()
	f := read(t, s)
	for role, want := range check.WantCounts(s) {
		if got := len(f.plans(role)); got != want {
			t.Errorf("%d features of %s, want %d", got, role, want)
		}
	}
	if got := len(f.plans("record")); got != len(s.Records) {
		t.Errorf("%d records, want %d", got, len(s.Records))
	}
	var cautions, checks, frame []string
	for _, x := range f.Project.Features {
		for _, p := range x.Properties {
			switch p.Label {
			case "caution":
				cautions = append(cautions, p.Value)
			case "check":
				checks = append(checks, p.Value)
			}
		}
	}
	for _, x := range f.System.Features {
		frame = append(frame, x.get("frame"))
	}
	if !slices.Equal(cautions, s.Cautions) || !slices.Equal(checks, words.Advice(s)) || !slices.Contains(frame, s.Frame.In(s.Job.Units)) {
		t.Errorf("cautions %q, checks %q, frame %q", cautions, checks, frame)
	}
	names := map[string]bool{}
	for _, p := range f.Plans {
		for _, x := range p.Plans {
			if names[x.Name] {
				t.Errorf("two features are called %q", x.Name)
			}
			names[x.Name] = true
		}
	}
	if !bytes.Equal(check.Write(t, s, Write), check.Write(t, s, Write)) {
		t.Error("two files of the same sheet differ")
	}
}

// Zones are closed rings, as large as they are on the ground.
func TestZonesAreClosed(t *testing.T) {
	s := sample.Sheet()
	f := read(t, s)
	for i, z := range f.plans("tolerance_zone") {
		area := 0.0
		for _, g := range z.Geom {
			at := numbers(t, g.Irregular.PntList2D)
			n := len(at)
			if at[0] != at[n-2] || at[1] != at[n-1] {
				t.Errorf("%s is open", z.Name)
			}
			for k := 2; k < n; k += 2 {
				area += (at[k-1]*at[k] - at[k+1]*at[k-2]) / 2
			}
		}
		// The scale of a UTM zone is 0.9996 at its middle and more away from it: its square
		// is within 1:1000 of one.
		if want := check.WrittenArea(s.Lines[i]); math.Abs(area-want) > 2e-3*want {
			t.Errorf("%s: %.3f m², want %.3f", z.Name, area, want)
		}
	}
}

// Points to stake out tell what may be told, and where a stretch is not to be trusted
// neither a band as read nor an elevation.
func TestPointsTellTheirDoubt(t *testing.T) {
	s := surveyed(t, "EPSG:3437", "NAD83(2011)")
	f := read(t, s)
	points, figures := map[string]point{}, map[string]feature{}
	for _, g := range f.Points {
		for _, p := range g.Points {
			points[p.Name] = p
		}
		for _, x := range g.Features {
			figures[x.Name] = x
		}
	}
	var crossed, exposed, doubted int
	for name, p := range points {
		x, ok := figures[p.Ref]
		if p.Ref != name || !ok || x.get("station_m") == "" {
			t.Errorf("%s has no figures: %+v", name, x)
		}
		if strings.Contains(strings.ToLower(p.Desc), "crosses ") {
			crossed++
		}
		if strings.HasPrefix(p.Desc, "exposed") {
			exposed++
		}
		if strings.HasPrefix(name, "W-1.") && strings.Contains(p.Desc, "strong") && strings.Contains(p.Desc, "suspected error included") {
			doubted++
			if n := len(strings.Fields(p.At)); n != 2 || x.get("doubt") == "" {
				t.Errorf("%s: %d coordinates, figures %+v", name, n, x)
			}
		}
	}
	if crossed < 2 || exposed != 1 || doubted == 0 {
		t.Errorf("%d at crossings, %d exposed, %d doubted: %v", crossed, exposed, doubted, points)
	}
	if n := len(strings.Fields(points["W-1.1"].At)); n != 3 {
		t.Errorf("the start of the line has %d coordinates", n)
	}
}

package overlay

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"os"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

// walk is a line of 40 m to the north, eastM(y) beside it.
func walk(name string, eastM func(y float64) float64, depthM float64) trace.LocatedLine {
	plane := geo.NewPlane(geo.LonLat{LonDeg: -30.5, LatDeg: 44.1})
	var part []trace.LocatedVertex
	for y := 0.0; y <= 40; y += 2 {
		part = append(part, trace.LocatedVertex{At: plane.LonLat(geo.XY{X: eastM(y), Y: y}), StationM: y, DepthM: depthM, Depth95M: 0.1, Horizontal95M: 0.1})
	}
	return trace.LocatedLine{Name: name, Parts: [][]trace.LocatedVertex{part}}
}

func twoMaps() (first, second trace.Located, laid []compare.Overlay) {
	first = trace.Located{Name: "first", Datum: "WGS84", Lines: []trace.LocatedLine{walk("W-1", func(float64) float64 { return 0 }, 1)}}
	second = trace.Located{Name: "second", Lines: []trace.LocatedLine{
		walk("main <b>", func(y float64) float64 {
			if y > 10 && y < 21 {
				return 0.8
			}
			return 0
		}, 1.5),
		walk("far", func(float64) float64 { return 200 }, 1)}}
	return first, second, compare.OverlayPairs(first, second, compare.PairLines(first, second))
}

func TestGeoJSON(t *testing.T) {
	first, second, laid := twoMaps()
	var b bytes.Buffer
	if err := WriteGeoJSON(&b, first, second, laid, geo.Metric); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Features []struct {
			Properties map[string]any
			Geometry   struct {
				Type        string
				Coordinates [][2]float64
			}
		}
		Comparison struct{ Warning string } `json:"loamline_comparison"`
	}
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if want := "in WGS84, the second's in a frame that was not stated"; !strings.Contains(got.Comparison.Warning, want) {
		t.Errorf("the warning is %q, want %q in it", got.Comparison.Warning, want)
	}
	roles := map[string]int{}
	for _, f := range got.Features {
		p := f.Properties
		role := p["role"].(string)
		roles[role]++
		if role == "disagreement" && p["in"] == "position" && (p["from_m"] != 12.0 || p["to_m"] != 20.0 || p["largest_m"] != 0.8 || p["second_name"] != "main <b>" || len(f.Geometry.Coordinates) != 5) {
			t.Errorf("a disagreement is %v over %v", p, f.Geometry.Coordinates)
		}
		if role == "disagreement" && p["in"] == "depth" && (p["from_m"] != 0.0 && p["from_m"] != 2.0 || p["largest_m"] != 0.5) {
			t.Errorf("a disagreement in depth is %v", p)
		}
	}
	if roles["first_line"] != 1 || roles["second_line"] != 2 || roles["disagreement"] < 2 {
		t.Errorf("the features are %v", roles)
	}
}

// GDAL, as another reader, finds the features where they are.
func TestGDALReadsTheComparison(t *testing.T) {
	ogrinfo, err := exec.LookPath("ogrinfo")
	if err != nil {
		t.Skip("no ogrinfo on this machine")
	}
	first, second, laid := twoMaps()
	path := filepath.Join(t.TempDir(), "both.geojson")
	var b bytes.Buffer
	if err := WriteGeoJSON(&b, first, second, laid, geo.Metric); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(ogrinfo, "-ro", "-al", "-so", "-where", "role = 'disagreement' AND \"in\" = 'position'", path).CombinedOutput()
	if err != nil || !strings.Contains(string(out), "Feature Count: 1") || !strings.Contains(string(out), "(-30.500000, 44.100108)") {
		t.Errorf("%v: %s", err, out)
	}
}

func TestPage(t *testing.T) {
	first, second, laid := twoMaps()
	var b bytes.Buffer
	if err := WritePage(&b, first, second, laid, geo.US); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	for _, want := range []string{"W-1, in the second map main &lt;b&gt;", "the second lies up to", "deeper, where both bands together explain", "Only the second map has this line.",
		"Frames differ by decimetres", `class="apart" d="M`, "licensed professional"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page says nothing of %q", want)
		}
	}
	if strings.Contains(page, "<b>") {
		t.Error("a name of the input is markup on the page")
	}
	if again := new(bytes.Buffer); WritePage(again, first, second, laid, geo.US) != nil || again.String() != page {
		t.Error("the same maps give another page")
	}
}

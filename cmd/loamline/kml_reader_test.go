package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"loamline.example/export/style"
	"loamline.example/export/webtest"
	"loamline.example/trace"
	"loamline.example/trace/tracetest/study"
)

// openKML opens a document, with what lies beside it, in a KML reader that knows
// nothing of loamline (testdata/kml/SOURCE.md).
func openKML(t *testing.T, beside http.Handler, width, height int) *webtest.Tab {
	t.Helper()
	b := webtest.Open(t)
	reader := http.NewServeMux()
	reader.Handle("/", beside)
	reader.HandleFunc("/favicon.ico", func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusNoContent) })
	for path, file := range map[string]string{"/{$}": "viewer.html", "/ol.js": "ol.js"} {
		reader.HandleFunc(path, func(w http.ResponseWriter, r *http.Request) {
			http.ServeFile(w, r, filepath.Join("../../testdata/kml/openlayers", file))
		})
	}
	server := httptest.NewServer(reader)
	t.Cleanup(server.Close)
	tab := b.Tab(t, width, height, false)
	tab.Go(server.URL + "/")
	tab.Wait("window.viewer && window.drawn")
	return tab
}

// exampleKMZ is the committed example's archive.
func exampleKMZ(t *testing.T) *zip.Reader {
	t.Helper()
	out := t.TempDir()
	var said, wrong bytes.Buffer
	if got := run(context.Background(), []string{"loamline", "map", "../../examples/lantern-row/lantern-row.csv", "--job", "../../examples/lantern-row/lantern-row.toml",
		"--out", out, "--write", "kmz"}, streams{out: &said, err: &wrong}); got != statusOK {
		t.Fatalf("status %d: %s", got, wrong.String())
	}
	b, err := os.ReadFile(filepath.Join(out, "lantern-row.kmz"))
	if err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// arrived is what the reader made of a placemark.
type arrived struct {
	Name, Description, StyleURL, Role, Line, Kind, Label string
	Coordinates                                          json.RawMessage
	Styles                                               int
	Stroke, Fill                                         []float64
	Icons                                                []string
}

// placemark is one of the document, as its text has it.
type placemark struct {
	Name        string `xml:"name"`
	Description string `xml:"description"`
	StyleURL    string `xml:"styleUrl"`
	Data        []struct {
		Name  string `xml:"name,attr"`
		Value string `xml:",chardata"`
	} `xml:"ExtendedData>SchemaData>SimpleData"`
}

func placemarks(t *testing.T, doc []byte) []placemark {
	t.Helper()
	var out []placemark
	dec := xml.NewDecoder(bytes.NewReader(doc))
	for {
		tok, err := dec.Token()
		if tok == nil {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		if el, ok := tok.(xml.StartElement); ok && el.Name.Local == "Placemark" {
			var p placemark
			if err := dec.DecodeElement(&p, &el); err != nil {
				t.Fatal(err)
			}
			out = append(out, p)
		}
	}
}

// Every placemark of the example, as KML and from the KMZ, is a feature in an
// independent reader, with its name, its balloon's words and a style; lines and zones
// have their colours.
func TestKMLInAnIndependentReader(t *testing.T) {
	t.Parallel()
	example, err := os.ReadFile("../../examples/lantern-row/out/lantern-row.kml")
	if err != nil {
		t.Fatal(err)
	}
	archive := exampleKMZ(t)
	inside, err := archive.Open("doc.kml")
	if err != nil {
		t.Fatal(err)
	}
	var packed bytes.Buffer
	if _, err := packed.ReadFrom(inside); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		doc    []byte
		beside http.Handler
	}{
		"KML": {example, http.FileServerFS(fstest.MapFS{"doc.kml": {Data: example}})},
		"KMZ": {packed.Bytes(), http.FileServerFS(archive)},
	} {
		tab := openKML(t, c.beside, 390, 780)
		got := webtest.Eval[[]arrived](tab, "viewer.arrived()")
		want := placemarks(t, c.doc)
		if len(got) != len(want) || len(want) < 150 {
			t.Fatalf("%s: %d features of %d placemarks", name, len(got), len(want))
		}
		for i, p := range want {
			g := got[i]
			if g.Name != p.Name || strings.TrimSpace(g.Description) != strings.TrimSpace(p.Description) || p.Description == "" {
				t.Errorf("%s: placemark %d, %q: arrived as %q with %d bytes of %d", name, i, p.Name, g.Name, len(g.Description), len(p.Description))
			}
			if _, id, _ := strings.Cut(g.StyleURL, "#"); "#"+id != p.StyleURL || g.Styles == 0 {
				t.Errorf("%s: %q: style %s with %d parts, want %s", name, p.Name, g.StyleURL, g.Styles, p.StyleURL)
			}
			for _, d := range p.Data {
				if d.Name == "role" && d.Value != g.Role || d.Name == "line" && d.Value != g.Line {
					t.Errorf("%s: %q: %s is %q, want %q", name, p.Name, d.Name, g.Role+" "+g.Line, d.Value)
				}
			}
			if slices.Contains([]string{"reading", "bleed_over", "gap", "doubt", "crossing", "field_check"}, g.Role) && g.Label != "" {
				t.Errorf("%s: the name of %q is written over the line", name, p.Name)
			}
			checkInk(t, name, g)
			for _, icon := range g.Icons {
				if name == "KMZ" && !strings.Contains(icon, "/icons/") {
					t.Errorf("%q is shown by %s, which is not in the archive", p.Name, icon)
				}
			}
		}
		if name == "KMZ" {
			if asked := tab.Asked("http://127.0.0.1"); len(asked) > 0 {
				t.Errorf("the reader asked the network for %q", asked)
			}
			for _, trouble := range tab.Troubles() {
				t.Error(trouble)
			}
		}
	}
}

// exampleUtility are the example's lines.
var exampleUtility = map[string]trace.Utility{"W-1": trace.Water, "G-1": trace.Gas, "C-1": trace.Communication}

// checkInk holds what is drawn of lines and zones against the utility's colour.
func checkInk(t *testing.T, name string, g arrived) {
	t.Helper()
	ink := g.Stroke
	if strings.HasSuffix(g.Role, "_zone") {
		ink = g.Fill
	} else if g.Role != "centerline" {
		return
	}
	want, err := strconv.ParseUint(style.Of(exampleUtility[g.Line]).Hex[1:], 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	if len(ink) != 4 || uint64(ink[0])<<16|uint64(ink[1])<<8|uint64(ink[2]) != want {
		t.Errorf("%s: %s of %s is drawn in %v, want %06X", name, g.Role, g.Line, ink, want)
		return
	}
	if g.Role == "centerline" && ink[3] != 1 || g.Role != "centerline" && !(ink[3] > 0.05 && ink[3] < 0.5) {
		t.Errorf("%s: %s of %s lets through %v", name, g.Role, g.Line, ink)
	}
}

// Lines and zones lie in that reader where the map's own GeoJSON has them, to a
// centimetre; the line's colour is seen at the very pixels that it should cover, and
// what a balloon says is read on a phone without being dragged sideways.
func TestKMLIsDrawnInItsPlace(t *testing.T) {
	study.Only(t)
	t.Parallel()
	tab := openKML(t, http.FileServerFS(exampleKMZ(t)), 360, 740)
	ours := exampleGeometry(t)
	lines := 0
	for _, g := range webtest.Eval[[]arrived](tab, "viewer.arrived()") {
		if g.Role != "centerline" && !strings.HasSuffix(g.Role, "_zone") {
			continue
		}
		at := g.Role + " " + g.Line
		if g.Role == "centerline" {
			lines++
		}
		theirs := flatten(t, g.Coordinates)
		if len(theirs) == 0 {
			t.Errorf("%s: nothing has arrived", at)
		}
		// Zones may be cut and begin elsewhere; each corner must be one of ours, and none
		// of ours may be left out.
		for _, p := range theirs {
			if !near(p, ours[at]) {
				t.Errorf("%s: %v is none of its places", at, p)
				break
			}
		}
		if g.Role != "centerline" {
			for _, p := range ours[at] {
				if !near(p, theirs) {
					t.Errorf("%s: %v has not arrived", at, p)
					break
				}
			}
		}
	}
	if lines != 4 {
		t.Errorf("%d parts of lines have arrived", lines)
	}
	tab.Look("kmz-360")

	// Near the end of C-1, off from the others, between two of its readings, in the middle
	// of the screen.
	c := ours["centerline C-1"]
	end, before := c[len(c)-1], c[len(c)-2]
	at := [2]float64{(end[0] + before[0]) / 2, (end[1] + before[1]) / 2}
	webtest.Eval[any](tab, fmt.Sprintf("viewer.show(%.9f, %.9f, 40); null", at[0], at[1]))
	tab.Wait("viewer.map.getRenderer() !== null")
	seen := webtest.Eval[[]float64](tab, fmt.Sprintf("viewer.pixel(%.9f, %.9f)", at[0], at[1]))
	img := tab.Screen()
	tab.Look("kmz-360-near")
	want, _ := strconv.ParseUint(style.Of(trace.Communication).Hex[1:], 16, 32)
	r, g, b, _ := img.At(int(seen[0]), int(seen[1])).RGBA()
	for _, c := range [][2]uint32{{r >> 8, uint32(want >> 16)}, {g >> 8, uint32(want >> 8 & 255)}, {b >> 8, uint32(want & 255)}} {
		if math.Abs(float64(c[0])-float64(c[1])) > 24 {
			t.Errorf("at %v the screen has %d, %d, %d, where the line is drawn in %06X", seen, r>>8, g>>8, b>>8, want)
			break
		}
	}

	for _, name := range []string{"W-1, potable water (W), part 1 of 2", "1. W-1: Bleed-over strongly suspected, 14.2 to 40.7 m"} {
		webtest.Eval[any](tab, fmt.Sprintf("viewer.balloon(%q); null", name))
		box := webtest.Eval[[]float64](tab, "(() => { const b = document.getElementById('balloon'), r = b.getBoundingClientRect(), p = parseFloat(getComputedStyle(b.querySelector('p, li, td')).fontSize); return [r.left, r.right, b.scrollWidth - b.clientWidth, p]; })()")
		if box[0] < 0 || box[1] > 360 || box[2] > 0 || box[3] < 16 {
			t.Errorf("%s: the balloon is %v: left, right, dragged by, letters", name, box)
		}
		tab.Look("kmz-360-balloon-" + name[:3])
	}
}

// exampleGeometry is where the example's GeoJSON has its lines and zones, by role and
// line.
func exampleGeometry(t *testing.T) map[string][][2]float64 {
	t.Helper()
	text, err := os.ReadFile("../../examples/lantern-row/out/lantern-row.geojson")
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Features []struct {
			Properties struct{ Role, Line string }
			Geometry   struct{ Coordinates json.RawMessage }
		}
	}
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	out := map[string][][2]float64{}
	for _, f := range doc.Features {
		if len(f.Geometry.Coordinates) > 0 {
			at := f.Properties.Role + " " + f.Properties.Line
			out[at] = append(out[at], flatten(t, f.Geometry.Coordinates)...)
		}
	}
	return out
}

// flatten lists the positions of coordinates of any depth.
func flatten(t *testing.T, coordinates json.RawMessage) [][2]float64 {
	t.Helper()
	var v any
	if err := json.Unmarshal(coordinates, &v); err != nil {
		t.Fatal(err)
	}
	var out [][2]float64
	var walk func(v any)
	walk = func(v any) {
		list, _ := v.([]any)
		if len(list) >= 2 {
			x, isX := list[0].(float64)
			y, isY := list[1].(float64)
			if isX && isY {
				out = append(out, [2]float64{x, y})
				return
			}
		}
		for _, e := range list {
			walk(e)
		}
	}
	walk(v)
	return out
}

// near reports whether a place is one of others, to a centimetre.
func near(p [2]float64, others [][2]float64) bool {
	return slices.ContainsFunc(others, func(q [2]float64) bool { return math.Abs(p[0]-q[0]) < 1e-7 && math.Abs(p[1]-q[1]) < 1e-7 })
}

package kml

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/layer"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
)

func TestKMLGolden(t *testing.T) {
	check.Golden(t, "sample.kml", check.Write(t, sample.Sheet(), Write))
}

// validateKML runs libxml2 against the OGC's own schema, without network
// (testdata/kml/SOURCE.md).
func validateKML(t *testing.T, path string) (string, bool) {
	t.Helper()
	cmd := exec.Command("xmllint", "--nonet", "--noout", "--schema", "../../testdata/kml/xsd/ogckml22.xsd", path)
	cat, err := filepath.Abs("../../testdata/kml/xsd/catalog.xml")
	if err != nil {
		t.Fatal(err)
	}
	cmd.Env = append(os.Environ(), "XML_CATALOG_FILES="+cat)
	out, err := cmd.CombinedOutput()
	if code := cmd.ProcessState.ExitCode(); code != 0 && code != 3 {
		t.Fatalf("xmllint: %v\n%s", err, out)
	}
	return string(out), err == nil
}

func needXmllint(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("xmllint is not installed (Debian: libxml2-utils): KML is not checked against the OGC schema")
	}
}

func TestKMLFollowsTheOGCSchema(t *testing.T) {
	needXmllint(t)
	samples, _ := filepath.Glob("../../testdata/kml/samples/*.kml")
	if len(samples) != 6 {
		t.Fatalf("%d samples", len(samples))
	}
	for _, path := range samples {
		want := strings.HasPrefix(filepath.Base(path), "valid")
		if out, ok := validateKML(t, path); ok != want {
			t.Errorf("%s: valid %v\n%s", path, ok, out)
		}
	}
	us := sample.EveryKind()
	us.Job.Units = geo.US
	hostile := sample.Sheet()
	hostile.Lines[0].Setup.Name = "]]> \x00\x0b\ufffe <b>$[id]</b> &amp; \xff"
	cut := sample.Moved(sample.EveryKind(), geo.LonLat{LonDeg: 179.9998, LatDeg: -17})
	empty := &trace.Sheet{Plane: geo.NewPlane(geo.LonLat{}), Lines: []trace.Line{{}}}
	for name, s := range map[string]*trace.Sheet{"every kind": sample.EveryKind(), "us": us, "hostile": hostile, "antimeridian": cut, "empty": empty} {
		path := filepath.Join(t.TempDir(), "m.kml")
		os.WriteFile(path, check.Write(t, s, Write), 0o644)
		if out, ok := validateKML(t, path); !ok {
			t.Errorf("%s: %s", name, out)
		}
	}
}

// What the schema does not check: coordinate tuples, closed rings that run
// counter-clockwise, style and schema targets, declared fields, unique ids.
func TestKMLBeyondTheSchema(t *testing.T) {
	for _, s := range []*trace.Sheet{sample.EveryKind(), sample.Moved(sample.EveryKind(), geo.LonLat{LonDeg: -179.9998, LatDeg: 10})} {
		checkKML(t, check.Write(t, s, Write))
	}
}

var tuple = regexp.MustCompile(`^-?\d+(\.\d{1,8})?,-?\d+(\.\d{1,8})?$`)

func checkKML(t *testing.T, text []byte) {
	t.Helper()
	ids, targets := map[string]bool{}, []string{}
	fields := map[string]map[string]bool{}
	var path []string
	var schema, data string
	dec := xml.NewDecoder(bytes.NewReader(text))
	attr := func(e xml.StartElement, name string) string {
		for _, a := range e.Attr {
			if a.Name.Local == name {
				return a.Value
			}
		}
		return ""
	}
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := tok.(type) {
		case xml.StartElement:
			path = append(path, e.Name.Local)
			if id := attr(e, "id"); id != "" {
				if ids["#"+id] {
					t.Errorf("id %s is used twice", id)
				}
				ids["#"+id] = true
			}
			switch e.Name.Local {
			case "Schema":
				schema = "#" + attr(e, "id")
				fields[schema] = map[string]bool{}
			case "SimpleField":
				fields[schema][attr(e, "name")] = true
			case "SchemaData":
				data = attr(e, "schemaUrl")
			case "SimpleData":
				if !fields[data][attr(e, "name")] {
					t.Errorf("%s has no field %s", data, attr(e, "name"))
				}
			case "altitude":
				if inside(path, "Placemark") {
					t.Error("a placemark has an altitude")
				}
			}
		case xml.EndElement:
			path = path[:len(path)-1]
		case xml.CharData:
			if len(path) == 0 {
				continue
			}
			switch path[len(path)-1] {
			case "styleUrl":
				targets = append(targets, string(e))
			case "coordinates":
				checkCoordinates(t, string(e), inside(path, "LinearRing"), inside(path, "outerBoundaryIs"))
			}
		}
	}
	for _, to := range targets {
		if !ids[to] {
			t.Errorf("no style %s", to)
		}
	}
	if len(targets) == 0 || len(fields) != len(layer.All()) {
		t.Error("nothing was checked")
	}
}

func inside(path []string, name string) bool {
	for _, p := range path {
		if p == name {
			return true
		}
	}
	return false
}

func checkCoordinates(t *testing.T, text string, ring, outer bool) {
	t.Helper()
	tuples := strings.Fields(text)
	var pts [][2]float64
	for _, s := range tuples {
		if !tuple.MatchString(s) {
			t.Errorf("tuple %q", s)
		}
		lon, lat, _ := strings.Cut(s, ",")
		x, _ := strconv.ParseFloat(lon, 64)
		y, _ := strconv.ParseFloat(lat, 64)
		if math.Abs(x) > 180 || math.Abs(y) > 90 {
			t.Errorf("position %s", s)
		}
		pts = append(pts, [2]float64{x, y})
	}
	if !ring {
		return
	}
	if len(pts) < 4 || pts[0] != pts[len(pts)-1] {
		t.Errorf("ring %s", text)
		return
	}
	area := 0.0
	for i := 1; i < len(pts); i++ {
		area += (pts[i-1][0]-pts[0][0])*(pts[i][1]-pts[0][1]) - (pts[i-1][1]-pts[0][1])*(pts[i][0]-pts[0][0])
	}
	if (area > 0) != outer {
		t.Errorf("ring winds the wrong way: %.80s", text)
	}
}

// placemarks returns name and description of every placemark and folder.
func placemarks(t *testing.T, text []byte) map[string]string {
	t.Helper()
	type node struct {
		Name        string `xml:"name"`
		Description string `xml:"description"`
		Folders     []node `xml:"Folder"`
		Placemarks  []node `xml:"Placemark"`
	}
	var doc struct {
		Document node `xml:"Document"`
	}
	if err := xml.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{"": doc.Document.Description}
	var walk func(node)
	walk = func(n node) {
		for _, f := range append(append([]node(nil), n.Folders...), n.Placemarks...) {
			out[f.Name] = f.Description
			walk(f)
		}
	}
	walk(doc.Document)
	return out
}

func TestKMLSaysWhatACrewNeeds(t *testing.T) {
	s := sample.EveryKind()
	s.Job.Units = geo.US
	got := placemarks(t, check.Write(t, s, Write))
	for _, c := range s.Cautions {
		if !strings.Contains(got[""], htmlText(c)) {
			t.Errorf("the document does not say %q", c)
		}
	}
	for _, l := range s.Lines {
		if _, ok := got[words.LineTitle(l.Setup)]; !ok {
			t.Errorf("no folder %q", words.LineTitle(l.Setup))
		}
		for _, f := range l.Findings {
			text, ok := got[words.FindingTitle(geo.US, f)]
			if !ok {
				t.Errorf("no placemark %q", words.FindingTitle(geo.US, f))
			}
			if b, is := f.(finding.BleedOver); is {
				for _, e := range words.Remarks(s.Job.Units, b.Evidence) {
					if !strings.Contains(text, htmlText(e)) {
						t.Errorf("%s does not say %q", words.FindingTitle(geo.US, f), e)
					}
				}
			}
		}
	}
	if text := got["W-1 0 ft: read 3 ft 5 in ± 5 in"]; !strings.Contains(text, "Read depth to centre, 3 ft 5 in ± 5 in, on 2026-05-12; expose to verify") {
		t.Errorf("depth placemark: %q", text)
	}
}

// Text from the input reaches a balloon as text, never as markup or entity.
func TestKMLEscapesTheInput(t *testing.T) {
	s := sample.Sheet()
	evil := `<script>alert(1)</script> & $[geDirections] "quoted"`
	s.Lines[0].Readings[0].Note, s.Lines[0].Readings[0].Point = evil, "evil"
	s.Lines[0].Setup.Material, s.Job.Ticket, s.Problems[0].Value = evil, evil, evil
	s.Lines[0].Findings = []trace.Finding{finding.Gap{Line: "W-1", ToM: 1, Path: s.Lines[0].Centerline.Parts[0].Path(), Why: trace.Verbatim(evil)}}
	text := check.Write(t, s, Write)
	for name, d := range placemarks(t, text) {
		if strings.Contains(d, "<script") || strings.Contains(d, "$[geD") {
			t.Errorf("%s: %s", name, d)
		}
	}
	if n := bytes.Count(text, []byte("<script")); n != 0 {
		t.Errorf("%d raw tags in the file", n)
	}
}

// A job with more readings than a viewer takes says where they are.
func TestKMLOfAHugeJob(t *testing.T) {
	s := sample.WithReadings(mostReadings + 1)
	text := check.Write(t, s, Write)
	checkKML(t, text)
	if len(text) > 2<<20 || !bytes.Contains(text, []byte("are in the GeoJSON")) || !bytes.Contains(text, []byte("#reading-exposed</styleUrl>")) {
		t.Errorf("%d bytes", len(text))
	}
}

func TestKMLReportsAFailingWriter(t *testing.T) {
	if err := Write(check.Failing{Err: io.ErrShortWrite}, sample.Sheet()); err == nil {
		t.Error("no error")
	}
}

func BenchmarkKML10kReadings(b *testing.B) {
	s := sample.WithReadings(mostReadings / 2)
	b.ReportAllocs()
	for b.Loop() {
		var n check.Counting
		if err := Write(&n, s); err != nil || n.Lines < 10_000 {
			b.Fatal(err, n.Lines)
		}
	}
}

// Every item to check has a place and a view of it, and the gravest stands first.
func TestKMLAdviceHasAPlaceAndAView(t *testing.T) {
	s := sample.EveryKind()
	again := finding.FieldCheck{Line: s.Lines[0].Setup.Name, StationM: 3, At: s.Lines[0].Centerline.Polyline().Points[0], Kind: trace.CheckLift, Outcome: trace.OutcomeInconclusive, Remark: trace.Verbatim("It could not tell.")}
	s.Lines[0].Findings = append(s.Lines[0].Findings, again)
	var doc struct {
		Folders []struct {
			Name       string `xml:"name"`
			Open       int    `xml:"open"`
			Placemarks []struct {
				Name        string `xml:"name"`
				Description string `xml:"description"`
				LookAt      *struct {
					Lon   float64 `xml:"longitude"`
					Lat   float64 `xml:"latitude"`
					Range float64 `xml:"range"`
				} `xml:"LookAt"`
				Point *struct {
					Coordinates string `xml:"coordinates"`
				} `xml:"Point"`
			} `xml:"Placemark"`
		} `xml:"Document>Folder"`
	}
	if err := xml.Unmarshal(check.Write(t, s, Write), &doc); err != nil {
		t.Fatal(err)
	}
	first := doc.Folders[0]
	if first.Name != "Check before digging" || first.Open != 1 || len(first.Placemarks) != len(s.Advice)+1 {
		t.Fatalf("first folder %q with %d items", first.Name, len(first.Placemarks))
	}
	if last := first.Placemarks[len(s.Advice)]; last.Point == nil || !strings.HasSuffix(last.Name, "W-1: Lift check is inconclusive, at 3.0 m") || !strings.Contains(last.Description, "It could not tell.") {
		t.Errorf("the check to make again: %+v", last)
	}
	for i, a := range advice.MostImportantFirst(s) {
		p := first.Placemarks[i]
		if p.LookAt == nil || p.Point == nil || !strings.Contains(p.Description, htmlText(words.Sentence(words.Remark(s.Job.Units, a.Remark)))) {
			t.Errorf("%q: place %v, view %v, %q", p.Name, p.Point, p.LookAt, p.Description)
			continue
		}
		at := s.Plane.XY(geo.LonLat{LonDeg: p.LookAt.Lon, LatDeg: p.LookAt.Lat})
		near := math.Inf(1)
		for _, l := range s.Lines {
			near = math.Min(near, math.Abs(l.Centerline.Polyline().Nearest(at).OffsetM))
		}
		if near > 20 || p.LookAt.Range < 30 {
			t.Errorf("%q looks at a place %.0f m off from %.0f m", p.Name, near, p.LookAt.Range)
		}
	}
}

// The archive holds the document first and every icon that it names, and is the
// same for the same sheet.
func TestKMZHoldsWhatItNames(t *testing.T) {
	b := check.Write(t, sample.EveryKind(), WriteKMZ)
	if !bytes.Equal(b, check.Write(t, sample.EveryKind(), WriteKMZ)) {
		t.Error("the same sheet gave different bytes")
	}
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		files[f.Name], _ = io.ReadAll(r)
	}
	if z.File[0].Name != "doc.kml" {
		t.Errorf("%s stands first", z.File[0].Name)
	}
	named := map[string]bool{}
	for _, m := range regexp.MustCompile(`<href>([^<]*)</href>`).FindAllSubmatch(files["doc.kml"], -1) {
		named[string(m[1])] = true
		img, err := png.Decode(bytes.NewReader(files[string(m[1])]))
		if err != nil {
			t.Errorf("%s: %v", m[1], err)
		} else if _, _, _, a := img.At(iconPixels/2, iconPixels/2).RGBA(); a == 0 {
			t.Errorf("%s is empty in the middle", m[1])
		}
	}
	if len(named) != len(icons) {
		t.Errorf("%d icons are named, %d are inside", len(named), len(icons))
	}
	checkKML(t, files["doc.kml"])
	needXmllint(t)
	path := filepath.Join(t.TempDir(), "doc.kml")
	os.WriteFile(path, files["doc.kml"], 0o644)
	if out, ok := validateKML(t, path); !ok {
		t.Error(out)
	}
}

// GDAL's reader of KMZ finds the lines in it.
func TestKMZIsReadByGDAL(t *testing.T) {
	check.NeedGDAL(t)
	path := filepath.Join(t.TempDir(), "m.kmz")
	os.WriteFile(path, check.Write(t, sample.Sheet(), WriteKMZ), 0o644)
	out, err := exec.Command("ogrinfo", "-ro", "-so", path).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, want := range []string{"Check before digging", "W-1, potable water (W)"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("GDAL finds no layer %q in\n%s", want, out)
		}
	}
}

// What a viewer shows when it opens the file is what the map is for: a feature is drawn
// only if none of the folders around it is switched off (OGC KML 2.3, 9.1.3.2), so lines,
// zones, what to check and what was found stand in none that is.
func TestWhatMattersIsShownAtOnce(t *testing.T) {
	type feature struct {
		Visibility string    `xml:"visibility"`
		Name       string    `xml:"name"`
		Style      string    `xml:"styleUrl"`
		Folders    []feature `xml:"Folder"`
		Places     []feature `xml:"Placemark"`
	}
	var file struct {
		Document feature `xml:"Document"`
	}
	var b bytes.Buffer
	if err := Write(&b, sample.Sheet()); err != nil {
		t.Fatal(err)
	}
	if err := xml.Unmarshal(b.Bytes(), &file); err != nil {
		t.Fatal(err)
	}
	shown := map[string]int{}
	var walk func(feature)
	walk = func(f feature) {
		if f.Visibility == "0" {
			return
		}
		for _, p := range f.Places {
			if p.Visibility != "0" {
				style, _, _ := strings.Cut(strings.TrimPrefix(p.Style, "#"), "-")
				shown[style]++
			}
		}
		for _, k := range f.Folders {
			walk(k)
		}
	}
	walk(file.Document)
	for _, style := range []string{"line", "advice", "tolerance_zone", "caution_zone", "bleed_over", "gap", "crossing", "depth", "record_difference"} {
		if shown[style] == 0 {
			t.Errorf("nothing with the style %q is shown when the file is opened: %v", style, shown)
		}
	}
}

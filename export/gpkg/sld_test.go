package gpkg

import (
	"encoding/xml"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/layer"
	"loamline.example/export/style"
)

// The descriptor that stands beside each QML has a rule for each of its symbols; the
// names of elements and marks are those of OGC 02-070.
func TestStyledLayerDescriptors(t *testing.T) {
	type symbolizer struct {
		Stroke []string `xml:"Stroke>CssParameter"`
		Fill   []string `xml:"Fill>CssParameter"`
		Mark   string   `xml:"Graphic>Mark>WellKnownName"`
		Size   float64  `xml:"Graphic>Size"`
	}
	type descriptor struct {
		XMLName xml.Name `xml:"http://www.opengis.net/sld StyledLayerDescriptor"`
		Version string   `xml:"version,attr"`
		Rules   []struct {
			Property string       `xml:"Filter>PropertyIsEqualTo>PropertyName"`
			Literal  string       `xml:"Filter>PropertyIsEqualTo>Literal"`
			Line     []symbolizer `xml:"LineSymbolizer"`
			Area     []symbolizer `xml:"PolygonSymbolizer"`
			Point    []symbolizer `xml:"PointSymbolizer"`
		} `xml:"NamedLayer>UserStyle>FeatureTypeStyle>Rule"`
	}
	for _, l := range layer.AllWithVertices() {
		var d descriptor
		if err := xml.Unmarshal([]byte(layerSLD(l)), &d); err != nil {
			t.Fatalf("%s: %v", l.Role, err)
		}
		attr, symbols := formOf(l).by, formOf(l).symbols
		if d.Version != "1.0.0" || len(d.Rules) != len(symbols) {
			t.Errorf("%s: version %q, %d rules for %d symbols", l.Role, d.Version, len(d.Rules), len(symbols))
			continue
		}
		for i, r := range d.Rules {
			if r.Property != attr || r.Literal != symbols[i].value {
				t.Errorf("%s: rule %d is for %s = %q", l.Role, i, r.Property, r.Literal)
			}
			of := map[string]int{"line": len(r.Line), "fill": len(r.Area), "marker": len(r.Point)}
			if of[symbols[i].kind] != 1 || len(r.Line)+len(r.Area)+len(r.Point) != 1 {
				t.Errorf("%s: rule %d has %v", l.Role, i, of)
			}
			for _, p := range r.Point {
				if !strings.Contains(" square circle triangle star cross x ", " "+p.Mark+" ") || !(p.Size > 0) {
					t.Errorf("%s: mark %q of %v", l.Role, p.Mark, p.Size)
				}
			}
		}
		if l.Role == "centerline" {
			gas := style.Of("gas")
			for i, s := range symbols {
				if line := d.Rules[i].Line[0].Stroke; s.value == "gas" && (line[0] != gas.Hex || line[2] != "2.86" || line[3] != "20 11.43") { // 0.8 mm, dashes of 5.6 and 3.2 mm
					t.Errorf("gas is drawn with %q", line)
				}
			}
		}
	}
}

// Both styles are in the file, where GDAL finds them.
func TestGDALFindsBothStyles(t *testing.T) {
	check.NeedGDAL(t)
	path := filepath.Join(t.TempDir(), "job.gpkg")
	if err := Write(path, sample.Sheet(), Options{}); err != nil {
		t.Fatal(err)
	}
	rows := check.GDAL(t, path, "SELECT COUNT(*) AS n FROM layer_styles WHERE styleQML LIKE '<qgis%' AND styleSLD LIKE '<StyledLayerDescriptor%'")
	if got := check.GDALNumber(t, rows, "n"); int(got) != len(layer.AllWithVertices())+len(views) {
		t.Errorf("%v layers have both styles", got)
	}
}

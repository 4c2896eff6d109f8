package export

import (
	"io"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"loamline.example/export/geojson"
	"loamline.example/export/gpkg"
	"loamline.example/export/internal/sample"
	"loamline.example/export/kml"
	"loamline.example/trace"
)

// Coordinates that are not finite stop every format: nothing is drawn at a place
// that nobody computed.
func TestNonFiniteCoordinatesAreRefused(t *testing.T) {
	zone, line := sample.Sheet(), sample.Sheet()
	zone.Lines[0].Tolerance.Area[0][0][3] = orb.Point{math.NaN(), 0}
	line.Lines[0].Centerline.Parts[0].Vertices[2].Pos.Y = math.Inf(1)
	for name, s := range map[string]*trace.Sheet{"zone": zone, "line": line} {
		for format, err := range map[string]error{
			"GeoJSON": geojson.Write(io.Discard, s), "KML": kml.Write(io.Discard, s),
			"GeoPackage": gpkg.Write(t.TempDir()+"/x.gpkg", s, gpkg.Options{}),
		} {
			if err == nil || !strings.Contains(err.Error(), "W-1") {
				t.Errorf("%s, %s: got %v", format, name, err)
			}
		}
	}
}

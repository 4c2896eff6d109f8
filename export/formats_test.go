package export

import (
	"io"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"loamline/export/internal/sample"
	"loamline/trace"
)

// Coordinates that are not finite stop every format: nothing is drawn at a place
// that nobody computed.
func TestNonFiniteCoordinatesAreRefused(t *testing.T) {
	zone, line := sample.Sheet(), sample.Sheet()
	zone.Lines[0].Tolerance.Area[0][0][3] = orb.Point{math.NaN(), 0}
	line.Lines[0].Centerline.Parts[0].Vertices[2].Pos.Y = math.Inf(1)
	for name, s := range map[string]*trace.Sheet{"zone": zone, "line": line} {
		for format, err := range map[string]error{
			"GeoJSON": GeoJSON(io.Discard, s), "KML": KML(io.Discard, s),
			"GeoPackage": GeoPackage(t.TempDir()+"/x.gpkg", s, GeoPackageOptions{}),
		} {
			if err == nil || !strings.Contains(err.Error(), "W-1") {
				t.Errorf("%s, %s: got %v", format, name, err)
			}
		}
	}
}

package export

import (
	"context"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"loamline.example/export/internal/sample"
	"loamline.example/trace"
)

// Coordinates that are not finite stop every format: nothing is drawn at a place
// that nobody computed.
func TestNonFiniteCoordinatesAreRefused(t *testing.T) {
	zone, line := sample.Sheet(), sample.Sheet()
	zone.Lines[0].Tolerance.Area[0][0][3] = orb.Point{math.NaN(), 0}
	line.Lines[0].Centerline.Parts[0].Vertices[2].Pos.Y = math.Inf(1)
	for where, s := range map[string]*trace.Sheet{"zone": zone, "line": line} {
		for _, f := range formats {
			for _, out := range JobOutputs(s, t.TempDir(), []string{f.name}, JobOptions{}) {
				write := out.WritePath
				if out.Write != nil {
					write = func(context.Context, string) error { return out.Write(io.Discard) }
				}
				if err := write(t.Context(), out.Path); err == nil || !strings.Contains(err.Error(), "W-1") {
					t.Errorf("%s, %s: got %v", out.Path, where, err)
				}
			}
		}
	}
}

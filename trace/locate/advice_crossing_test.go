package locate

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/fixture"
)

// A known line that crosses a trace is something to check before digging, and where its
// frame is in doubt the item says so.
func TestKnownLineAcrossIsAdvised(t *testing.T) {
	for _, doubtM := range []float64{0, 1.43} {
		l := fixture.Line("A", 1.0, geo.XY{X: 0}, geo.XY{X: 5}, geo.XY{X: 10}, geo.XY{X: 15}, geo.XY{X: 20})
		c := finding.Crossing{Line: "A", Other: "duct", Source: "town.geojson", StationM: 5, OtherStationM: 3, OtherDepthM: 0.6, DepthDifferenceM: -0.4,
			DoubtM: doubtM, DoubtWhy: "its frame is not stated"}
		a, ok := adviseFinding(c, l)
		if !ok || a.Kind != trace.AdviseCrossing || !strings.Contains(said(a.Remark), "not located here") || strings.Contains(said(a.Remark), "its frame is not stated") != (doubtM > 0) {
			t.Errorf("advice %+v", a)
		}
	}
}

package placing

import (
	"strings"
	"testing"

	"loamline.example/trace"
)

// A grid whose positions lie beside its area, where its formulas still hold, is told.
func TestPositionsBesideTheirGrid(t *testing.T) {
	f := frameOf(t, "EPSG:2263", "", "2026-05-12") // New York Long Island, to 41.3 N
	rs := gridReadings(300000, 260000)
	p := placer{inputs: []trace.Input{{Name: "a.csv"}}, frame: f}
	if _, err := p.place(rs); err != nil {
		t.Fatal(err)
	}
	if rs[0].Status != "" || len(p.problems) != 1 || !strings.Contains(said(p.problems[0].Check), "outside the area that their system, EPSG:2263") {
		t.Errorf("%q %q %v", rs[0].Status, rs[0].Reason, p.problems)
	}
}

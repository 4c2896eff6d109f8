package measure

import (
	"context"
	"testing"

	"loamline.example/export/geojson"
	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// A map of a plain line is drawn; where the line in truth lies somewhere else it is
// wrong and looks sure.
func TestVerdictOfAMapThatIsWrong(t *testing.T) {
	j, err := tracetest.Make("straight", 71)
	if err != nil {
		t.Fatal(err)
	}
	m, err := runMap(context.Background(), j, ColumnSets[0].layout())
	if err != nil {
		t.Fatal(err)
	}
	line, err := m.mainLine()
	if err != nil {
		t.Fatal(err)
	}
	opt := Options{GeoJSON: geojson.Write}
	if v, why, err := m.verdict(opt, line.Setup.Name); err != nil || v.Drawn != 1 || v.total() != 1 || v.ReadM < 20 || v.UntoldM > 0 {
		t.Errorf("%+v, %s, %v, want it drawn, and all that was read in its zone", v, why, err)
	}
	truth := &m.job.Lines[j.Traces[0].Line]
	var moved []geo.XY
	for _, p := range truth.Path.Points {
		moved = append(moved, p.Add(geo.XY{X: 2, Y: 2}))
	}
	truth.Path = geo.NewPolyline(moved)
	if v, why, err := m.verdict(opt, line.Setup.Name); err != nil || v.Silent != 1 || v.total() != 1 || v.UntoldM < 0.9*v.ReadM || why == "" {
		t.Errorf("2.8 m off: %+v, %s, %v, want it silent, and hardly any of it in its zone", v, why, err)
	}
}

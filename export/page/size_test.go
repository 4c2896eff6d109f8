package page

import (
	"slices"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
	"loamline.example/geo"
	"loamline.example/trace"
)

// A job of 200,000 readings is still a page that opens and answers.
func TestPageOfManyReadings(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	s := sample.Of(geo.Metric, sample.Winding(2000))
	l := &s.Lines[0]
	walked := slices.Clone(l.Readings)
	for i := range 200_000 {
		r := walked[i*len(walked)/200_000]
		r.Row, r.StationM, r.Geographic = int32(i), float64(i)/100, geo.LonLat{LonDeg: 12, LatDeg: 48}
		r.Pos = r.Pos.Add(geo.XY{X: float64(i%7) / 50})
		if i%50 == 0 {
			r.Status, r.Reason = trace.StatusSetAside, trace.Verbatim("leaves the walk")
		}
		l.Readings = append(l.Readings, r)
	}
	tab := openPage(t, b, "many", s, 360, 740, false)
	if by := webtest.Eval[float64](tab, "(() => { const m = loamline.plan.map, z = m.getZoom(); m.setZoom(z + 3, {animate: false}); return m.getZoom() - z; })()"); by != 3 {
		t.Errorf("zoomed by %g, want 3", by)
	}
	if !webtest.Eval[bool](tab, "document.getElementById('rows').textContent.includes('and 2000 more, all in the GeoJSON')") {
		t.Error("the readings left out of the table are not counted")
	}
	quiet(t, tab)
}

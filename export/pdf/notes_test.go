package pdf

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Rows of one reason are one note, however their particulars differ.
func TestNotesGroupRowsByReason(t *testing.T) {
	var l trace.Line
	for i := range 500 {
		r := trace.NewReading()
		r.Row, r.Status, r.Reason = int32(502+i), trace.StatusSetAside, remark.Repeated{Row: int32(2 + i)}
		l.Readings = append(l.Readings, r)
	}
	one := trace.NewReading()
	one.Row, one.Status, one.Reason = 7, trace.StatusSetAside, trace.Verbatim("position outlier: 4.2 m off")
	spike := trace.NewReading()
	spike.Row, spike.Status, spike.DepthDropped, spike.Reason = 9, trace.StatusUsed, true, remark.ZeroDepth
	l.Readings = append(l.Readings, one, spike)
	got := setAside(geo.Metric, &l)
	if len(got) != 3 || !strings.HasPrefix(got[0], "500 × repeated row (row 502, 503,") || !strings.HasSuffix(got[0], ", …).") ||
		got[1] != "1 × position outlier: 4.2 m off (row 7)." || got[2] != "1 × depth not used: depth 0 is not a depth (row 9)." {
		t.Errorf("got %q", got)
	}
}

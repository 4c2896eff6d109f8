package pdf

import (
	"fmt"
	"strings"
	"testing"

	"loamline/trace"
)

// Rows of one reason are one note, however their particulars differ.
func TestNotesGroupRowsByReason(t *testing.T) {
	var l trace.Line
	for i := range 500 {
		r := trace.NewReading()
		r.Row, r.Status, r.Reason = int32(502+i), trace.StatusSetAside, fmt.Sprintf("repeated row: the same reading as line %d", 2+i)
		l.Readings = append(l.Readings, r)
	}
	one := trace.NewReading()
	one.Row, one.Status, one.Reason = 7, trace.StatusSetAside, "position outlier: 4.2 m off"
	spike := trace.NewReading()
	spike.Row, spike.Status, spike.DepthDropped, spike.Reason = 9, trace.StatusUsed, true, "depth 0 is not a depth"
	l.Readings = append(l.Readings, one, spike)
	got := setAside(&l)
	if len(got) != 3 || !strings.HasPrefix(got[0], "500 × repeated row (row 502, 503,") || !strings.HasSuffix(got[0], ", …).") ||
		got[1] != "1 × position outlier: 4.2 m off (row 7)." || got[2] != "1 × depth not used: depth 0 is not a depth (row 9)." {
		t.Errorf("got %q", got)
	}
}

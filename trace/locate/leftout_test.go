package locate

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/clean"
)

// readAt is a trace of depths, two metres apart.
func readAt(n int, depthM func(i int) float64) trace.Trace {
	t := trace.Trace{Name: "A"}
	for i := range n {
		r := trace.NewReading()
		r.Row, r.Line, r.Pos, r.DepthM = int32(i+2), "A", geo.XY{X: 2 * float64(i)}, depthM(i)
		t.Readings = append(t.Readings, r)
	}
	return t
}

func TestLeftOutRowsAreTold(t *testing.T) {
	table := []trace.Input{{Name: "walk.csv", DepthHeader: "depth_m"}}
	tr := readAt(20, func(int) float64 { return 1 })
	if got := leftOut(tr, table); len(got) != 0 {
		t.Errorf("nothing left out: %+v", got)
	}
	for i := range 4 {
		r := &tr.Readings[16+i]
		r.Pos = geo.XY{X: trace.Unknown, Y: trace.Unknown}
		r.SetAside(trace.Verbatim("latitude and longitude look swapped"))
	}
	if got := leftOut(tr, table); len(got) != 1 || !strings.Contains(said(got[0].Remark), "4 of 20 readings have no usable position") || !strings.Contains(said(got[0].Remark), "line 18") ||
		!strings.Contains(said(got[0].Remark), "The line is drawn without them") { // for it may be
		t.Errorf("four without a place: %+v", got)
	}
	sunk := readAt(20, func(i int) float64 {
		if i < 10 {
			return 100
		}
		return 1
	})
	clean.Trace(sunk, trace.Unknown)
	if got := leftOut(sunk, table); len(got) != 1 || !strings.Contains(said(got[0].Remark), "10 of 20 depths are more than a receiver can read") ||
		!strings.Contains(said(got[0].Remark), `as if those of the column "depth_m" of walk.csv were in another unit. If so, correct the unit in the header`) {
		t.Errorf("ten too deep: %+v", got)
	}
}

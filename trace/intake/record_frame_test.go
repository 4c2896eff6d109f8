package intake

import (
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// A layer in the readings' own frame is moved as they are; one whose frame nobody
// stated is not moved, and carries the doubt. EPSG:6487 and its figures come out at
// the same place by the job file's word or by an old crs member.
func TestRecordFrames(t *testing.T) {
	frame, err := geo.NewFrame("", "NAD83(2011)", 2026)
	if err != nil {
		t.Fatal(err)
	}
	raw := geo.LonLat{LonDeg: -76.6, LatDeg: 39.3}
	want := frame.ToWGS84(raw)
	plane := geo.NewPlane(want)
	grid, err := geo.NewFrame("EPSG:6487", "NAD83(2011)", 2026)
	if err != nil {
		t.Fatal(err)
	}
	x, y, err := grid.FromWGS84(want)
	if err != nil {
		t.Fatal(err)
	}
	line := func(member string, x, y float64) string {
		far := 0.0001
		if y > 90 {
			far = 10 // metres, not degrees
		}
		return fmt.Sprintf(`{"type":"FeatureCollection",%s"features":[{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[%.12f,%.12f],[%.12f,%.12f]]}}]}`, member, x, y, x, y+far)
	}
	for _, tt := range []struct {
		name, text string
		ref        ReferenceFile
		offM       float64
		doubt      bool
	}{
		{"stated", line("", raw.LonDeg, raw.LatDeg), ReferenceFile{Datum: "NAD83(2011)"}, 0, false},
		{"projected", line("", x, y), ReferenceFile{CRS: "EPSG:6487"}, 0, false},
		{"member", line(`"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::6487"}},`, x, y), ReferenceFile{}, 0, false},
		{"unstated", line("", raw.LonDeg, raw.LatDeg), ReferenceFile{}, frame.Datum.OffsetM(raw, 2026), true},
		{"wgs84", line("", want.LonDeg, want.LatDeg), ReferenceFile{Datum: "WGS84"}, 0, false},
	} {
		s := trace.Source{Job: trace.DefaultJob()}
		s.Job.Datum, s.Job.Epoch = "NAD83(2011)", 2026
		tt.ref.File = File{Name: tt.name + ".geojson", Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(tt.text)), nil }}
		if err := addRecords(t.Context(), &s, tt.ref); err != nil || len(s.Records) != 1 {
			t.Fatalf("%s: %v, %+v", tt.name, err, s.Problems)
		}
		r := s.Records[0]
		if off := plane.XY(r.Path[0]).Norm(); math.Abs(off-tt.offM) > 0.01 {
			t.Errorf("%s lies %.3f m off, want %.3f", tt.name, off, tt.offM)
		}
		if tt.doubt != (r.DoubtM > 1) || tt.doubt != (len(s.Problems) == 1 && s.Problems[0].Warn) {
			t.Errorf("%s: doubt %g, %+v", tt.name, r.DoubtM, s.Problems)
		}
	}
}

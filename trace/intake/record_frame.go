package intake

import (
	"fmt"
	"io"
	"strings"

	"loamline/geo"
	"loamline/trace"
)

// readFramed reads a layer in its own frame. Where nobody stated that frame and
// the readings' is a national one, the records carry by how much the two may
// lie apart, so that no difference of frames passes for one of the ground.
func readFramed(s *trace.Source, r io.Reader, f ReferenceFile) ([]trace.GeoRecord, []trace.Problem, error) {
	readings, err := s.Job.DatedBy(s.Readings).Frame()
	if err != nil {
		return nil, nil, err
	}
	epoch := f.Epoch
	if epoch == 0 {
		epoch = readings.Epoch
	}
	frame, err := geo.NewFrame(f.CRS, f.Datum, epoch)
	if err != nil {
		return nil, nil, &trace.Problem{File: f.Name, Cause: err.Error(), Hint: "name the frame of the layer in its [[reference]]: crs, datum and epoch"}
	}
	rd := newRecordReader(r, f.Name, f.Utility, frame)
	rd.given = f.CRS != "" || f.Datum != ""
	records, problems, err := rd.read()
	if err != nil || len(records) == 0 || rd.frame.Stated || !readings.Datum.Moves() {
		return records, problems, err
	}
	for i := range records {
		records[i].DoubtM = readings.Datum.OffsetM(records[i].Path[0], readings.Epoch)
	}
	return records, append(problems, trace.Problem{File: f.Name, Warn: true,
		Cause: fmt.Sprintf("the frame of this layer is not stated, and the readings are in %s: its lines may lie %.1f m off for that alone", readings.Datum.Name, records[0].DoubtM),
		Hint:  "say it in the layer's [[reference]]: datum = \"" + readings.Datum.Name + "\", or datum = \"WGS84\" if that is what it is"}), nil
}

// crsName takes the code out of an old crs member: urn:ogc:def:crs:EPSG::2263
// and EPSG:2263 are the same.
func crsName(member string) string {
	name := strings.ToUpper(strings.TrimSpace(member))
	if i := strings.LastIndex(name, "EPSG:"); i >= 0 {
		rest := name[i+len("EPSG:"):]
		return "EPSG:" + rest[strings.LastIndex(rest, ":")+1:]
	}
	return name
}

// framed brings a position of the layer to WGS 84.
func framed(frame geo.Frame, x, y float64) (geo.LonLat, error) {
	if !frame.CRS.Geographic() {
		return frame.Unproject(x*frame.CRS.UnitM, y*frame.CRS.UnitM)
	}
	p := geo.LonLat{LonDeg: x, LatDeg: y}
	if !p.Valid() {
		return p, fmt.Errorf("%.10g, %.10g is no longitude and latitude: the layer seems to be in a projected system", x, y)
	}
	if !frame.Stated {
		return p, nil
	}
	return frame.ToWGS84(p), nil
}

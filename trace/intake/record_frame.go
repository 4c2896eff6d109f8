package intake

import (
	"fmt"
	"strings"

	"loamline/geo"
	"loamline/trace"
)

// readRecords reads a layer in its own frame. Where nobody stated that frame and
// the readings' is a national one, the records carry by how much the two may lie
// apart, so that no difference of frames passes for one of the ground. They carry
// likewise how well a frame of another family is joined.
func readRecords(s *trace.Source, ref ReferenceFile, read func(*layerReader) error) error {
	readings, err := s.Job.DatedBy(s.Readings).Frame()
	if err != nil {
		return err
	}
	epoch := ref.Epoch
	if epoch == 0 {
		epoch = readings.Epoch
	}
	l, err := newLayerReader(ref, epoch)
	if err != nil {
		return err
	}
	if err := read(l); err != nil {
		return err
	}
	records, problems, err := l.finish()
	if err != nil {
		return err
	}
	s.Problems = append(s.Problems, problems...)
	if len(records) > 0 {
		s.Problems = append(s.Problems, doubtFrame(records, l, readings)...)
	}
	s.Records = append(s.Records, records...)
	return nil
}

// doubtFrame gives the records what their frame leaves open.
func doubtFrame(records []trace.GeoRecord, l *layerReader, readings geo.Frame) []trace.Problem {
	if l.frame.Stated {
		if coarse := l.frame.CoarseM(); coarse > 0 && !l.frame.Akin(readings) {
			for i := range records {
				records[i].DoubtM, records[i].DoubtWhy = coarse, fmt.Sprintf("its frame, %s, is known to about %g m only", l.frame.Datum.Name, coarse)
			}
		}
		return nil
	}
	if !readings.Datum.Moves() {
		return nil
	}
	for i := range records {
		records[i].DoubtM, records[i].DoubtWhy = readings.Datum.OffsetM(records[i].Path[0], readings.Epoch), "its frame is not stated"
	}
	return []trace.Problem{{File: l.file, Warn: true,
		Cause: fmt.Sprintf("the frame of this layer is not stated, and the readings are in %s: its lines may lie %.1f m off for that reason alone", readings.Datum.Name, records[0].DoubtM),
		Hint:  "say it in the layer's [[reference]]: datum = \"" + readings.Datum.Name + "\", or datum = \"WGS84\" if that is what it is"}}
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

package intake

import (
	"fmt"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// readRecords reads a layer in its own frame. Where nobody stated that frame and
// the readings' is a national one, the records carry by how much the two may lie
// apart, so that no difference of frames passes for one of the ground. They carry
// likewise how well a frame of another family is joined.
func readRecords(s *trace.Source, ref ReferenceFile, read func(*layerReader) error) error {
	readings, err := setting.Frame(setting.DatedBy(s.Job, s.Readings))
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

// doubtOf is by how much what is in a frame may lie apart from the readings for that
// frame alone, at a place, and why; 0 where nothing is in doubt.
func doubtOf(frame, readings geo.Frame, at geo.LonLat) (m float64, why string) {
	if frame.Stated {
		if coarse := frame.CoarseM(); coarse > 0 && !frame.Akin(readings) {
			return coarse, fmt.Sprintf("its frame, %s, is known to about %g m only", frame.Datum.Name, coarse)
		}
		return 0, ""
	}
	if !readings.Datum.Moves() {
		return 0, ""
	}
	return readings.Datum.OffsetM(at, readings.Epoch), "its frame is not stated"
}

// doubtFrame gives the records what their frame leaves open.
func doubtFrame(records []trace.GeoRecord, l *layerReader, readings geo.Frame) []trace.Problem {
	for i := range records {
		records[i].DoubtM, records[i].DoubtWhy = doubtOf(l.frame, readings, records[i].Path[0])
	}
	if l.frame.Stated || !readings.Datum.Moves() {
		return nil
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

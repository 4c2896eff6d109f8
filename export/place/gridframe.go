package place

import (
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// GridFrame is the plane system of a drawing, which has no degrees: the job's output
// system, else that of its positions, else the UTM zone of its place on WGS 84.
func GridFrame(s *trace.Sheet) (geo.Frame, error) {
	if c := s.Output.CRS; c.Code != 0 && !c.Geographic() {
		return s.Output, nil
	}
	if own, err := setting.Frame(s.Job); err == nil && !own.CRS.Geographic() && own.CRS.Writable() == nil {
		return own, nil
	}
	o := s.Plane.Origin()
	zone := int(math.Floor((o.LonDeg+180)/6))%60 + 1
	code := 32600 + zone
	if o.LatDeg < 0 {
		code += 100
	}
	return geo.NewFrame(fmt.Sprintf("EPSG:%d", code), "", 0)
}

// FrameWords names a written frame for a drawing's or a folder's notes.
func FrameWords(f geo.Frame) string {
	unit := map[string]string{"deg": "degrees", "m": "metres", "ft": "international feet", "ftUS": "US survey feet"}[f.CRS.Unit]
	return f.CRS.ID() + " (" + f.CRS.Name + "), frame " + f.Datum.Name + ", in " + unit
}

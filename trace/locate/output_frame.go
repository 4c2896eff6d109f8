package locate

import (
	"fmt"

	"loamline.example/geo"
	"loamline.example/trace"
)

// outputFrame is the frame that the job's files are wanted in. A system that is
// not meant for where the readings lie is refused: its figures would be distorted,
// and most likely its code is a slip.
func outputFrame(s *trace.Sheet, frame geo.Frame, rs []trace.Reading) (geo.Frame, error) {
	if s.Job.OutputCRS == "" {
		return geo.Frame{}, nil
	}
	out, err := frame.In(s.Job.OutputCRS)
	if err != nil {
		return out, &trace.Problem{Field: "output.crs", Value: s.Job.OutputCRS, Cause: err.Error(), Err: err}
	}
	for i := range rs {
		p := rs[i].Geographic
		if rs[i].Status == "" && !out.CRS.Holds(p) {
			return out, OutsideProblem("output.crs", out.CRS, p)
		}
	}
	return out, nil
}

// OutsideProblem says that a system for output is not meant for a place of the job.
func OutsideProblem(field string, c geo.CRS, p geo.LonLat) *trace.Problem {
	return &trace.Problem{Field: field, Value: c.ID(), Cause: fmt.Sprintf("this system (%s) is for %s, and the job lies at latitude %.4f, longitude %.4f", c.Name, c.Area().Name, p.LatDeg, p.LonDeg),
		Hint: "name the system of the job's place, or leave it out for WGS 84"}
}

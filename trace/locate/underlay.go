package locate

import (
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/siteplan"
)

// underlay lays the site plan beneath the map. Nothing else in this package looks at
// it: a picture changes no line.
func underlay(s *trace.Sheet, picture *trace.GeoPicture, places []geo.XY) error {
	if picture == nil {
		return nil
	}
	var err error
	if s.Underlay, err = siteplan.Place(picture, s.Plane, places, s.Job.Units); err != nil {
		return err
	}
	if s.Underlay == nil {
		s.Problems = append(s.Problems, trace.Problem{File: picture.Name, Field: "underlay", Warn: true,
			Cause: "the site plan is not drawn: no reading has a usable place that it could be held against"})
	}
	return nil
}

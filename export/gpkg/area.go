package gpkg

import (
	"fmt"

	"loamline.example/geo"
	"loamline.example/trace"
)

// holdsJob refuses a system that is meant for another part of the world: its
// formulas still give numbers there, hundreds of metres off.
func holdsJob(crs geo.CRS, s *trace.Sheet) error {
	if crs.Geographic() || crs.Covers(s.Plane.Origin()) {
		return nil
	}
	at := s.Plane.Origin()
	return fmt.Errorf("the job lies at latitude %.3f, longitude %.3f, which %s (%s) is not made for; its area is: %s. Choose the system of the place, or EPSG:4326",
		at.LatDeg, at.LonDeg, crs.ID(), crs.Name, crs.Area().Name)
}

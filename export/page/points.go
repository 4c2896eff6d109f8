package page

import (
	"loamline.example/export/place"
	"loamline.example/export/stakeout"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// listedPoint is a place to be put back on the ground.
type listedPoint struct {
	ID, What, Place, Grid     string
	At, Depth, Position, Ties both
	Doubt                     bool
}

func listPoints(s *trace.Sheet, line int) []listedPoint {
	job, date := s.Job.Units, words.JobDate(s)
	degrees := place.NewDegrees(s.Plane)
	grid, projected := stakeout.GridOf(s)
	var out []listedPoint
	for _, p := range stakeout.LinePoints(s, line, 0) {
		at := degrees.XY(p.Vertex.Pos)
		row := listedPoint{ID: p.ID, Doubt: p.Told.Doubt != nil, What: words.Sentence(words.Capital(p.Title())),
			Place:    degreesName(&s.Lines[line]) + place.ShortDegreesText(at.Lat) + ", " + place.ShortDegreesText(degrees.Home(at.Lon)),
			At:       bothWays(job, func(u geo.Units) string { return u.Long(p.Vertex.StationM) }),
			Depth:    bothWays(job, func(u geo.Units) string { return words.Capital(p.Told.DepthAlone(u, date)) }),
			Position: bothWays(job, p.Told.PositionAlone),
			Ties:     bothWays(job, func(u geo.Units) string { return stakeout.TieWords(u, p.Ties) })}
		if projected {
			row.Grid = grid.Words(s.Plane.LonLat(p.Vertex.Pos))
		}
		out = append(out, row)
	}
	return out
}

// degreesName says in which frame degrees are, and where nobody stated it.
func degreesName(l *trace.Line) string {
	if l.Caution.DoubtM > 0 && !l.Caution.DoubtStated {
		return "Latitude, longitude (datum not stated): "
	}
	return "WGS 84 latitude, longitude: "
}

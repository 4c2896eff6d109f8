package table

import (
	"encoding/csv"
	"io"

	"loamline.example/export/layer"
	"loamline.example/export/place"
	"loamline.example/export/stakeout"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// stakeOutEveryM is the distance between round stations of the stake-out table.
func stakeOutEveryM(u geo.Units) float64 {
	if u == geo.US {
		return 25 * geo.FootM
	}
	return 5
}

// StakeOut writes the points to put back on the ground: where lines start, bend,
// end and cross, where flagged stretches begin and end, and round stations
// between. A point is told in WGS 84 degrees, and in the output system, else the job's
// own, where that is a projected one; with read depth and bands as Lines tells them, the
// careful sentence, and up to three ties from fixed features in metres. Format as
// Lines.
func StakeOut(w io.Writer, s *trace.Sheet) error {
	c := csv.NewWriter(w)
	d := place.NewDegrees(s.Plane)
	grid, projected := stakeout.GridOf(s)
	header := []string{"point", "line", "utility", "what", "station_m", "lat", "lon", "north", "east", "crs", "unit", "depth_m", "depth_95_m", "horizontal_95_m", "along_95_m", "datum_doubt_m"}
	for _, k := range []string{"1", "2", "3"} {
		header = append(header, "tie_"+k, "tie_"+k+"_m", "tie_"+k+"_along_m")
	}
	c.Write(append(header, "ties", "words"))
	u, date := s.Job.Units, words.JobDate(s)
	for _, p := range stakeout.Points(s, stakeOutEveryM(u)) {
		l, at := &s.Lines[p.Line], d.XY(p.Vertex.Pos)
		row := []string{plainCell(p.ID), plainCell(l.Setup.Name), string(style.Of(l.Setup.Utility).Utility), plainCell(p.Title()), metresCell(p.Vertex.StationM),
			place.DegreesText(at.Lat), place.DegreesText(d.Home(at.Lon)), "", "", "", ""}
		if projected {
			row[7], row[8] = grid.NorthEast(s.Plane.LonLat(p.Vertex.Pos))
			row[9], row[10] = grid.ID(), grid.Unit()
		}
		depthM, depth95M := p.Told.Depths()
		row = append(row, metresCell(depthM), metresCell(depth95M), metresCell(p.Told.Horizontal95M), metresCell(layer.Known(p.Told.Along95M)), metresCell(layer.Known(p.Told.FrameM)))
		for k := range 3 {
			if k < len(p.Ties) {
				row = append(row, plainCell(p.Ties[k].Feature), metresCell(p.Ties[k].DistanceM), metresCell(p.Ties[k].AlongM))
			} else {
				row = append(row, "", "", "")
			}
		}
		sentence := p.Told.Depth(u, date) + "; " + p.Told.Position(u)
		if b := p.Told.Doubt; b != nil && b.Watch {
			sentence = b.Words + ": " + sentence
		}
		c.Write(append(row, plainCell(stakeout.TieWords(u, p.Ties)), sentence))
	}
	c.Flush()
	return c.Error()
}

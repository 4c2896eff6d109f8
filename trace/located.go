package trace

import "loamline/geo"

// Located is a finished map as far as two of them can be compared: the lines
// with their bands, in WGS 84.
type Located struct {
	Name, Ticket, Date string
	Lines              []LocatedLine
}

// LocatedLine is one line of a finished map; its parts are in travel order.
type LocatedLine struct {
	Name  string
	Parts [][]LocatedVertex
}

// LocatedVertex is a vertex of a line, with Unknown for what was not read.
type LocatedVertex struct {
	At                                        geo.LonLat
	StationM, DepthM, Depth95M, Horizontal95M float64
}

// LocatedOf returns the lines of a Sheet for a comparison.
func LocatedOf(s *Sheet) Located {
	out := Located{Name: s.Name, Ticket: s.Job.Ticket, Date: s.Job.Date}
	for _, l := range s.Lines {
		if l.Centerline == nil {
			continue
		}
		line := LocatedLine{Name: l.Setup.Name}
		for _, p := range l.Centerline.Parts {
			var part []LocatedVertex
			for _, v := range p.Vertices {
				part = append(part, LocatedVertex{s.Plane.LonLat(v.Pos), v.StationM, v.DepthM, v.Depth95M, v.Horizontal95M})
			}
			line.Parts = append(line.Parts, part)
		}
		out.Lines = append(out.Lines, line)
	}
	return out
}

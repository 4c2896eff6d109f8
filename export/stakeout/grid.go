package stakeout

import (
	"strconv"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// Grid is the projected system in which a job's points are also told.
type Grid struct{ frame geo.Frame }

// GridOf is the system that the job's files are asked for in, else that of its positions,
// where it is a projected one: the sheets' grid is in it too.
func GridOf(s *trace.Sheet) (Grid, bool) {
	if c := s.Output.CRS; c.Code != 0 && !c.Geographic() {
		return Grid{s.Output}, true
	}
	f, err := setting.Frame(s.Job)
	if err != nil || f.CRS.Geographic() || f.CRS.Writable() != nil {
		return Grid{}, false
	}
	return Grid{f}, true
}

// Unit is the unit of its figures in letters.
func (g Grid) Unit() string {
	switch g.frame.CRS.UnitM {
	case geo.FootM:
		return "ft"
	case geo.USSurveyFootM:
		return "US survey ft"
	}
	return "m"
}

// NorthEast is a place in figures of the system, to a hundredth of its unit;
// empty where it has none there.
func (g Grid) NorthEast(p geo.LonLat) (north, east string) {
	x, y, err := g.frame.FromWGS84(p)
	if err != nil {
		return "", ""
	}
	return strconv.FormatFloat(y, 'f', 2, 64), strconv.FormatFloat(x, 'f', 2, 64)
}

// Words are a place in figures of the system, with its code and unit; empty where it has
// none there.
func (g Grid) Words(p geo.LonLat) string {
	north, east := g.NorthEast(p)
	if north == "" {
		return ""
	}
	return g.ID() + ", " + g.Unit() + ": north " + north + ", east " + east
}

// ID is the system's code: "EPSG:26919".
func (g Grid) ID() string { return g.frame.CRS.ID() }

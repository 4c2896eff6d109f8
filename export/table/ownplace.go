package table

import (
	"strconv"

	"loamline.example/export/literal"
	"loamline.example/geo"
	"loamline.example/trace"
)

// ownPlace adds a job's positions in its own output system to the tables, behind
// all other columns: east and north with their unit in the name, or longitude and
// latitude on a frame of its own. The names are none of a readings table's, whose
// lat and lon stand before them.
type ownPlace struct {
	frame    geo.Frame
	header   []string
	decimals int
}

func newOwnPlace(s *trace.Sheet) ownPlace {
	c := s.Output.CRS
	switch {
	case c.Code == 0:
		return ownPlace{}
	case c.Geographic():
		return ownPlace{s.Output, []string{"output_crs", "output_lon", "output_lat"}, 9}
	}
	unit := map[string]string{"m": "m", "ft": "ft", "ftUS": "usft"}[c.Unit]
	return ownPlace{s.Output, []string{"output_crs", "output_east_" + unit, "output_north_" + unit}, 4}
}

// cells are empty where a place is unknown.
func (o ownPlace) cells(p geo.LonLat) ([]string, error) {
	switch {
	case o.header == nil:
		return nil, nil
	case !p.Valid():
		return make([]string, len(o.header)), nil
	}
	x, y, err := o.frame.FromWGS84(p)
	if err != nil {
		return nil, err
	}
	text := func(v float64) string {
		if !literal.Finite(v) {
			return ""
		}
		return strconv.FormatFloat(v, 'f', o.decimals, 64)
	}
	return []string{o.frame.CRS.ID(), text(x), text(y)}, nil
}

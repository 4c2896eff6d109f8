package export

import (
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"

	"loamline/geo"
)

// geometryName is the SQL name of a well-known binary type.
func geometryName(code uint32) string {
	return map[uint32]string{wkbPoint: "POINT", wkbLineString: "LINESTRING",
		wkbMultiLineString: "MULTILINESTRING", wkbMultiPolygon: "MULTIPOLYGON"}[code]
}

// keyColumns are the first columns of every table, which have no empty field:
// job, role, line and utility.
const keyColumns = 4

// tableColumns are the columns of a feature table behind fid and geom.
func tableColumns(l layer) []column {
	job := column{Name: "job", Type: typeText, Always: true, Words: "the job that it belongs to"}
	return append(append([]column{job}, commonColumns...), l.Columns...)
}

func nullText(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// wkbLine reads a LineString in well-known binary.
func wkbLine(b []byte) ([]geo.LonLat, error) {
	g, err := wkb.Unmarshal(b)
	if err != nil {
		return nil, err
	}
	ls, ok := g.(orb.LineString)
	if !ok {
		return nil, fmt.Errorf("a %s where a LineString should be", g.GeoJSONType())
	}
	out := make([]geo.LonLat, len(ls))
	for i, p := range ls {
		out[i] = geo.LonLat{LonDeg: p[0], LatDeg: p[1]}
	}
	return out, nil
}

package featuretable

import (
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"

	"loamline.example/export/layer"
	"loamline.example/geo"
)

// TypeName is the SQL name of a well-known binary type.
func TypeName(code uint32) string {
	return map[uint32]string{Point: "POINT", LineString: "LINESTRING",
		MultiLineString: "MULTILINESTRING", MultiPolygon: "MULTIPOLYGON"}[code]
}

// KeyColumns are the first columns of every table, which have no empty field:
// job, role, line and utility.
const KeyColumns = 4

// Columns are the columns of a feature table behind fid and geom.
func Columns(l layer.Layer) []layer.Column {
	job := layer.Column{Name: "job", Type: layer.TypeText, Always: true, Words: "the job that it belongs to"}
	return append(append([]layer.Column{job}, layer.Common...), l.Columns...)
}

func NullText(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// ReadLine reads a LineString in well-known binary.
func ReadLine(b []byte) ([]geo.LonLat, error) {
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

package featuretable

import (
	"encoding/hex"
	"testing"

	"loamline.example/export/place"
)

// PostGIS's extension of well-known binary: a reference system stands behind the
// type, whose flag 0x20000000 says so, and in the outermost geometry alone. The
// bytes are those that PostGIS gives for SRID=4326;POINT(1 2) and
// SRID=4326;MULTIPOINT((1 2)) (ST_AsEWKB, from memory).
func TestEWKB(t *testing.T) {
	const one, two = "000000000000f03f", "0000000000000040"
	for _, tt := range []struct {
		g    Geometry
		srid uint32
		want string
	}{
		{Geometry{Code: Point, point: place.XY{X: 1, Y: 2}}, 0, "0101000000" + one + two},
		{Geometry{Code: Point, point: place.XY{X: 1, Y: 2}}, 4326, "0101000020e6100000" + one + two},
		{Geometry{Code: MultiPoint, Points: []place.XY{{X: 1, Y: 2}}}, 4326, "0104000020e610000001000000" + "0101000000" + one + two},
	} {
		if got := hex.EncodeToString(tt.g.AppendWKB(nil, tt.srid)); got != tt.want {
			t.Errorf("got %s, want %s", got, tt.want)
		}
	}
}

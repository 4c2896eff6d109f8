package postgis

import (
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/geo"
)

// A job that is wanted in a system of its own has its geometry in that beside WGS
// 84, with an index; it goes into history and comes back with it, byte for byte.
func TestOwnSystemInADatabase(t *testing.T) {
	a := openEmpty(t)
	s := sample.Sheet()
	var err error
	if s.Output, err = geo.NewFrame("EPSG:26919", "NAD83(2011)", 2026.36); err != nil {
		t.Fatal(err)
	}
	putJob(t, a, s)
	putJob(t, a, sample.OtherJob()) // one in WGS 84 beside it
	positions := func() (text string) {
		t.Helper()
		if err := a.conn.QueryRow(t.Context(), `SELECT string_agg(encode(ST_AsEWKB(geom_26919), 'hex'), ' ' ORDER BY line, part) FROM loamline.centerline WHERE geom_26919 IS NOT NULL`).Scan(&text); err != nil {
			t.Fatal(err)
		}
		return text
	}
	before := positions()
	var off float64
	// PostGIS measures the WGS 84 positions, turned into the same plane by its own
	// projection, against ours: what is left is how far the frames lie apart.
	if err := a.conn.QueryRow(t.Context(), `SELECT max(ST_Distance(ST_Transform(ST_StartPoint(geom), 26919), ST_StartPoint(geom_26919))) FROM loamline.centerline`).Scan(&off); err != nil {
		t.Fatal(err)
	}
	if want := s.Output.Datum.OffsetM(s.Plane.Origin(), 2026.36); off < want-0.05 || off > want+0.05 {
		t.Errorf("the two lie %.3f m apart, the frames %.3f m", off, want)
	}
	again := sample.Sheet()
	again.Job.Locator = "another"
	putJob(t, a, again)
	if _, err := a.Restore(t.Context(), "T-2041 / lantern-row", 1); err != nil {
		t.Fatal(err)
	}
	if after := positions(); after != before || after == "" {
		t.Error("the geometry came back from history otherwise than it went")
	}
}

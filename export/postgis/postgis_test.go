package postgis

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/internal/testdatabase"
	"loamline.example/export/layer"
	"loamline.example/trace"
)

// openEmpty opens the test's database without a job in it.
func openEmpty(t *testing.T) *database {
	t.Helper()
	a, err := Open(t.Context(), testdatabase.Empty(t))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { a.Close() })
	return a.(*database)
}

func putJob(t *testing.T, a *database, s *trace.Sheet) {
	t.Helper()
	if _, err := a.Put(t.Context(), s); err != nil {
		t.Fatal(err)
	}
}

func rowsOf(t *testing.T, a *database, table, where string) (n int) {
	t.Helper()
	if err := a.conn.QueryRow(t.Context(), `SELECT COUNT(*) FROM loamline."`+table+`" WHERE `+where).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// PostGIS finds the geometry valid, measures the same lengths and gives the same
// values back.
func TestPostGISAgrees(t *testing.T) {
	a := openEmpty(t)
	s := sample.EveryKind()
	putJob(t, a, s)
	ctx := t.Context()
	for _, l := range layer.All() {
		var invalid int
		q := fmt.Sprintf(`SELECT COUNT(*) FROM loamline.%q WHERE geom IS NOT NULL AND NOT ST_IsValid(geom)`, l.Role)
		if err := a.conn.QueryRow(ctx, q).Scan(&invalid); err != nil || invalid != 0 {
			t.Errorf("%s: %d invalid, %v", l.Role, invalid, err)
		}
	}
	for _, l := range s.Lines {
		var lengthM, areaM2 float64
		var depths int
		err := a.conn.QueryRow(ctx, `SELECT sum(ST_Length(geom::geography)), sum(array_length(depth_m, 1)) FROM loamline.centerline WHERE line = $1`, l.Setup.Name).Scan(&lengthM, &depths)
		if err != nil || math.Abs(lengthM-l.Centerline.TracedM()) > 0.005 {
			t.Errorf("%s: PostGIS measures %.3f m, want %.3f; %v", l.Setup.Name, lengthM, l.Centerline.TracedM(), err)
		}
		if depths != len(l.Centerline.Polyline().Points) {
			t.Errorf("%s: %d depths", l.Setup.Name, depths)
		}
		err = a.conn.QueryRow(ctx, `SELECT ST_Area(geom::geography) FROM loamline.tolerance_zone WHERE line = $1`, l.Setup.Name).Scan(&areaM2)
		if want := check.WrittenArea(l); err != nil || math.Abs(areaM2-want) > 0.001*want {
			t.Errorf("%s: PostGIS measures %.3f m², want %.3f; %v", l.Setup.Name, areaM2, want, err)
		}
	}
}

// An older database gets the columns that it lacks and keeps its rows; a newer
// one is refused.
func TestPostGISMigrates(t *testing.T) {
	a := openEmpty(t)
	putJob(t, a, sample.Sheet())
	if _, err := a.conn.Exec(t.Context(), `ALTER TABLE loamline.reading DROP COLUMN note; DROP TABLE loamline.centerline_vertex`); err != nil {
		t.Fatal(err)
	}
	if err := a.migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	if n := rowsOf(t, a, "reading", "note IS NULL"); n != 65 {
		t.Errorf("%d readings after the migration", n)
	}
	again := sample.Sheet()
	again.Job.Locator = "another"
	putJob(t, a, again)
	if n := rowsOf(t, a, "centerline_vertex", "1 = 1"); n == 0 {
		t.Error("no vertices")
	}
	if _, err := a.conn.Exec(t.Context(), `INSERT INTO loamline.schema_version VALUES (99)`); err != nil {
		t.Fatal(err)
	}
	if err := a.migrate(t.Context()); err == nil || !strings.Contains(err.Error(), "use a newer loamline") {
		t.Errorf("got %v", err)
	}
}

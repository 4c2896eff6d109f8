package export

import (
	"context"
	"crypto/sha256"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"loamline/export/internal/sample"
	"loamline/geo"
	"loamline/trace"
)

// eachArchive runs a test over both kinds of archive: the file always, the
// database where LOAMLINE_TEST_POSTGIS names one that may be emptied.
func eachArchive(t *testing.T, test func(t *testing.T, a Archive)) {
	t.Run("gpkg", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "deep", "archive.gpkg")
		a, err := OpenArchive(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		defer a.Close()
		test(t, a)
	})
	t.Run("postgis", func(t *testing.T) { test(t, emptyPostGIS(t)) })
}

func emptyPostGIS(t *testing.T) *postGIS {
	t.Helper()
	url := os.Getenv("LOAMLINE_TEST_POSTGIS")
	if url == "" {
		t.Skip("LOAMLINE_TEST_POSTGIS is not set: nothing is tested against a database")
	}
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	if _, err := conn.Exec(t.Context(), "DROP SCHEMA IF EXISTS loamline CASCADE"); err != nil {
		t.Fatal(err)
	}
	a, err := OpenArchive(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { a.Close() })
	return a.(*postGIS)
}

// count asks the archive itself.
func count(t *testing.T, a Archive, table, where string) int {
	t.Helper()
	var n int
	var err error
	switch a := a.(type) {
	case *gpkgArchive:
		err = a.db.QueryRow(`SELECT COUNT(*) FROM "` + table + `" WHERE ` + where).Scan(&n)
	case *postGIS:
		err = a.conn.QueryRow(context.Background(), `SELECT COUNT(*) FROM loamline."`+table+`" WHERE `+where).Scan(&n)
	}
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func put(t *testing.T, a Archive, s *trace.Sheet) Kept {
	t.Helper()
	k, err := a.Put(t.Context(), s)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// readingsOf gives a job readings of its own, as its fingerprints tell.
func readingsOf(s *trace.Sheet, content string) *trace.Sheet {
	s.Inputs = []trace.Input{{Name: "trace.csv", SHA256: fmt.Sprintf("%x", sha256.Sum256([]byte(content))), Kind: trace.InputTable}}
	return s
}

// otherJob is a second job 3 m north of the first.
func otherJob() *trace.Sheet {
	s := sample.Sheet()
	s.Job.Ticket, s.Name = "T-2042", "mill-lane"
	readingsOf(s, "mill lane")
	s.Plane = geo.NewPlane(s.Plane.LonLat(geo.XY{X: 0, Y: 3}))
	return s
}

// An archive that jobs came into and went from is still a sound GeoPackage.
func TestGeoPackageArchiveConforms(t *testing.T) {
	path := filepath.Join(t.TempDir(), "archive.gpkg")
	a, err := OpenArchive(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	put(t, a, everyKind())
	put(t, a, otherJob())
	put(t, a, sample.Sheet())
	a.Close()
	conforms(t, path)
}

// A job that fails half way leaves the archive as it was.
func TestArchiveAllOrNothing(t *testing.T) {
	eachArchive(t, func(t *testing.T, a Archive) {
		put(t, a, sample.Sheet())
		bad := sample.Sheet()
		bad.Lines = bad.Lines[:2]
		nan := math.NaN()
		bad.Lines[1].Caution.Area[0][0][3] = [2]float64{nan, nan}
		if _, err := a.Put(t.Context(), bad); err == nil || !strings.Contains(err.Error(), "it is as it was") {
			t.Fatalf("got %v", err)
		}
		if n := count(t, a, "centerline", "1 = 1"); n != 4 {
			t.Errorf("%d centerlines", n)
		}
		put(t, a, sample.Sheet())
	})
}

// The lines of other jobs come back within a millimetre of where they went in,
// with their depths; the own job and what lies far off does not.
func TestArchiveNear(t *testing.T) {
	eachArchive(t, func(t *testing.T, a Archive) {
		first := sample.Sheet()
		put(t, a, first)
		far := readingsOf(otherJob(), "far")
		far.Name = "far"
		far.Plane = geo.NewPlane(geo.LonLat{LonDeg: -71.49, LatDeg: 44.103})
		put(t, a, far)
		q := NearQuery{Plane: otherJob().Plane, WithinM: 3, Except: IdentityOf(otherJob().Job, otherJob().Inputs)}
		for x := 0.0; x < 8; x += 2 {
			q.Places = append(q.Places, geo.XY{X: x, Y: 0}) // 3 m north of W-1, 4 m of G-1
		}
		got, err := a.Near(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != 1 || got[0].Name != "W-1" || got[0].Utility != trace.Water {
			t.Fatalf("got %v", got)
		}
		r := got[0]
		if want := "archive: job T-2041 / lantern-row, traced on 2026-05-12"; r.Source != want {
			t.Errorf("source %q", r.Source)
		}
		vs := first.Lines[0].Centerline.Parts[0].Vertices
		for i, v := range vs {
			want := q.Plane.XY(first.Plane.LonLat(v.Pos))
			if off := r.Path[i].Dist(want); off > 0.001 || math.Abs(r.DepthM[i]-v.DepthM) > 0.0006 {
				t.Errorf("vertex %d: %.2f mm off, depth %v for %v", i, off*1000, r.DepthM[i], v.DepthM)
			}
		}
		q.WithinM = 4.5
		if got, _ = a.Near(t.Context(), q); len(got) != 2 {
			t.Errorf("within 4.5 m: %d lines", len(got))
		}
		q.Except = IdentityOf(first.Job, first.Inputs)
		if got, _ = a.Near(t.Context(), q); len(got) != 0 {
			t.Errorf("the job is its own neighbour: %v", got)
		}
		if got, err = a.Near(t.Context(), NearQuery{Plane: q.Plane, WithinM: 5}); err != nil || len(got) != 0 {
			t.Errorf("near nothing: %v, %v", got, err)
		}
	})
}

func TestArchiveNearAtTheAntimeridian(t *testing.T) {
	eachArchive(t, func(t *testing.T, a Archive) {
		s := moved(sample.Sheet(), geo.LonLat{LonDeg: 179.9998, LatDeg: -17})
		put(t, a, s)
		got, err := a.Near(t.Context(), NearQuery{Plane: s.Plane, WithinM: 5, Places: []geo.XY{{X: 20, Y: 1}, {X: 25, Y: 1}}})
		names := map[string]int{}
		for _, r := range got {
			names[r.Name]++
		}
		// 180 degrees lies 21 m along: both lines are in two pieces.
		if err != nil || names["W-1"] != 2 || names["G-1"] != 2 {
			t.Errorf("got %v, %v", names, err)
		}
	})
}

func TestOpenArchiveErrors(t *testing.T) {
	dir := t.TempDir()
	text := filepath.Join(dir, "text.gpkg")
	os.WriteFile(text, []byte("not a database, but long enough to be looked at as one"), 0o644)
	foreign := filepath.Join(dir, "foreign.gpkg")
	db, err := openSQLite(foreign)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("PRAGMA application_id = 1196444487; CREATE TABLE gpkg_contents (table_name TEXT); CREATE TABLE gpkg_geometry_columns (table_name TEXT, srs_id INTEGER)"); err != nil {
		t.Fatal(err)
	}
	db.Close()
	for where, want := range map[string]string{
		"archive.db": "is no archive", text: "not a GeoPackage", foreign: "loamline did not make",
		"postgres://nobody@127.0.0.1:1/none?connect_timeout=2": "archive database",
	} {
		if _, err := OpenArchive(t.Context(), where); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v", where, err)
		}
	}
}

// PostGIS finds the geometry valid, measures the same lengths and gives the same
// values back.
func TestPostGISAgrees(t *testing.T) {
	a := emptyPostGIS(t)
	s := everyKind()
	put(t, a, s)
	ctx := t.Context()
	for _, l := range layers() {
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
		if want := writtenArea(l); err != nil || math.Abs(areaM2-want) > 0.001*want {
			t.Errorf("%s: PostGIS measures %.3f m², want %.3f; %v", l.Setup.Name, areaM2, want, err)
		}
	}
}

// An older database gets the columns that it lacks and keeps its rows; a newer
// one is refused.
func TestPostGISMigrates(t *testing.T) {
	a := emptyPostGIS(t)
	put(t, a, sample.Sheet())
	if _, err := a.conn.Exec(t.Context(), `ALTER TABLE loamline.reading DROP COLUMN note; DROP TABLE loamline.centerline_vertex`); err != nil {
		t.Fatal(err)
	}
	if err := a.migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	if n := count(t, a, "reading", "note IS NULL"); n != 65 {
		t.Errorf("%d readings after the migration", n)
	}
	again := sample.Sheet()
	again.Job.Locator = "another"
	put(t, a, again)
	if n := count(t, a, "centerline_vertex", "1 = 1"); n == 0 {
		t.Error("no vertices")
	}
	if _, err := a.conn.Exec(t.Context(), `INSERT INTO loamline.schema_version VALUES (99)`); err != nil {
		t.Fatal(err)
	}
	if err := a.migrate(t.Context()); err == nil || !strings.Contains(err.Error(), "use a newer loamline") {
		t.Errorf("got %v", err)
	}
}

package export

import (
	"context"
	"database/sql"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"loamline.example/export/archive"
	"loamline.example/export/internal/sample"
	"loamline.example/export/internal/testdatabase"
	"loamline.example/geo"
	"loamline.example/trace"
)

// kept is an archive and a way to look into it past the archive's own code.
type kept struct {
	archive.Archive
	where string
	query func(sql string, into any) error
	exec  func(sql string) error
}

func (a kept) isFile() bool { return strings.HasSuffix(a.where, ".gpkg") }

// eachArchive runs a test over both kinds of archive: the file always, the
// database where one is named that may be emptied.
func eachArchive(t *testing.T, test func(t *testing.T, a kept)) {
	t.Run("gpkg", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "deep", "archive.gpkg")
		a := open(t, path)
		db, err := sql.Open("sqlite", path)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { db.Close() })
		test(t, kept{a, path, func(sql string, into any) error { return db.QueryRow(sql).Scan(into) },
			func(sql string) error { _, err := db.Exec(sql); return err }})
	})
	t.Run("postgis", func(t *testing.T) {
		url := testdatabase.Empty(t)
		a := open(t, url)
		conn, err := pgx.Connect(t.Context(), url)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { conn.Close(context.Background()) })
		test(t, kept{a, url, func(sql string, into any) error {
			return conn.QueryRow(context.Background(), strings.Replace(sql, `FROM "`, `FROM loamline."`, 1)).Scan(into)
		}, func(sql string) error { _, err := conn.Exec(context.Background(), sql); return err }})
	})
}

func open(t *testing.T, where string) archive.Archive {
	t.Helper()
	a, err := OpenArchive(t.Context(), where)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { a.Close() })
	return a
}

// count asks the tables themselves.
func count(t *testing.T, a kept, table, where string) int {
	t.Helper()
	n := 0
	if err := a.query(`SELECT COUNT(*) FROM "`+table+`" WHERE `+where, &n); err != nil {
		t.Fatal(err)
	}
	return n
}

func put(t *testing.T, a archive.Archive, s *trace.Sheet) archive.Kept {
	t.Helper()
	k, err := a.Put(t.Context(), s)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// A job that fails half way leaves the archive as it was.
func TestArchiveAllOrNothing(t *testing.T) {
	eachArchive(t, func(t *testing.T, a kept) {
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
	eachArchive(t, func(t *testing.T, a kept) {
		first := sample.Sheet()
		for i := range first.Lines[0].Centerline.Parts[0].Vertices {
			first.Lines[0].Centerline.Parts[0].Vertices[i].Horizontal95M = 2 // traced without corrections
		}
		first.Lines[0].Caution.DoubtM = 1.25 // and in a frame that nobody stated
		put(t, a, first)
		far := sample.ReadingsOf(sample.OtherJob(), "far")
		far.Name = "far"
		far.Plane = geo.NewPlane(geo.LonLat{LonDeg: -71.49, LatDeg: 44.103})
		put(t, a, far)
		other := sample.OtherJob()
		q := archive.NearQuery{Plane: other.Plane, WithinM: 3, Except: archive.NewIdentities(archive.IdentityOf(other.Job, other.Inputs))}
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
		if math.Abs(r.DoubtM-(2-1.96*trace.RecordSigmaM)) > 1e-9 {
			t.Errorf("may lie %g m off", r.DoubtM)
		}
		if math.Abs(r.FrameDoubtM-1.25) > 0.006 {
			t.Errorf("may lie %g m off for its frame", r.FrameDoubtM)
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
		q.Except = archive.NewIdentities(archive.IdentityOf(first.Job, first.Inputs))
		if got, _ = a.Near(t.Context(), q); len(got) != 0 {
			t.Errorf("the job is its own neighbour: %v", got)
		}
		if got, err = a.Near(t.Context(), archive.NearQuery{Plane: q.Plane, WithinM: 5}); err != nil || len(got) != 0 {
			t.Errorf("near nothing: %v, %v", got, err)
		}
	})
}

func TestArchiveNearAtTheAntimeridian(t *testing.T) {
	eachArchive(t, func(t *testing.T, a kept) {
		s := sample.Moved(sample.Sheet(), geo.LonLat{LonDeg: 179.9998, LatDeg: -17})
		put(t, a, s)
		got, err := a.Near(t.Context(), archive.NearQuery{Plane: s.Plane, WithinM: 5, Places: []geo.XY{{X: 20, Y: 1}, {X: 25, Y: 1}}})
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
	db, err := sql.Open("sqlite", foreign)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("PRAGMA application_id = 1196444487; CREATE TABLE gpkg_contents (table_name TEXT); CREATE TABLE gpkg_geometry_columns (table_name TEXT, srs_id INTEGER)"); err != nil {
		t.Fatal(err)
	}
	db.Close()
	for where, want := range map[string]string{
		"archive.db": "is not an archive", text: "not a GeoPackage", foreign: "loamline did not make",
		"postgres://nobody@127.0.0.1:1/none?connect_timeout=2": "archive database",
	} {
		if _, err := OpenArchive(t.Context(), where); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v", where, err)
		}
	}
}

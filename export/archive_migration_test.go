package export

import (
	"compress/gzip"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"loamline.example/export/archive"
	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
)

// quayReadings is the fingerprint of the readings of the job quay in the archives
// of testdata/old-archives, as their ledgers have it.
const quayReadings = "8142df4baa33070d036246e0804514039310f6885df6012ea2aa87550f0f9aad"

// oldJobs are the jobs in an archive of a version, as make.sh beside it put them
// there.
func oldJobs(version int) string {
	if version == 1 {
		// It took the day of a reading from Universal Time.
		return "T-1 / quay 2026-05-12 1, mole 2026-03-01 1, pier  1"
	}
	return "T-1 / quay 2026-05-13 2, mole 2026-03-02 1 removed, pier  1"
}

func eachOldArchive(t *testing.T, test func(t *testing.T, a kept, version int)) {
	for version := 1; version <= 2; version++ {
		eachArchive(t, func(t *testing.T, a kept) {
			a.Archive.Close()
			name := filepath.Join("testdata", "old-archives", fmt.Sprintf("version-%d", version))
			if a.isFile() {
				if err := os.MkdirAll(filepath.Dir(a.where), 0o777); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(a.where, unzipped(t, name+".gpkg.gz"), 0o666); err != nil {
					t.Fatal(err)
				}
			} else {
				loadDump(t, a.where, string(unzipped(t, name+".sql.gz")))
			}
			test(t, a, version)
		})
	}
}

func unzipped(t *testing.T, path string) []byte {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// loadDump runs what pg_dump wrote in place of the tables that are there.
func loadDump(t *testing.T, address, dump string) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	if _, err := conn.PgConn().Exec(t.Context(), "DROP SCHEMA IF EXISTS loamline CASCADE;"+dump).ReadAll(); err != nil {
		t.Fatal(err)
	}
}

func jobsWords(t *testing.T, a archive.Archive) string {
	t.Helper()
	jobs, err := a.Jobs(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, j := range jobs {
		w := fmt.Sprintf("%s %s %d", j.Key, j.Date, j.Version)
		if j.Removed {
			w += " removed"
		}
		out = append(out, w)
	}
	return strings.Join(out, ", ")
}

// An archive that an earlier program made is opened with every job in it, takes
// jobs, knows a job again, gives back what was history, and its days and times are
// days and times.
func TestOldArchives(t *testing.T) {
	eachOldArchive(t, func(t *testing.T, a kept, version int) {
		a.Archive = open(t, a.where)
		if got := jobsWords(t, a); got != oldJobs(version) {
			t.Fatalf("got  %s\nwant %s", got, oldJobs(version))
		}
		oldTypes(t, a)
		for _, j := range []struct {
			key string
			was int
		}{{"T-1 / quay", 1}, {"pier", 1}} {
			doc, err := a.Map(t.Context(), j.key, j.was)
			if version == 1 && (err == nil || !strings.Contains(err.Error(), "older loamline")) || version > 1 && (err != nil || !strings.Contains(string(doc), `"FeatureCollection"`)) {
				t.Errorf("%s: %v", j.key, err)
			}
		}
		oldNeighbors(t, a)

		put(t, a, sample.EveryKind()) // has what the tables of that time had not
		again := sample.OtherJob()
		again.Inputs = []trace.Input{{Name: "quay.csv", SHA256: quayReadings, Kind: trace.InputTable}}
		if k := put(t, a, again); k.Key != "T-1 / quay" || k.Replaced != version {
			t.Errorf("got %+v", k)
		}
		if _, err := a.Restore(t.Context(), "T-1 / quay", 1); err != nil {
			t.Fatal(err)
		}
		if version == 2 {
			if _, err := a.Restore(t.Context(), "mole", 1); err != nil {
				t.Fatal(err)
			}
		}
		oldTimes(t, a)
		if a.isFile() {
			a.Close()
			check.ConformsToGeoPackage(t, a.where)
		}
	})
}

// oldTypes asks the tables for the types of their columns.
func oldTypes(t *testing.T, a kept) {
	t.Helper()
	for _, c := range [][4]string{
		{"reading", "time", "DATETIME", "timestamp with time zone"},
		{"centerline", "date", "DATE", "date"},
		{"archive_version", "date", "DATE", "date"},
		{"archive_version", "kept_at", "DATETIME", "timestamp with time zone"},
	} {
		var got string
		want, q := c[2], fmt.Sprintf(`SELECT type FROM pragma_table_info('%s') WHERE name = '%s'`, c[0], c[1])
		if !a.isFile() {
			want, q = c[3], fmt.Sprintf(`SELECT data_type FROM information_schema.columns WHERE table_schema = 'loamline' AND table_name = '%s' AND column_name = '%s'`, c[0], c[1])
		}
		if err := a.query(q, &got); err != nil || got != want {
			t.Errorf("%s.%s is of type %q, want %q; %v", c[0], c[1], got, want, err)
		}
	}
}

// oldNeighbors looks for the walks from beside each of them.
func oldNeighbors(t *testing.T, a kept) {
	t.Helper()
	jobs, err := a.Jobs(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, j := range jobs {
		at := map[string]float64{"T-1 / quay": 44.1, "mole": 44.2, "pier": 44.3}[j.Key]
		near, err := a.Near(t.Context(), archive.NearQuery{Plane: geo.NewPlane(geo.LonLat{LonDeg: -30.4998, LatDeg: at}), Places: []geo.XY{{Y: 3}}, WithinM: 5})
		if err != nil || j.Removed != (len(near) == 0) || len(near) > 1 {
			t.Errorf("%s: %d lines near; %v", j.Key, len(near), err)
		}
	}
}

// oldTimes looks whether the first readings were taken when make.sh says so.
func oldTimes(t *testing.T, a kept) {
	t.Helper()
	text := `"time"`
	if !a.isFile() {
		text = `to_char("time" AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`
	}
	for _, c := range [][2]string{{"quay", "2026-05-12T07:31:00.250Z"}, {"mole", "2026-03-01T22:10:00.250Z"}} {
		if n := count(t, a, "reading", `line = '`+c[0]+`' AND point = '1' AND `+text+` = '`+c[1]+`'`); n != 1 {
			t.Errorf("%s: %d readings of that time", c[0], n)
		}
	}
	if n := count(t, a, "reading", `line = 'pier' AND "time" IS NULL`); n != 12 {
		t.Errorf("pier: %d readings without a time", n)
	}
	if n := count(t, a, "centerline", `line = 'pier' AND date IS NULL`); n != 1 {
		t.Errorf("pier: %d lines without a day", n)
	}
}

// An archive of a newer program is refused with what to do, and left as it is.
func TestArchiveOfANewerProgram(t *testing.T) {
	eachArchive(t, func(t *testing.T, a kept) {
		put(t, a, sample.Sheet())
		q := `INSERT INTO loamline.schema_version VALUES (99)`
		if a.isFile() {
			q = `UPDATE archive_schema SET version = 99`
		}
		if err := a.exec(q); err != nil {
			t.Fatal(err)
		}
		if _, err := OpenArchive(t.Context(), a.where); err == nil || !strings.Contains(err.Error(), "version 99 and this program knows 3; use a newer loamline") {
			t.Errorf("got %v", err)
		}
		if n := count(t, a, "job", "1 = 1"); n != 1 {
			t.Errorf("%d jobs", n)
		}
	})
}

// What somebody added to an old archive in a GIS is still there: a column, a view,
// an index.
func TestOldArchiveKeepsWhatWasAdded(t *testing.T) {
	eachOldArchive(t, func(t *testing.T, a kept, _ int) {
		if !a.isFile() {
			t.Skip("a database changes types in place")
		}
		for _, q := range []string{`ALTER TABLE reading ADD COLUMN seen TEXT DEFAULT 'yes'`,
			`CREATE VIEW firsts AS SELECT fid, time FROM reading WHERE point = '1'`, `CREATE INDEX by_point ON reading (point)`} {
			if err := a.exec(q); err != nil {
				t.Fatal(err)
			}
		}
		a.Archive = open(t, a.where)
		seen, first := count(t, a, "reading", "seen = 'yes'"), count(t, a, "firsts", "1 = 1")
		if seen == 0 || seen != 12*first { // twelve readings a walk
			t.Errorf("%d readings, %d of them in the view", seen, first)
		}
		if n := count(t, a, "sqlite_master", "name = 'by_point'"); n != 1 {
			t.Error("no index")
		}
	})
}

package export

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"loamline.example/export/archive"
	"loamline.example/export/featuretable"
	"loamline.example/export/geojson"
	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/internal/testdatabase"
	"loamline.example/export/layer"
	"loamline.example/trace"
	"loamline.example/trace/tracetest/study"
)

// shownJobs are the jobs that are there.
func shownJobs(t *testing.T, a archive.Archive) []archive.Job {
	t.Helper()
	all, err := a.Jobs(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(all, func(j archive.Job) bool { return j.Removed })
}

// mapOf is a version's GeoJSON.
func mapOf(t *testing.T, a archive.Archive, key string, version int) []byte {
	t.Helper()
	m, err := a.Map(t.Context(), key, version)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func geojsonOf(t *testing.T, s *trace.Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := geojson.Write(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// smallJob is a job of one line, for tests of many.
func smallJob(name, ticket, content string) *trace.Sheet {
	s := sample.Sheet()
	s.Name, s.Job.Ticket = name, ticket
	s.Lines, s.Records = s.Lines[1:2], nil
	return sample.ReadingsOf(s, content)
}

// Sixty jobs of few names, few tickets and one place, in any order, some
// of them twice: each is there once, and with its own readings.
func TestArchiveKeepsEveryJobApart(t *testing.T) {
	eachArchive(t, func(t *testing.T, a kept) {
		const jobs = 60
		rnd := rand.New(rand.NewPCG(7, 7))
		keyOf := map[int]string{}
		for _, n := range append(rnd.Perm(jobs), rnd.Perm(jobs)[:20]...) {
			name := []string{"trace", "T-1 / trace", "trace (2)"}[n%3]
			ticket := []string{"", "T-1"}[n/3%2]
			k := put(t, a, smallJob(name, ticket, fmt.Sprint("site ", n)))
			if was, again := keyOf[n]; again != k.Unchanged || again && was != k.Key {
				t.Fatalf("job %d was %q, is %+v", n, was, k)
			}
			keyOf[n] = k.Key
		}
		if got := shownJobs(t, a); len(got) != jobs {
			t.Errorf("%d jobs", len(got))
		}
		if n := count(t, a, "centerline", "1 = 1"); n != jobs {
			t.Errorf("%d centerlines", n)
		}
		for n, key := range keyOf {
			want := sample.ReadingsOf(&trace.Sheet{}, fmt.Sprint("site ", n)).Inputs[0].SHA256
			if !bytes.Contains(mapOf(t, a, key, 1), []byte(want)) {
				t.Errorf("job %d: %q holds the map of another", n, key)
			}
		}
	})
}

func TestArchiveKeepsEarlierVersions(t *testing.T) {
	eachArchive(t, func(t *testing.T, a kept) {
		s := sample.EveryKind()
		first := geojsonOf(t, s)
		const key = "T-2041 / lantern-row"
		if k := put(t, a, s); k.Words() != `kept as job "T-2041 / lantern-row"` || k.Version != 1 {
			t.Errorf("got %+v", k)
		}
		put(t, a, sample.OtherJob())
		want := check.WantCounts(s)
		if k := put(t, a, s); !k.Unchanged || k.Version != 1 {
			t.Errorf("the very same map: %+v", k)
		}
		s.Job.Tolerance.HalfWidthM = 0.61
		s.Lines = s.Lines[:1]
		if k := put(t, a, s); k.Replaced != 1 || k.Version != 2 || !strings.HasPrefix(k.Words(), "replaced version 1 of job") {
			t.Errorf("got %+v", k)
		}
		if n := count(t, a, "centerline", "job = '"+key+"'"); n != 2 {
			t.Errorf("%d centerlines after the job has lost two lines", n)
		}
		if n := count(t, a, "centerline", "job = 'T-2042 / mill-lane'"); n != 4 {
			t.Errorf("the other job has %d centerlines", n)
		}
		vs, err := a.Versions(t.Context(), key)
		if err != nil || len(vs) != 2 || !strings.Contains(vs[0].Changed, "settings.tolerance.half_width_m: 0.4572 → 0.61") ||
			!strings.Contains(vs[0].Changed, "line G-1 traced_m") {
			t.Fatalf("versions %+v, %v", vs, err)
		}
		if _, err := time.Parse(time.RFC3339, vs[0].KeptAt); err != nil {
			t.Error(err)
		}
		if !bytes.Equal(mapOf(t, a, key, 1), first) {
			t.Error("the first version's map is another")
		}
		if k, err := a.Restore(t.Context(), key, 1); err != nil || k.Version != 3 || k.Replaced != 2 {
			t.Errorf("got %+v, %v", k, err)
		}
		for _, l := range layer.All() {
			if n := count(t, a, l.Role, "job = '"+key+"'"); n != want[l.Role] {
				t.Errorf("%s: %d rows after the restoring, want %d", l.Role, n, want[l.Role])
			}
		}
		if _, err := a.Restore(t.Context(), key, 9); err == nil || !strings.Contains(err.Error(), "no version 9") {
			t.Errorf("got %v", err)
		}
	})
}

// What is taken out and brought back is what it was, byte for byte in every
// table.
func TestArchiveRemovesAndRestores(t *testing.T) {
	eachArchive(t, func(t *testing.T, a kept) {
		s := sample.EveryKind()
		k := put(t, a, s)
		put(t, a, sample.OtherJob())
		before := dump(t, a)
		if err := a.Remove(t.Context(), k.Key); err != nil {
			t.Fatal(err)
		}
		if got := shownJobs(t, a); len(got) != 1 || count(t, a, "reading", "job = 'T-2041 / lantern-row'") != 0 {
			t.Errorf("after the removal: %v", got)
		}
		if err := a.Remove(t.Context(), k.Key); err == nil || !strings.Contains(err.Error(), "taken out before") {
			t.Errorf("got %v", err)
		}
		if err := a.Remove(t.Context(), "nothing"); err == nil || !strings.Contains(err.Error(), "no job") {
			t.Errorf("got %v", err)
		}
		if k, err := a.Restore(t.Context(), k.Key, 1); err != nil || k.Version != 2 || k.Replaced != 0 {
			t.Errorf("got %+v, %v", k, err)
		}
		if after := dump(t, a); after != before {
			t.Errorf("the tables differ:\n%s\n%s", before, after)
		}
		if err := a.Remove(t.Context(), k.Key); err != nil {
			t.Fatal(err)
		}
		// The key of a job that was taken out stays its own.
		if k := put(t, a, sample.ReadingsOf(sample.EveryKind(), "another")); k.Key != "T-2041 / lantern-row (2)" {
			t.Errorf("got %+v", k)
		}
		if k := put(t, a, s); k.Key != "T-2041 / lantern-row" || k.Version != 3 || k.Replaced != 0 {
			t.Errorf("got %+v", k)
		}
	})
}

// dump is a digest of everything that the archive shows of its jobs.
func dump(t *testing.T, a kept) string {
	t.Helper()
	var b strings.Builder
	for _, l := range layer.AllWithVertices() {
		names := []string{}
		for _, c := range featuretable.Columns(l) {
			names = append(names, c.Name)
		}
		n := 0
		q := `SELECT COALESCE(md5(string_agg(x, '' ORDER BY x)), '') FROM (SELECT concat_ws('|', ST_AsEWKB(geom)::text, "` + strings.Join(names, `", "`) + `") x FROM loamline."` + l.Role + `") y`
		if a.isFile() {
			q = `SELECT COALESCE(group_concat(hex(x), ''), '') FROM (SELECT hex("geom") || '|' || COALESCE("` + strings.Join(names, `", '') || '|' || COALESCE("`) + `", '') AS x FROM "` + l.Role + `" ORDER BY 1)`
			if err := a.query(`SELECT COUNT(*) FROM "rtree_`+l.Role+`_geom" r JOIN "`+l.Role+`" f ON f.fid = r.id`, &n); err != nil {
				t.Fatal(err)
			}
		}
		var d string
		if err := a.query(q, &d); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintln(&b, l.Role, n, len(d), sample.ReadingsOf(&trace.Sheet{}, d).Inputs[0].SHA256)
	}
	return b.String()
}

// Other readings under a stated identity are the same job; the same readings
// under another one are another.
func TestArchiveStatedIdentity(t *testing.T) {
	eachArchive(t, func(t *testing.T, a kept) {
		job := func(id, content string) *trace.Sheet {
			s := smallJob("trace", "", content)
			s.Job.ID = id
			return s
		}
		put(t, a, job("", "one"))
		if k := put(t, a, job("main 9", "two")); k.Replaced != 0 || !slices.Equal(k.Beside, []string{"trace"}) {
			t.Errorf("got %+v", k)
		}
		if k := put(t, a, job("main 9", "three")); k.Replaced != 1 || k.Key != "trace (2)" {
			t.Errorf("got %+v", k)
		}
		if k := put(t, a, job("main 8", "three")); k.Replaced != 0 || k.Key != "trace (3)" {
			t.Errorf("got %+v", k)
		}
		// A name that is given to a job later is the job's from then on.
		if k := put(t, a, job("main 1", "one")); k.Replaced != 1 || k.Key != "trace" {
			t.Errorf("got %+v", k)
		}
		// A job that nothing tells is never taken for another.
		for range 2 {
			s := smallJob("bare", "", "")
			s.Inputs = nil
			if k := put(t, a, s); k.Replaced != 0 || k.Unchanged {
				t.Errorf("got %+v", k)
			}
		}
	})
}

// An archive of a program that kept no history is opened, its jobs are version
// 1, and a re-run of one is known by its fingerprints.
func TestArchiveOfAnOlderProgram(t *testing.T) {
	eachArchive(t, func(t *testing.T, a kept) {
		put(t, a, sample.Sheet())
		q := `DROP TABLE loamline.archive_version, loamline.archive_row; UPDATE loamline.schema_version SET version = 1`
		if a.isFile() {
			q = `DROP TABLE archive_schema; DROP TABLE archive_version; DROP TABLE archive_rows`
		}
		if err := a.exec(q); err != nil {
			t.Fatal(err)
		}
		a.Archive = open(t, a.where)
		if got := shownJobs(t, a); len(got) != 1 || got[0].Ticket != "T-2041" || got[0].Version != 1 {
			t.Errorf("got %v", got)
		}
		if _, err := a.Map(t.Context(), "T-2041 / lantern-row", 1); err == nil || !strings.Contains(err.Error(), "older loamline") {
			t.Errorf("got %v", err)
		}
		if k := put(t, a, sample.Sheet()); k.Replaced != 1 {
			t.Errorf("got %+v", k)
		}
	})
}

// childArchive names the archive in a child process of TestArchiveManyWriters.
const childArchive = "LOAMLINE_TEST_ARCHIVE_CHILD"

// Several programs that make one archive at once all end well, and all their
// jobs are in it; nothing else is left beside it.
func TestArchiveManyWriters(t *testing.T) {
	if where := os.Getenv(childArchive); where != "" {
		a, err := OpenArchive(t.Context(), where)
		if err != nil {
			t.Fatal(err)
		}
		defer a.Close()
		put(t, a, smallJob("trace", "", os.Getenv(childArchive+"_N")))
		return
	}
	rounds := study.Of(8, 20) // one in ten failed once
	if testing.Short() {
		rounds = 5
	}
	const writers = 4
	everyRound := func(t *testing.T, place func(round int) string) {
		for round := range rounds {
			where := place(round)
			cmds := make([]*exec.Cmd, writers)
			outs := make([]bytes.Buffer, writers)
			for i := range cmds {
				cmds[i] = exec.Command(os.Args[0], "-test.run=^TestArchiveManyWriters$")
				cmds[i].Env = append(os.Environ(), childArchive+"="+where, fmt.Sprintf("%s_N=%d", childArchive, i))
				cmds[i].Stdout, cmds[i].Stderr = &outs[i], &outs[i]
				if err := cmds[i].Start(); err != nil {
					t.Fatal(err)
				}
			}
			for i, c := range cmds {
				if err := c.Wait(); err != nil {
					t.Errorf("round %d: %v\n%s", round, err, &outs[i])
				}
			}
			a, err := OpenArchive(t.Context(), where)
			if err != nil {
				t.Fatal(err)
			}
			if got := shownJobs(t, a); len(got) != writers {
				t.Errorf("round %d: %d of %d jobs", round, len(got), writers)
			}
			a.Close()
		}
	}
	t.Run("gpkg", func(t *testing.T) {
		dir := t.TempDir()
		everyRound(t, func(round int) string { return filepath.Join(dir, fmt.Sprint("city", round, ".gpkg")) })
		if left, _ := os.ReadDir(dir); len(left) != rounds {
			t.Errorf("%d files for %d archives", len(left), rounds)
		}
	})
	t.Run("postgis", func(t *testing.T) { everyRound(t, func(int) string { return testdatabase.Empty(t) }) })
}

// A busy archive is waited for, and a stop ends the waiting.
func TestArchiveWaitsForAnother(t *testing.T) {
	path := filepath.Join(t.TempDir(), "city.gpkg")
	a, err := OpenArchive(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Close()
	put(t, a, smallJob("trace", "", "one"))
	other, err := sql.Open("sqlite", "file:"+path+"?_txlock=immediate")
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	tx, err := other.Begin()
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(t.Context(), 300*time.Millisecond)
	defer stop()
	if _, err := a.Put(ctx, smallJob("trace", "", "two")); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a stop did not end the waiting: %v", err)
	}
	time.AfterFunc(1200*time.Millisecond, func() { tx.Rollback() })
	put(t, a, smallJob("trace", "", "two"))
	if got := shownJobs(t, a); len(got) != 2 {
		t.Errorf("%v", got)
	}
}

// Nobody is told that a job is kept when the file was replaced meanwhile.
func TestArchiveReplacedMeanwhile(t *testing.T) {
	dir := t.TempDir()
	path, other := filepath.Join(dir, "city.gpkg"), filepath.Join(dir, "other.gpkg")
	for _, p := range []string{path, other} {
		a, err := OpenArchive(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		put(t, a, smallJob("trace", "", p))
		a.Close()
	}
	a, err := OpenArchive(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Close()
	if err := os.Rename(other, path); err != nil {
		t.Fatal(err)
	}
	if _, err := a.Put(t.Context(), smallJob("trace", "", "mine")); err == nil {
		t.Error("said to be kept in a file that is not the archive any more")
	}
}

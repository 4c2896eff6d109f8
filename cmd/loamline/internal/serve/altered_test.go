package serve

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// What the disk altered or cut is not handed out, not even as bytes that look whole:
// whoever takes it is told, by the page and by the API. The rest stays to be had.
func TestAlteredIsToldAndNotHandedOut(t *testing.T) {
	s := newSite(t, nil)
	// So many bytes that a server has long sent the first when it reads the last.
	long := crowdTrace() + strings.Repeat("# a remark that is skipped\n", 40_000)
	job := s.upload([]file{{"trace", "walk.csv", long}, {"job", "job.toml", crowdJob}}, "?run=yes")
	s.wait(job.ID, 1)
	page, api, dir := "/jobs/"+job.ID, "/api/v1/jobs/"+job.ID, filepath.Join(s.dir, "jobs", job.ID)
	for _, at := range []string{page + "/inputs/1", page + "/runs/1/files/kml", page + "/runs/1/zip", page + "/runs/1/ledger", page + "/runs/1/map"} {
		s.get(at, 200)
	}
	harm := func(name string, how func([]byte) []byte) (mend func()) {
		t.Helper()
		found, err := filepath.Glob(filepath.Join(dir, name))
		if err != nil || len(found) != 1 {
			t.Fatalf("%s: %q, %v", name, found, err)
		}
		path := found[0]
		was, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		write := func(b []byte) {
			if err := os.WriteFile(path, b, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		write(how(append([]byte{}, was...)))
		return func() { write(was) }
	}
	flip := func(b []byte) []byte { b[len(b)-2] ^= 1; return b }
	cut := func(b []byte) []byte { return b[:len(b)-len(b)/3] }
	firstLine := func(b []byte) []byte { return b[:strings.IndexByte(string(b), '\n')+1] }
	for name, c := range map[string]struct {
		file string
		how  func([]byte) []byte
		lost []string
	}{
		"an original that was altered": {"inputs/0", flip, []string{page + "/inputs/1", api + "/inputs/1", page + "/runs/1/zip", api + "/runs/1/zip"}},
		"an original that was cut":     {"inputs/0", cut, []string{page + "/inputs/1", page + "/runs/1/zip"}},
		"an output that was altered":   {"runs/1/map.kml*", flip, []string{page + "/runs/1/files/kml", api + "/runs/1/files/kml", page + "/runs/1/zip"}},
		"a list cut in a row":          {"runs/1/ledger.jsonl", cut, []string{page + "/runs/1/ledger", api + "/runs/1/ledger"}},
		"a list cut between rows":      {"runs/1/ledger.jsonl", firstLine, []string{page + "/runs/1/ledger", api + "/runs/1/ledger?status=used"}},
	} {
		mend := harm(c.file, c.how)
		for _, at := range c.lost {
			if text := s.get(at, 500); !strings.Contains(text, "altered or truncated on the disk") {
				t.Errorf("%s: %s says %.400s", name, at, text)
			}
		}
		s.get(page+"/runs/1/files/geojson", 200)
		mend()
		s.get(c.lost[0], 200)
	}
}

// A job whose record the disk lost is told of where it would be listed.
func TestUnreadableRecordIsTold(t *testing.T) {
	dir := t.TempDir()
	here := func(o *Options) { o.DataDir = dir }
	var lost, kept jobs.Job
	t.Run("stored", func(t *testing.T) {
		s := newSite(t, here)
		lost, kept = s.upload([]file{{"trace", "walk.csv", goodTrace}}, ""), s.upload([]file{{"trace", "other.csv", goodTrace}}, "")
	})
	if err := os.Truncate(filepath.Join(dir, "jobs", lost.ID, "job.json"), 40); err != nil {
		t.Fatal(err)
	}
	s := newSite(t, here)
	contains(t, s.get("/", 200), "1 job cannot be shown", lost.ID, kept.ID, "the record of this job cannot be read")
	contains(t, s.get("/api/v1/jobs", 200), `"unreadable":[{"job":"`+lost.ID, `"total":1`)
}

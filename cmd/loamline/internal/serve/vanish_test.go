package serve

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// trouble asks for everything that writes, and holds the answers against what
// must be true of a folder that cannot be written: each is refused, no answer
// names a place on the disk, and nothing has changed when the folder is back.
func (s *site) trouble(id, secret string) {
	s.t.Helper()
	kind, body := formBody(s.t, lanternRow(s.t))
	for _, c := range []struct {
		method, path, kind string
		body               []byte
	}{
		{"POST", "/api/v1/jobs", kind, body}, {"POST", "/api/v1/jobs/" + id + "/runs", "application/json", []byte(`{"ticket":"NEW"}`)}, {"DELETE", "/api/v1/jobs/" + id + "/runs/1", "", nil},
		{"PUT", "/api/v1/jobs/" + id + "/answers", "application/json", []byte(`{"datum":"ETRS89"}`)}, {"DELETE", "/api/v1/jobs/" + id, "", nil},
	} {
		resp, text := s.do(c.method, c.path, c.kind, c.body)
		if resp.StatusCode < 500 {
			s.t.Errorf("%s %s: %s", c.method, c.path, resp.Status)
		}
		if strings.Contains(text, secret) || strings.Contains(text, "no such file") || strings.Contains(text, "read-only") {
			s.t.Errorf("%s %s tells of the disk: %s", c.method, c.path, text)
		}
	}
}

// A folder that vanishes, as a disk that is unplugged does, and comes back: what
// would write is refused meanwhile, nothing is written in its place, and
// afterwards everything is as it was.
func TestVanishingFolder(t *testing.T) {
	above := t.TempDir()
	data := filepath.Join(above, "jobs-of-the-office")
	s := newSite(t, func(o *Options) { o.DataDir = data })
	job := s.upload(lanternRow(t), "?run=yes")
	s.wait(job.ID, 1)
	before := s.said(job.ID)
	stored := s.everything()
	away := filepath.Join(above, "away")
	if err := os.Rename(data, away); err != nil {
		t.Fatal(err)
	}
	s.trouble(job.ID, "jobs-of-the-office")
	if text := s.get("/jobs/"+job.ID+"/runs/1/files/geojson", http.StatusInternalServerError); strings.Contains(text, "jobs-of-the-office") {
		t.Error(text)
	}
	s.get("/", 200)
	if _, err := os.Stat(data); err == nil {
		t.Error("something was written where the folder was")
	}
	if err := os.Rename(away, data); err != nil {
		t.Fatal(err)
	}
	if now := s.said(job.ID); now != before {
		t.Errorf("the job is another one afterwards:\n%s\n%s", before, now)
	}
	for path, sum := range s.everything() {
		if stored[path] != sum {
			t.Errorf("%s was changed", path)
		}
	}
	s.get("/jobs/"+job.ID+"/runs/1/files/geojson", 200)
	s.api("POST", "/api/v1/jobs/"+job.ID+"/runs", `{"ticket":"NEW"}`, 202)
	if run := s.wait(job.ID, 2); run.State != jobs.StateDone {
		t.Errorf("%+v", run.Problem)
	}
}

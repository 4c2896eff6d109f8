package serve

import (
	"bytes"
	"encoding/json"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

const exampleDir = "../../../../examples/lantern-row"

// site is a server under test.
type site struct {
	t   *testing.T
	srv *Server
	url string
	dir string
}

func newSite(t *testing.T, change func(*Options)) *site {
	t.Helper()
	opt := Options{Listen: "127.0.0.1:0", DataDir: t.TempDir(), Version: "test"}
	if change != nil {
		change(&opt)
	}
	s, err := New(opt)
	if err != nil {
		t.Fatal(err)
	}
	h := httptest.NewUnstartedServer(s.Handler())
	h.Config.ReadTimeout = s.opt.Pace.Form
	h.Start()
	t.Cleanup(func() {
		h.Close()
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return &site{t, s, h.URL, opt.DataDir}
}

// file is a part of an upload.
type file struct{ field, name, text string }

func example(t testing.TB, field, name string) file {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(exampleDir, name))
	if err != nil {
		t.Fatal(err)
	}
	return file{field, name, string(b)}
}

// lanternRow is the whole example.
func lanternRow(t testing.TB) []file {
	return []file{example(t, "trace", "lantern-row.csv"), example(t, "job", "lantern-row.toml"), example(t, "reference", "town-records.geojson")}
}

func formBody(t testing.TB, files []file) (kind string, body []byte) {
	t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	for _, f := range files {
		w, err := m.CreateFormFile(f.field, f.name)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = io.WriteString(w, f.text)
	}
	_ = m.Close()
	return m.FormDataContentType(), b.Bytes()
}

// do sends a request and returns the answer with its whole body; it does not
// follow redirects.
func (s *site) do(method, path, kind string, body []byte) (*http.Response, string) {
	s.t.Helper()
	r, err := http.NewRequest(method, s.url+path, bytes.NewReader(body))
	if err != nil {
		s.t.Fatal(err)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	return s.send(r)
}

func (s *site) send(r *http.Request) (*http.Response, string) {
	s.t.Helper()
	c := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	resp, err := c.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	s.answered(r, resp, string(text))
	return resp, string(text)
}

func (s *site) get(path string, status int) string {
	s.t.Helper()
	resp, text := s.do("GET", path, "", nil)
	if resp.StatusCode != status {
		s.t.Fatalf("GET %s: %s, not %d\n%s", path, resp.Status, status, text)
	}
	return text
}

func (s *site) post(path string, v url.Values, status int) (location, text string) {
	s.t.Helper()
	resp, text := s.do("POST", path, "application/x-www-form-urlencoded", []byte(v.Encode()))
	if resp.StatusCode != status {
		s.t.Fatalf("POST %s: %s, not %d\n%s", path, resp.Status, status, text)
	}
	return resp.Header.Get("Location"), text
}

// upload hands files in and returns the job.
func (s *site) upload(files []file, query string) jobs.Job {
	s.t.Helper()
	kind, body := formBody(s.t, files)
	resp, text := s.do("POST", "/api/v1/jobs"+query, kind, body)
	if resp.StatusCode != http.StatusCreated {
		s.t.Fatalf("upload: %s\n%s", resp.Status, text)
	}
	var j jobs.Job
	if err := json.Unmarshal([]byte(text), &j); err != nil {
		s.t.Fatal(err)
	}
	return j
}

// wait waits until a run has ended.
func (s *site) wait(id string, number int) jobs.Run {
	s.t.Helper()
	for end := time.Now().Add(3 * time.Minute); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		job, err := s.srv.store.Job(id)
		if err != nil {
			s.t.Fatal(err)
		}
		if r := job.Run(number); r != nil && r.State != jobs.StateWaiting {
			return *r
		}
	}
	s.t.Fatal("the run did not end")
	return jobs.Run{}
}

// stored lists what lies in the folder of jobs.
func (s *site) stored() (kept, left []string) {
	s.t.Helper()
	for _, d := range []struct {
		name string
		to   *[]string
	}{{"jobs", &kept}, {"tmp", &left}} {
		all, err := os.ReadDir(filepath.Join(s.dir, d.name))
		if err != nil {
			s.t.Fatal(err)
		}
		for _, e := range all {
			*d.to = append(*d.to, e.Name())
		}
	}
	return kept, left
}

func contains(t *testing.T, text string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if !strings.Contains(text, w) {
			if len(text) > 3000 {
				text = text[:3000] + "…"
			}
			t.Errorf("%q is not said in\n%s", w, text)
		}
	}
}

package serve

import (
	"context"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// The last good map stays the job's map, whatever became of later runs.
func TestLastGoodMap(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "?run=yes")
	s.wait(job.ID, 1)
	path := "/jobs/" + job.ID
	s.api("POST", "/api/v1"+path+"/runs", `{"ticket":"X"}`, 202)
	s.api("POST", "/api/v1"+path+"/runs/2/cancel", "", 204)
	if r := s.wait(job.ID, 2); r.State != jobs.StateCancelled {
		t.Skipf("the second run was %s before it could be cancelled", r.State)
	}
	resp, _ := s.do("GET", path, "", nil)
	if to := resp.Header.Get("Location"); to != path+"/runs/1" {
		t.Fatalf("the link to the job leads to %s", to)
	}
	contains(t, s.get(path+"/runs/1", 200), "This is the newest map of the job", "cancelled")

	// A run whose stored file was altered fails and says why, and the map stays.
	input := filepath.Join(s.dir, "jobs", job.ID, "inputs", "0")
	text, err := os.ReadFile(input)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(input, []byte(strings.Replace(string(text), "1", "2", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	s.api("POST", "/api/v1"+path+"/runs", "", 202)
	if r := s.wait(job.ID, 3); r.State != jobs.StateFailed || !strings.Contains(r.Problem.Words(), "not the one that was handed in") {
		t.Errorf("%s: %+v", r.State, r.Problem)
	}
	contains(t, s.get(path+"/runs/1", 200), "A later run <strong>failed</strong>")
	contains(t, s.get(path+"/runs/3", 200), "Try again", "The newest map, run 1")
	contains(t, s.get("/", 200), "map made, the last attempt failed")

	// After it is mended another run is the newest map, and the old one says so.
	if err := os.WriteFile(input, text, 0o600); err != nil {
		t.Fatal(err)
	}
	s.api("POST", "/api/v1"+path+"/runs", "", 202)
	s.wait(job.ID, 4)
	contains(t, s.get(path+"/runs/1", 200), "A newer map of this job exists")
}

// A button that is clicked twice makes one run, and leads to it both times.
func TestDoubleClick(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "")
	form := url.Values{"revision": {"1"}, "ticket": {"D-1"}, "tolerance.half_width": {"24 in"}}
	var wg sync.WaitGroup
	to := make([]string, 4)
	for i := range to {
		wg.Go(func() {
			resp, err := (&http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}).PostForm(s.url+"/jobs/"+job.ID+"/runs", form)
			if err != nil {
				t.Error(err)
				return
			}
			resp.Body.Close()
			to[i] = resp.Header.Get("Location")
		})
	}
	wg.Wait()
	for _, l := range to {
		if l != "/jobs/"+job.ID+"/runs/1" {
			t.Errorf("a click leads to %q", l)
		}
	}
	if now, _ := s.srv.store.Job(job.ID); len(now.Runs) != 1 {
		t.Errorf("%d runs", len(now.Runs))
	}
}

// What was typed is kept when it is refused, when somebody else was faster, and
// on the way to the columns.
func TestTypedIsKept(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "")
	path := "/jobs/" + job.ID
	_, text := s.post(path+"/runs", url.Values{"revision": {"1"}, "ticket": {"MINE"}, "epoch": {"twenty"}, "antenna_gap_m": {"x"}}, http.StatusUnprocessableEntity)
	contains(t, text, `value="MINE"`, `value="twenty"`, `value="x"`)
	if strings.Count(text, `class="wrong"`) != 2 {
		t.Errorf("%d fields say what is wrong with them, not 2", strings.Count(text, `class="wrong"`))
	}
	s.post(path+"/runs", url.Values{"revision": {"1"}, "ticket": {"THEIRS"}}, http.StatusSeeOther)
	s.wait(job.ID, 1)
	_, text = s.post(path+"/runs", url.Values{"revision": {"1"}, "ticket": {"MINE"}, "locator": {"Me"}}, http.StatusConflict)
	contains(t, text, "changed in another window", `value="MINE"`, `value="Me"`, `name="revision" value="2"`)
	to, _ := s.post(path+"/settings", url.Values{"revision": {"2"}, "ticket": {"MINE"}}, http.StatusSeeOther)
	if to != path+"/columns" {
		t.Error(to)
	}
	contains(t, s.get(path+"/settings", 200), `value="MINE"`)
}

// Who goes away while the files are read has stored nothing.
func TestCancelledUpload(t *testing.T) {
	s := newSite(t, nil)
	kind, body := formBody(t, []file{{"trace", "many.csv", manyRows(400_000)}})
	r, _ := http.NewRequest("POST", s.url+"/api/v1/jobs", nil)
	sent := make(chan bool)
	r.Body = &toldBody{Reader: strings.NewReader(string(body)), told: sent}
	r.ContentLength = int64(len(body))
	r.Header.Set("Content-Type", kind)
	client := http.Client{}
	ctx, stop := contextOf(t)
	go func() { <-sent; time.Sleep(30 * time.Millisecond); stop() }()
	if resp, err := client.Do(r.WithContext(ctx)); err == nil {
		resp.Body.Close()
		t.Skip("the files were read before anybody could go away")
	}
	for end := time.Now().Add(time.Minute); ; time.Sleep(50 * time.Millisecond) {
		kept, left := s.stored()
		if len(kept) > 0 {
			t.Fatalf("it was stored all the same: %q", kept)
		}
		if len(left) == 0 {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("left behind: %q", left)
		}
	}
}

// toldBody tells when it was read to its end.
type toldBody struct {
	*strings.Reader
	told chan bool
	once sync.Once
}

func (b *toldBody) Read(p []byte) (int, error) {
	n, err := b.Reader.Read(p)
	if b.Reader.Len() == 0 {
		b.once.Do(func() { close(b.told) })
	}
	return n, err
}

func (b *toldBody) Close() error { return nil }

func contextOf(t *testing.T) (context.Context, context.CancelFunc) {
	return context.WithCancel(t.Context())
}

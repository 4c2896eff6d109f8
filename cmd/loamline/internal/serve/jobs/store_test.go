package jobs

import (
	"errors"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/whereabouts"
	"loamline.example/trace"
)

func openTestStore(t *testing.T, dir string) *Store {
	t.Helper()
	s, err := OpenStore(dir, "test", DefaultLimits, trace.DefaultJob(), slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

const smallTrace = "line,lat,lon,depth_m\nA,44.1,-30.5,1\nA,44.10001,-30.5,1.1\nA,44.10002,-30.5,1\nA,44.10003,-30.5,1\nA,44.10004,-30.5,1\n"

func handIn(t *testing.T, s *Store, ticket string) Job {
	t.Helper()
	d, err := s.NewDraft()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []struct {
		kind       Kind
		name, text string
	}{{KindTrace, "walk.csv", smallTrace}, {KindJob, "job.toml", "ticket = \"" + ticket + "\"\ndate = 2026-05-12\ndatum = \"WGS84\"\narea = \"Tern Lane\"\n"}} {
		if err := d.Add(f.kind, f.name, strings.NewReader(f.text)); err != nil {
			t.Fatal(err)
		}
	}
	job, err := d.Commit(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return job
}

func waitDone(t *testing.T, s *Store, id string) Run {
	t.Helper()
	for end := time.Now().Add(2 * time.Minute); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		job, err := s.Job(id)
		if err != nil {
			t.Fatal(err)
		}
		if r := job.Latest(); r != nil && r.State != StateWaiting {
			return *r
		}
	}
	t.Fatal("the run did not end")
	return Run{}
}

// A process that ends between the moment a map is in place and the moment that
// is written down leaves a finished map, and one that ends before leaves a run
// that is made again.
func TestSettledAtStart(t *testing.T) {
	dir := t.TempDir()
	s := openTestStore(t, dir)
	m := NewMaker(s, MakerOptions{})
	job := handIn(t, s, "A-1")
	if _, err := m.Ask(t.Context(), job.ID, job.Revision, job.Settings); err != nil {
		t.Fatal(err)
	}
	if r := waitDone(t, s, job.ID); r.State != StateDone {
		t.Fatalf("%+v", r.Problem)
	}
	m.Close()
	if _, err := s.change(job.ID, 0, func(j *Job) error { j.Runs[0].State, j.Runs[0].Summary = StateWaiting, nil; return nil }); err != nil {
		t.Fatal(err)
	}
	s.Close()
	s = openTestStore(t, dir)
	if now, err := s.Job(job.ID); err != nil || now.Runs[0].State != StateDone || now.Runs[0].Summary.Counts.Rows != 5 {
		t.Errorf("%+v, %v", now.Runs, err)
	}
	if _, err := s.change(job.ID, 0, func(j *Job) error {
		j.Runs = append(j.Runs, Run{Number: 2, State: StateWaiting, Settings: j.Settings})
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "tmp", "run-half"), 0o700); err != nil {
		t.Fatal(err)
	}
	s.Close()
	s = openTestStore(t, dir)
	m = NewMaker(s, MakerOptions{})
	if r := waitDone(t, s, job.ID); r.Number != 2 || r.State != StateDone {
		t.Errorf("%+v", r)
	}
	m.Close()
	if left, _ := os.ReadDir(filepath.Join(dir, "tmp")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A job whose record is damaged is left on the disk and hides no other.
func TestDamagedRecord(t *testing.T) {
	dir := t.TempDir()
	s := openTestStore(t, dir)
	good, bad := handIn(t, s, "A-1"), handIn(t, s, "A-2")
	s.Close()
	if err := os.WriteFile(s.path(bad.ID, "job.json"), []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "remembered.json"), []byte("["), 0o600); err != nil {
		t.Fatal(err)
	}
	s = openTestStore(t, dir)
	if all, _ := s.Search(Query{}); len(all) != 1 || all[0].ID != good.ID {
		t.Errorf("%d jobs are shown", len(all))
	}
	if _, err := os.Stat(s.inputPath(bad.ID, 0)); err != nil {
		t.Error(err)
	}
}

// A run that waits can be cancelled, a job that waits can be deleted, and a
// queue that is full says so without losing the job.
func TestQueue(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	m := NewMaker(s, MakerOptions{AtOnce: 1, Waiting: 2})
	m.Close() // nothing is taken from the queue for now
	m.closed = false
	var all []Job
	for i := range 3 {
		job := handIn(t, s, string(rune('A'+i)))
		asked, err := m.Ask(t.Context(), job.ID, job.Revision, job.Settings)
		if want := i == 2; errors.Is(err, ErrBusy) != want {
			t.Fatalf("job %d: %v", i, err)
		}
		if err == nil {
			job = asked
		}
		all = append(all, job)
	}
	if p, err := m.Progress(all[1].ID, 1); err != nil || p.Ahead != 1 || p.State != StateWaiting {
		t.Errorf("%+v, %v", p, err)
	}
	if err := m.Cancel(all[0].ID, 1); err != nil {
		t.Fatal(err)
	}
	if err := m.Delete(all[1].ID); err != nil {
		t.Fatal(err)
	}
	m.done.Add(1)
	go m.work()
	defer m.Close()
	if r := waitDone(t, s, all[0].ID); r.State != StateCancelled {
		t.Errorf("%+v", r)
	}
	if _, err := s.Job(all[1].ID); !errors.Is(err, ErrNoJob) {
		t.Error(err)
	}
	if _, err := m.Ask(t.Context(), all[2].ID, all[2].Revision, all[2].Settings); err != nil {
		t.Fatal(err)
	}
	if r := waitDone(t, s, all[2].ID); r.State != StateDone {
		t.Errorf("%+v", r.Problem)
	}
}

func TestSearch(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	handIn(t, s, "T-100")
	handIn(t, s, "T-200")
	for _, c := range []struct {
		q    Query
		want int
	}{{Query{}, 2}, {Query{Ticket: "t-1"}, 1}, {Query{Text: "lane tern"}, 2}, {Query{Text: "walk.csv"}, 2}, {Query{Text: "T-300"}, 0},
		{Query{From: "2026-05-12", To: "2026-05-12"}, 2}, {Query{To: "2026-05-11"}, 0}, {Query{Box: &whereabouts.Box{West: -31, South: 44, East: -30, North: 45}}, 2}, {Query{Box: &whereabouts.Box{West: 10, South: 44, East: 11, North: 45}}, 0}, {Query{Skip: 5}, 2}} {
		if _, n := s.Search(c.q); n != c.want {
			t.Errorf("%+v: %d jobs, not %d", c.q, n, c.want)
		}
	}
	for text, ok := range map[string]bool{"-31,44,-30,45": true, "1,2,3": false, "1,2,0,3": false, "a,b,c,d": false, "NaN,0,1,1": false} {
		if _, err := whereabouts.ParseBox(text); (err == nil) != ok {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// No name of a user's file keeps a folder, a control character or an endless
// length.
func TestPlainName(t *testing.T) {
	for name, want := range map[string]string{"../../etc/passwd": "passwd", `C:\walks\a.csv`: "a.csv", "..": "", "a\x00\nb.csv": "ab.csv",
		"ünï.csv": "ünï.csv", strings.Repeat("ü", 100): strings.Repeat("ü", 60), "/": "", " a ": "a"} {
		if got := plainName(name); got != want {
			t.Errorf("%q: %q, not %q", name, got, want)
		}
	}
	if got := safeName(`<b>"x"/..`); got != "_b__x__" {
		t.Errorf("%q", got)
	}
	for id, want := range map[string]bool{newID(): true, "": false, "../" + newID()[3:]: false, strings.ToUpper(newID()): false} {
		if ValidID(id) != want {
			t.Errorf("%q is taken for an identifier: %v", id, !want)
		}
	}
}

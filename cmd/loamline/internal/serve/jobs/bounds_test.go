package jobs

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"strings"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/trace"
)

// bigTrace is so much that every stage of a run takes its time.
func bigTrace(lines, readings int) string {
	var b strings.Builder
	b.WriteString("line,lat,lon,depth_m,fix\n")
	for l := range lines {
		for i := range readings {
			fmt.Fprintf(&b, "L-%d,%.8f,%.8f,%.2f,4\n", l, 44.1+float64(l)*1e-4, -30.5+float64(i)*1e-5, 1.1+float64(i%7)*0.01)
		}
	}
	return b.String()
}

func handInText(t *testing.T, s *Store, text string) Job {
	t.Helper()
	d, err := s.NewDraft()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []struct {
		kind       Kind
		name, text string
	}{{KindTrace, "walk.csv", text}, {KindJob, "job.toml", "datum = \"WGS84\"\n"}} {
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

// Cancelling and closing come to an end, and stop the run, whatever it is
// in the middle of.
func TestStopsAtEveryStage(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	job := handInText(t, s, bigTrace(40, 300))
	m := NewMaker(s, MakerOptions{AtOnce: 1})
	defer m.Close()
	for _, stage := range []string{stageReading, stageFitting, stageWriting} {
		now, err := s.Job(job.ID)
		if err != nil {
			t.Fatal(err)
		}
		asked, err := m.Ask(t.Context(), job.ID, now.Revision, now.Settings)
		if err != nil {
			t.Fatal(err)
		}
		number := asked.Latest().Number
		for end := time.Now().Add(2 * time.Minute); ; time.Sleep(time.Millisecond) {
			p, err := m.Progress(job.ID, number)
			if err != nil || time.Now().After(end) {
				t.Fatalf("%s was not reached: %+v, %v", stage, p, err)
			}
			if p.State == StateDone || p.State == StateRunning && p.Stage == stage && (stage != stageFitting || p.Done > 0) {
				break
			}
		}
		if err := m.Cancel(job.ID, number); err != nil {
			t.Fatal(err)
		}
		if r := waitDone(t, s, job.ID); r.State != StateCancelled && r.State != StateDone {
			t.Errorf("cancelled while %s: %s", stage, r.State)
		}
	}
	now, _ := s.Job(job.ID)
	if _, err := m.Ask(t.Context(), job.ID, now.Revision, now.Settings); err != nil {
		t.Fatal(err)
	}
	time.Sleep(300 * time.Millisecond)
	m.Close()
	if r, err := s.Job(job.ID); err != nil || r.Latest().State == StateRunning {
		t.Errorf("a run goes on after closing: %+v, %v", r.Latest(), err)
	}
}

// A run that is in the middle of something that cannot be stopped holds nobody
// up, and nothing of it is kept: it ends only when the test does, so that a
// cancel or a close that waited for it would never return.
func TestLeftBehind(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	job := handIn(t, s, "A-1")
	m := NewMaker(s, MakerOptions{AtOnce: 1})
	began, over := make(chan bool), make(chan bool)
	m.make = func(context.Context, Job, Run, func(Progress)) (*report.Result, error) {
		close(began)
		<-over
		return &report.Result{}, nil
	}
	defer close(over)
	if _, err := m.Ask(t.Context(), job.ID, job.Revision, job.Settings); err != nil {
		t.Fatal(err)
	}
	<-began
	if err := m.Cancel(job.ID, 1); err != nil {
		t.Fatal(err)
	}
	if r := waitDone(t, s, job.ID); r.State != StateCancelled {
		t.Error(r.State)
	}
	m.Close()
}

// A folder with a quota takes what has room, says so where it has none, and has
// room again once something is deleted.
func TestQuota(t *testing.T) {
	dir := t.TempDir()
	limits := DefaultLimits
	limits.FolderBytes = 30 << 10
	s, err := OpenStore(dir, "test", limits, trace.DefaultJob(), slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var all []Job
	for {
		d, err := s.NewDraft()
		if err == nil {
			err = d.Add(KindTrace, "walk.csv", strings.NewReader(bigTrace(1, 200)))
			if err != nil {
				d.Discard()
			}
		}
		if errors.Is(err, ErrFull) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		job, err := d.Commit(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if all = append(all, job); len(all) > 10 {
			t.Fatal("the quota bounds nothing")
		}
	}
	if left, _ := os.ReadDir(s.tmp()); len(left) > 0 || len(all) == 0 {
		t.Errorf("%d jobs; left behind: %v", len(all), left)
	}
	if err := s.Delete(all[0].ID); err != nil {
		t.Fatal(err)
	}
	handInText(t, s, smallTrace)
}

// What is altered, cut or lost on the disk is found, and what is whole is not.
func TestCheckFindsDamage(t *testing.T) {
	dir := t.TempDir()
	s := openTestStore(t, dir)
	m := NewMaker(s, MakerOptions{})
	job, other := handIn(t, s, "A-1"), handIn(t, s, "A-2")
	if _, err := m.Ask(t.Context(), job.ID, job.Revision, job.Settings); err != nil {
		t.Fatal(err)
	}
	if r := waitDone(t, s, job.ID); r.State != StateDone {
		t.Fatalf("%+v", r.Problem)
	}
	m.Close()
	for _, key := range []string{"pdf", "kml"} {
		if _, f, err := s.Output(t.Context(), job.ID, 1, key); err != nil {
			t.Fatal(err)
		} else if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if found, err := s.Check(context.Background()); err != nil || len(found) > 0 {
		t.Fatalf("%v: %+v", err, found)
	}
	res, err := s.Result(job.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	html := ""
	for _, o := range res.Files {
		if o.Key == "html" {
			html = s.runPath(job.ID, 1, "map.html")
			if o.Packed {
				html += ".gz"
			}
		}
	}
	flip := func(path string) {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		b[len(b)/2] ^= 1
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	flip(s.inputPath(job.ID, 0))
	flip(html)
	flip(s.runPath(job.ID, 1, "map.pdf"))
	if err := os.Truncate(s.inputPath(job.ID, 1), 5); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(s.runPath(job.ID, 1, "map.kml")); err != nil {
		t.Fatal(err)
	}
	ledger := s.runPath(job.ID, 1, "ledger.jsonl")
	list, err := os.ReadFile(ledger)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(ledger, int64(strings.LastIndexByte(strings.TrimSpace(string(list)), '\n'))+1); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(s.path(other.ID, "job.json"), 20); err != nil {
		t.Fatal(err)
	}
	s.Close()
	s = openTestStore(t, dir)
	found, err := s.Check(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	said := fmt.Sprintf("%+v", found)
	for _, want := range []string{"walk.csv Words:the file that was handed in was altered", "job.toml Words:the file that was handed in is truncated", "job.html Words:the file was altered",
		"job.pdf Words:the file was altered", "job.kml Words:the file is not there", "run 1 Words:the list of its rows was altered or truncated", other.ID + " Where: Words:the record of this job cannot be read"} {
		if !strings.Contains(said, want) {
			t.Errorf("not found: %s in %s", want, said)
		}
	}
	if len(found) != 7 {
		t.Errorf("%d troubles, not 7", len(found))
	}
	// Whoever takes such a file is told, and has no half of it for the whole.
	for _, key := range []string{"pdf", "html"} {
		if _, _, err := taking(t, s, job.ID, 1, key); err == nil {
			t.Errorf("%s was altered, and is handed out", key)
		}
	}
	if strings.Contains(said, dir) {
		t.Error("the place on the disk is told")
	}
}

// Whoever waits until there is room to read a large table holds up nobody else: not
// the list, not the plan, not the same job's page, not another job's answers.
func TestReadingHoldsUpNobody(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	job, other := handIn(t, s, "A-1"), handIn(t, s, "A-2")
	release, err := s.room.take(t.Context(), roomBytes)
	if err != nil {
		t.Fatal(err)
	}
	said := make(chan error)
	datum := "WGS84"
	go func() {
		_, err := s.Say(context.Background(), job.ID, job.Revision, Answer{Datum: &datum, NoDepth: []string{"walk.csv"}})
		said <- err
	}()
	for range 50 { // while it waits, whenever it comes to that
		if found, total := s.Search(Query{}); total != 2 || len(found) != 2 {
			t.Fatalf("%d jobs of 2 are listed", total)
		}
		if all, _ := s.Spread(Query{}, nil, 4, 4); all.Placed != 2 {
			t.Fatalf("%d jobs of 2 are on the plan", all.Placed)
		}
		if now, err := s.Job(job.ID); err != nil || now.Revision != job.Revision {
			t.Fatalf("%+v, %v", now, err)
		}
		if other, err = s.Keep(other.ID, other.Revision, other.Settings); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Millisecond)
	}
	select {
	case err := <-said:
		t.Fatalf("it did not wait (%v): this test shows nothing", err)
	default:
	}
	release()
	if err := <-said; err != nil {
		t.Error(err)
	}
}

// A run can be removed alone; its number is not given again.
func TestDeleteRun(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	m := NewMaker(s, MakerOptions{})
	defer m.Close()
	job := handIn(t, s, "A-1")
	for range 2 {
		now, _ := s.Job(job.ID)
		if _, err := m.Ask(t.Context(), job.ID, now.Revision, now.Settings); err != nil {
			t.Fatal(err)
		}
		waitDone(t, s, job.ID)
	}
	used := s.used.Load()
	now, err := s.DeleteRun(job.ID, 2)
	if err != nil || len(now.Runs) != 1 || now.LatestDone().Number != 1 {
		t.Fatalf("%v: %+v", err, now.Runs)
	}
	if _, err := os.Stat(s.runPath(job.ID, 2)); !os.IsNotExist(err) || s.used.Load() >= used {
		t.Errorf("%v; %d bytes before, %d now", err, used, s.used.Load())
	}
	if again, err := m.Ask(t.Context(), job.ID, now.Revision, now.Settings); err != nil || again.Latest().Number != 3 {
		t.Errorf("%v: %+v", err, again.Runs)
	}
}

package jobs

import (
	"bytes"
	"context"
	"errors"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/outputs"
	"loamline.example/export"
	"loamline.example/trace"
	"loamline.example/trace/locate"
)

// runMade makes a map of a job with its settings as they are.
func runMade(t *testing.T, s *Store, id string) Run {
	t.Helper()
	m := NewMaker(s, MakerOptions{AtOnce: 1})
	defer m.Close()
	job, err := s.Job(id)
	if err == nil {
		_, err = m.Ask(t.Context(), id, job.Revision, job.Settings)
	}
	if err != nil {
		t.Fatal(err)
	}
	r := waitDone(t, s, id)
	if r.State != StateDone {
		t.Fatalf("%+v", r.Problem)
	}
	return r
}

// asTheCommandLine writes everything that a run can be written as, straight from
// its files.
func asTheCommandLine(t *testing.T, s *Store, job Job, run Run) map[string][]byte {
	t.Helper()
	src, _, err := s.read(t.Context(), job, run, s.version)
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := locate.Build(t.Context(), src)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if _, err := export.WriteJob(t.Context(), sheet, dir, export.FormatNames(), export.JobOptions{}); err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	names, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if out[n.Name()], err = os.ReadFile(filepath.Join(dir, n.Name())); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

func taking(t *testing.T, s *Store, id string, number int, key string) (outputs.File, []byte, error) {
	t.Helper()
	o, f, err := s.Output(t.Context(), id, number, key)
	if err != nil {
		return o, nil, err
	}
	text, err := io.ReadAll(f)
	return o, text, errors.Join(err, f.Close())
}

func listed(t *testing.T, s *Store, id string, number int) (all []outputs.File, unmade int) {
	t.Helper()
	res, err := s.Result(id, number)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range res.Files {
		if o.Unmade {
			unmade++
		}
	}
	return res.Files, unmade
}

// An output that is made when somebody asks is, byte for byte, what the command
// line writes for the run: also when the answers and settings are others by then,
// and when another version of the program runs that draws the same map.
func TestMadeWhenAsked(t *testing.T) {
	dir := t.TempDir()
	s := openTestStore(t, dir)
	job := handInText(t, s, strings.Replace(smallTrace, "depth_m", "Depth", 1))
	id := job.ID
	say := func(name string) {
		t.Helper()
		var err error
		if job, err = s.Say(t.Context(), id, job.Revision, Answer{Columns: map[string]map[string]string{"walk.csv": {"Depth": name}}}); err != nil {
			t.Fatal(err)
		}
	}
	say("depth_m")
	first := runMade(t, s, id)
	job, err := s.Job(id)
	if err != nil {
		t.Fatal(err)
	}
	want := asTheCommandLine(t, s, job, first)
	all, unmade := listed(t, s, id, 1)
	if len(all) != len(want)+1 || unmade != len(want)-len(atOnce) { // and the settings
		t.Fatalf("%d files, %d of them unmade; the command line writes %d", len(all), unmade, len(want))
	}
	say("depth_ft") // it was feet after all
	second := runMade(t, s, id)
	if job, err = s.Job(id); err != nil {
		t.Fatal(err)
	}
	wantSecond := asTheCommandLine(t, s, job, second)
	if bytes.Equal(want[job.Name+".kml"], wantSecond[job.Name+".kml"]) {
		t.Fatal("the answer changed nothing: this test shows nothing")
	}
	s.Close()
	s, err = OpenStore(dir, "a later version", DefaultLimits, trace.DefaultJob(), slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for number, want := range map[int]map[string][]byte{1: want, 2: wantSecond} {
		for _, o := range all {
			if o.Key == "settings.toml" {
				continue
			}
			made, text, err := taking(t, s, id, number, o.Key)
			if err != nil || made.Unmade || !bytes.Equal(text, want[o.Name]) {
				t.Errorf("run %d, %s: %d bytes, the command line writes %d (%v)", number, o.Name, len(text), len(want[o.Name]), err)
			}
		}
		if _, unmade := listed(t, s, id, number); unmade != 0 {
			t.Errorf("run %d: %d files are listed as unmade after all were taken", number, unmade)
		}
	}
	if found, err := s.Check(context.Background()); err != nil || len(found) > 0 {
		t.Errorf("%v: %+v", err, found)
	}
}

// Many who ask for the same and for different files at once get whole ones, each
// made once.
func TestManyAsk(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	job := handIn(t, s, "A-1")
	run := runMade(t, s, job.ID)
	job, _ = s.Job(job.ID)
	want := asTheCommandLine(t, s, job, run)
	var wg sync.WaitGroup
	for range 5 {
		for _, key := range []string{"kml", "dxf", "shp.zip", "lines.csv"} {
			wg.Go(func() {
				if o, text, err := taking(t, s, job.ID, 1, key); err != nil || !bytes.Equal(text, want[o.Name]) {
					t.Errorf("%s: %d bytes, not %d (%v)", key, len(text), len(want[o.Name]), err)
				}
			})
		}
	}
	wg.Wait()
	if left, _ := os.ReadDir(s.tmp()); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if found, err := s.Check(context.Background()); err != nil || len(found) > 0 {
		t.Errorf("%v: %+v", err, found)
	}
}

// A file is handed out also where the folder has no room to keep it.
func TestAskedWithoutRoom(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	id := handIn(t, s, "A-1").ID
	runMade(t, s, id)
	s.limits.FolderBytes = s.used.Load()
	for range 2 {
		_, text, err := taking(t, s, id, 1, "pdf")
		if err != nil || !bytes.HasPrefix(text, []byte("%PDF-")) {
			t.Fatalf("%d bytes, %v", len(text), err)
		}
	}
	if _, unmade := listed(t, s, id, 1); unmade == 0 {
		t.Error("a file that was not kept is listed as made")
	}
	var zip bytes.Buffer
	if err := s.Zip(t.Context(), &zip, id, 1, func() {}); err != nil || zip.Len() == 0 {
		t.Errorf("the zip: %d bytes, %v", zip.Len(), err)
	}
	if left, _ := os.ReadDir(s.tmp()); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A program that draws another map from the same files refuses to pass its files
// off as those of the old run, and leaves the run as it is.
func TestAskedOfAnotherMap(t *testing.T) {
	dir := t.TempDir()
	s := openTestStore(t, dir)
	id := handIn(t, s, "A-1").ID
	runMade(t, s, id)
	s.demand.keep(ticket{}, &trace.Sheet{}) // made some time ago
	path := s.runPath(id, 1, madeOfFile)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	// As if the rules were others: the same readings with another half width.
	other := strings.Replace(string(text), `"half_width": "18 in"`, `"half_width": "24 in"`, -1)
	if other == string(text) {
		t.Fatalf("no half width to change in %s", text)
	}
	if err := os.WriteFile(path, []byte(other), 0o600); err != nil {
		t.Fatal(err)
	}
	before, _ := listed(t, s, id, 1)
	if _, _, err := taking(t, s, id, 1, "pdf"); !errors.Is(err, outputs.ErrOtherMap) {
		t.Errorf("%v", err)
	}
	if after, _ := listed(t, s, id, 1); !slices.Equal(before, after) {
		t.Errorf("%+v became %+v", before, after)
	}
	if _, text, err := taking(t, s, id, 1, "geojson"); err != nil || len(text) == 0 {
		t.Errorf("the map itself: %v", err)
	}
}

// Whoever goes away while a file is made leaves nothing, and the next one gets it.
func TestAskerGoesAway(t *testing.T) {
	s := openTestStore(t, t.TempDir())
	id := handInText(t, s, bigTrace(10, 300)).ID
	runMade(t, s, id)
	s.demand.keep(ticket{}, &trace.Sheet{})
	ctx, leave := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer leave()
	if _, _, err := s.Output(ctx, id, 1, "gpkg"); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("%v", err)
	}
	if left, _ := os.ReadDir(s.tmp()); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if _, text, err := taking(t, s, id, 1, "gpkg"); err != nil || !bytes.HasPrefix(text, []byte("SQLite format 3\x00")) {
		t.Errorf("%d bytes, %v", len(text), err)
	}
}

package jobs

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/disk"
)

// smallDisk is a file system of its own that can be filled to the page and to the file.
type smallDisk struct {
	t       *testing.T
	dir     string
	page    int64
	ballast *os.File
}

// ownDisk tells the test's own process in a namespace of mounts that it is there.
const ownDisk = "LOAMLINE_OWN_DISK"

// newSmallDisk makes a disk in memory. Who may not mount one runs the test once more
// as the root of a namespace of users, where that may be; the test is over then, and
// nil comes back.
func newSmallDisk(t *testing.T) *smallDisk {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=4m,nr_inodes=600"); err != nil {
		if os.Getenv(ownDisk) != "" {
			t.Skip("no small disk can be made here:", err)
		}
		c := exec.Command("/proc/self/exe", "-test.run=^"+t.Name()+"$", "-test.v")
		c.Env = append(os.Environ(), ownDisk+"=1")
		c.SysProcAttr = &syscall.SysProcAttr{Cloneflags: syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
			UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}},
			GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}}}
		out, err := c.CombinedOutput()
		var ended *exec.ExitError
		switch {
		case errors.As(err, &ended):
			t.Fatalf("%s", out)
		case err != nil:
			t.Skip("no small disk can be made here:", err)
		case bytes.Contains(out, []byte("--- SKIP")):
			t.Skipf("%s", out)
		}
		t.Logf("%s", out)
		return nil
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
	f, err := os.Create(filepath.Join(dir, "ballast"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	d := &smallDisk{t: t, dir: dir, ballast: f}
	d.page = int64(d.stat().Bsize)
	return d
}

func (d *smallDisk) stat() syscall.Statfs_t {
	d.t.Helper()
	var st syscall.Statfs_t
	if err := syscall.Statfs(d.dir, &st); err != nil {
		d.t.Fatal(err)
	}
	return st
}

// leavePages fills the disk but for so many pages.
func (d *smallDisk) leavePages(n int64) {
	d.t.Helper()
	if free := int64(d.stat().Bavail) - n; free > 0 {
		if err := syscall.Fallocate(int(d.ballast.Fd()), 0, 0, free*d.page); err != nil {
			d.t.Fatal(err)
		}
	}
	if free := int64(d.stat().Bavail); free != n {
		d.t.Fatalf("%d pages are free, not %d", free, n)
	}
}

// leaveFiles lets only so many files or folders be made.
func (d *smallDisk) leaveFiles(n int64) {
	d.t.Helper()
	for k := 0; int64(d.stat().Ffree) > n; k++ {
		if err := os.WriteFile(filepath.Join(d.dir, fmt.Sprintf("ballast-%d", k)), nil, 0o600); err != nil {
			d.t.Fatal(err)
		}
	}
}

// room gives everything back.
func (d *smallDisk) room() {
	d.t.Helper()
	if err := d.ballast.Truncate(0); err != nil {
		d.t.Fatal(err)
	}
	more, _ := filepath.Glob(filepath.Join(d.dir, "ballast-*"))
	for _, f := range more {
		if err := os.Remove(f); err != nil {
			d.t.Fatal(err)
		}
	}
}

// kinds are the two ways in which a disk is full: no page is left, or no file.
func (d *smallDisk) kinds() map[string]func(int64) {
	return map[string]func(int64){"pages": d.leavePages, "files": d.leaveFiles}
}

// The disk is full at each write of a run, one after the other: with no page free, with
// one, and so on until a run is through, and the same with files. Whatever was
// acknowledged is there, nothing half-done is shown, the run says why it failed and can
// be started again.
func TestFullDiskAtEachWriteOfARun(t *testing.T) {
	d := newSmallDisk(t)
	if d == nil {
		return
	}
	s := openTestStore(t, filepath.Join(d.dir, "jobs"))
	job := handIn(t, s, "A-1")
	good := runMade(t, s, job.ID)
	before := readRun(t, s, job.ID, good.Number)
	m := NewMaker(s, MakerOptions{AtOnce: 1})
	defer m.Close()
	for kind, leave := range d.kinds() {
		failed, refused := 0, 0
		through := false
		for n := int64(0); !through; n++ {
			now, err := s.Job(job.ID)
			if err != nil {
				t.Fatal(err)
			}
			leave(n)
			asked, err := m.Ask(t.Context(), job.ID, now.Revision, now.Settings)
			at := fmt.Sprintf("with %d %s free", n, kind)
			if err != nil { // it was not even taken, and that was said
				refused++
				if !full(err) {
					t.Errorf("%s: refused by %v", at, err)
				}
				if is, _ := s.Job(job.ID); !reflect.DeepEqual(is, now) {
					t.Errorf("%s: refused, and the job is another one", at)
				}
				d.room()
			} else {
				number := asked.Latest().Number
				r := waitDone(t, s, job.ID)
				if r.Number != number {
					t.Fatalf("%s: run %d was acknowledged, and the last is %d", at, number, r.Number)
				}
				d.room()
				switch r.State {
				case StateDone:
					through = true
				case StateFailed:
					failed++
					if w := r.Problem.Words(); !strings.Contains(w, "full") || strings.Contains(w, d.dir) || strings.Contains(w, "--out") {
						t.Errorf("%s: %s", at, w)
					}
					if _, err := s.Result(job.ID, number); err == nil {
						t.Errorf("%s: the run failed, and its map is shown", at)
					}
					if is, _ := s.Job(job.ID); is.LatestDone() == nil || is.LatestDone().Number != good.Number {
						t.Errorf("%s: the job's map is not the last good one", at)
					}
				default:
					t.Errorf("%s: %s", at, r.State)
				}
			}
			heldOnDisk(t, s, job.ID, at)
			if got := readRun(t, s, job.ID, good.Number); !reflect.DeepEqual(got, before) {
				t.Fatalf("%s: the good map is another one", at)
			}
			if n > 900 {
				t.Fatalf("%s: no run gets through", at)
			}
		}
		if kind == "pages" && failed < 40 || failed < 4 || refused == 0 {
			t.Errorf("%s: only %d runs failed and %d were refused: the writes of a run were not all met", kind, failed, refused)
		}
		t.Logf("%s: %d refused, %d failed", kind, refused, failed)
		now, _ := s.Job(job.ID)
		if _, err := s.DeleteRun(job.ID, now.Latest().Number); err != nil {
			t.Fatal(err)
		}
	}

	// With room again it is made, and another process finds everything.
	now, _ := s.Job(job.ID)
	if _, err := m.Ask(t.Context(), job.ID, now.Revision, now.Settings); err != nil {
		t.Fatal(err)
	}
	if r := waitDone(t, s, job.ID); r.State != StateDone {
		t.Fatalf("with room again: %+v", r.Problem)
	}
	m.Close()
	was, _ := s.Job(job.ID)
	s.Close()
	again := openTestStore(t, filepath.Join(d.dir, "jobs"))
	if is, err := again.Job(job.ID); err != nil || len(is.Runs) != len(was.Runs) || is.LatestDone().Number != was.LatestDone().Number {
		t.Errorf("another process finds %d runs of %d: %v", len(is.Runs), len(was.Runs), err)
	}
	if found, err := again.Check(context.Background()); err != nil || len(found) > 0 {
		t.Errorf("%v: %+v", err, found)
	}
}

// full reports whether an error says that the disk takes nothing more.
func full(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, ErrFull) || strings.Contains(err.Error(), "full")
}

// heldOnDisk makes sure that the folder of jobs holds what was acknowledged and no
// half of anything: every run of the job is in its record, and nothing unfinished lies
// about.
func heldOnDisk(t *testing.T, s *Store, id, at string) {
	t.Helper()
	var stored Job
	if err := disk.ReadJSON(s.path(id, "job.json"), &stored); err != nil {
		t.Fatalf("%s: the job's record: %v", at, err)
	}
	now, err := s.Job(id)
	if err != nil {
		t.Fatal(err)
	}
	if len(stored.Runs) != len(now.Runs) || stored.Revision != now.Revision {
		t.Errorf("%s: the record has %d runs of %d, revision %d of %d", at, len(stored.Runs), len(now.Runs), stored.Revision, now.Revision)
	}
	// A run that is left behind as it stops has its own folder until it ends.
	var left []os.DirEntry
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if left, _ = os.ReadDir(s.tmp()); len(left) == 0 {
			break
		}
	}
	if len(left) > 0 {
		t.Errorf("%s: left behind: %v", at, left)
	}
	unfinished, _ := filepath.Glob(s.path(id, ".new-*"))
	parts, _ := filepath.Glob(s.path(id, "runs", "*", ".*.part"))
	if len(unfinished)+len(parts) > 0 {
		t.Errorf("%s: half-written: %v, %v", at, unfinished, parts)
	}
}

// readRun is everything that is on the disk of a run.
func readRun(t *testing.T, s *Store, id string, number int) map[string]string {
	t.Helper()
	out := map[string]string{}
	all, err := os.ReadDir(s.runPath(id, number))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		b, err := os.ReadFile(s.runPath(id, number, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		out[e.Name()] = string(b)
	}
	return out
}

// The disk is full at each write of an upload: one that was acknowledged is whole, also
// for another process, and one that was not leaves nothing.
func TestFullDiskAtEachWriteOfAnUpload(t *testing.T) {
	d := newSmallDisk(t)
	if d == nil {
		return
	}
	dir := filepath.Join(d.dir, "jobs")
	s := openTestStore(t, dir)
	acknowledged := map[string]bool{handIn(t, s, "A-0").ID: true}
	for kind, leave := range d.kinds() {
		refused := 0
		for n, through := int64(0), false; !through; n++ {
			at := fmt.Sprintf("with %d %s free", n, kind)
			leave(n)
			job, err := uploaded(t, s)
			d.room()
			if err != nil {
				refused++
				if !full(err) {
					t.Errorf("%s: %v", at, err)
				}
			} else {
				acknowledged[job.ID], through = true, true
			}
			if left, _ := os.ReadDir(s.tmp()); len(left) > 0 {
				t.Errorf("%s: left behind: %v", at, left)
			}
			if n > 200 {
				t.Fatalf("%s: no upload gets through", at)
			}
		}
		if refused < 4 {
			t.Errorf("%s: only %d uploads met the full disk", kind, refused)
		}
		t.Logf("%s: %d refused", kind, refused)
	}
	s.Close()
	s = openTestStore(t, dir)
	if _, total := s.Search(Query{}); total != len(acknowledged) {
		t.Errorf("%d jobs, of which %d were acknowledged", total, len(acknowledged))
	}
	for id := range acknowledged {
		if _, err := s.Job(id); err != nil {
			t.Errorf("an upload that was acknowledged is lost: %v", err)
		}
	}
	if found, err := s.Check(context.Background()); err != nil || len(found) > 0 {
		t.Errorf("%v: %+v", err, found)
	}
}

// uploaded hands a job in, or says what kept it out.
func uploaded(t *testing.T, s *Store) (Job, error) {
	d, err := s.NewDraft()
	if err != nil {
		return Job{}, err
	}
	for _, f := range []struct {
		kind       Kind
		name, text string
	}{{KindTrace, "walk.csv", bigTrace(1, 600)}, {KindJob, "job.toml", "datum = \"WGS84\"\n"}} {
		if err := d.Add(f.kind, f.name, strings.NewReader(f.text)); err != nil {
			d.Discard()
			return Job{}, err
		}
	}
	return d.Commit(t.Context())
}

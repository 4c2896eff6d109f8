package jobs

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A disk that is full while a map is made: the run says so, nothing half-done is
// left, and once there is room it is made.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=2m"); err != nil {
		t.Skip("no small disk can be made here:", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
	s := openTestStore(t, filepath.Join(dir, "jobs"))
	job := handIn(t, s, "A-1")
	ballast := filepath.Join(dir, "ballast")
	fill := func(leave int) {
		t.Helper()
		var st syscall.Statfs_t
		if err := syscall.Statfs(dir, &st); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(ballast, bytes.Repeat([]byte("x"), max(0, int(st.Bavail)*int(st.Bsize)-leave)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	m := NewMaker(s, MakerOptions{AtOnce: 1})
	defer m.Close()
	failed := 0
	for _, leave := range []int{12 << 10, 24 << 10, 60 << 10, 200 << 10} {
		fill(leave)
		now, err := s.Job(job.ID)
		if err != nil {
			t.Fatal(err)
		}
		asked, err := m.Ask(t.Context(), job.ID, now.Revision, now.Settings)
		if err != nil { // it was not even asked for, and that was said
			_ = os.Remove(ballast)
			continue
		}
		var r Run
		for end := time.Now().Add(time.Minute); ; time.Sleep(10 * time.Millisecond) {
			now, _ := s.Job(job.ID)
			if r = *now.Latest(); r.State != StateWaiting {
				break
			}
			if time.Now().After(end) {
				t.Fatalf("with %d bytes free, run %d waits for ever", leave, asked.Latest().Number)
			}
		}
		if err := os.Remove(ballast); err != nil {
			t.Fatal(err)
		}
		if r.State == StateFailed {
			failed++
			if w := r.Problem.Words(); !strings.Contains(w, "full") || strings.Contains(w, dir) || strings.Contains(w, "--out") {
				t.Errorf("with %d bytes free: %s", leave, w)
			}
		}
		if left, _ := os.ReadDir(s.tmp()); len(left) > 0 {
			t.Errorf("with %d bytes free: left behind: %v", leave, left)
		}
	}
	if failed == 0 {
		t.Error("no run met the full disk")
	}
	now, _ := s.Job(job.ID)
	if _, err := m.Ask(t.Context(), job.ID, now.Revision, now.Settings); err != nil {
		t.Fatal(err)
	}
	if r := waitDone(t, s, job.ID); r.State != StateDone {
		t.Errorf("with room again: %+v", r.Problem)
	}
}

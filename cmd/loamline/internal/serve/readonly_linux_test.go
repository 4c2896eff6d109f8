package serve

import (
	"path/filepath"
	"syscall"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// A disk that becomes read-only under the server, as one with faults does: what
// was stored can be looked at and taken away, and nothing else happens.
func TestReadOnlyFolder(t *testing.T) {
	above := t.TempDir()
	if err := syscall.Mount("tmpfs", above, "tmpfs", 0, "size=64m"); err != nil {
		t.Skip("no disk of its own can be made here:", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(above, syscall.MNT_DETACH) })
	s := newSite(t, func(o *Options) { o.DataDir = filepath.Join(above, "jobs-of-the-office") })
	job := s.upload(lanternRow(t), "?run=yes")
	s.wait(job.ID, 1)
	before, stored := s.said(job.ID), s.everything()
	// The files that the server holds open for writing keep the disk from being made
	// read-only; a bind mount over it is.
	if err := syscall.Mount(above, above, "", syscall.MS_BIND, ""); err != nil {
		t.Skip(err)
	}
	if err := syscall.Mount("", above, "", syscall.MS_REMOUNT|syscall.MS_BIND|syscall.MS_RDONLY, ""); err != nil {
		_ = syscall.Unmount(above, syscall.MNT_DETACH)
		t.Skip(err)
	}
	s.trouble(job.ID, "jobs-of-the-office")
	s.get("/jobs/"+job.ID+"/runs/1/files/geojson", 200)
	s.get("/jobs/"+job.ID+"/runs/1/files/gpx", 200) // which is made only now, and cannot be kept
	if err := syscall.Unmount(above, syscall.MNT_DETACH); err != nil {
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
	s.api("POST", "/api/v1/jobs/"+job.ID+"/runs", `{"ticket":"NEW"}`, 202)
	if run := s.wait(job.ID, 2); run.State != jobs.StateDone {
		t.Errorf("%+v", run.Problem)
	}
}

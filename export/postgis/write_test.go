package postgis

import (
	"context"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"loamline.example/export/archive"
	"loamline.example/export/internal/sample"
	"loamline.example/trace"
)

// stated is the sample's map as another job, from other readings.
func stated(id, name, file string) *trace.Sheet {
	s := sample.Sheet()
	s.Job.ID, s.Name, s.Job.Ticket = id, name, ""
	s.Inputs = []trace.Input{{Name: "walk.csv", SHA256: file, Kind: trace.InputTable}}
	return s
}

// A writer waits for those that write a job which could be taken for its own, and
// for no others.
func TestWritersOfOtherJobsDoNotWait(t *testing.T) {
	a := openEmpty(t)
	putJob(t, a, stated("", "first", "f0")) // makes what only the first job makes
	other, err := pgx.Connect(t.Context(), a.conn.Config().ConnString())
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close(context.Background())
	for _, tt := range []struct {
		name  string
		held  archive.Identity
		base  string
		put   *trace.Sheet
		waits bool
	}{
		{"another job", archive.Identity{Stated: "A", Files: []string{"f1"}}, "north", stated("B", "south", "f2"), false},
		{"the same base", archive.Identity{Stated: "A", Files: []string{"f1"}}, "west", stated("C", "west", "f3"), true},
		{"the same readings", archive.Identity{Files: []string{"f4"}}, "east", stated("", "up", "f4"), true},
		{"the same stated name", archive.Identity{Stated: "D", Files: []string{"f5"}}, "in", stated("D", "out", "f6"), true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tx, err := other.Begin(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			defer tx.Rollback(context.Background())
			if err := besides(tt.held, tt.base)(t.Context(), tx); err != nil {
				t.Fatal(err)
			}
			through := make(chan error, 1)
			go func() {
				_, err := a.Put(context.Background(), tt.put)
				through <- err
			}()
			if tt.waits {
				select {
				case err := <-through:
					t.Fatalf("it did not wait: %v", err)
				case <-time.After(500 * time.Millisecond):
				}
				if err := tx.Rollback(t.Context()); err != nil {
					t.Fatal(err)
				}
			}
			select {
			case err := <-through:
				if err != nil {
					t.Error(err)
				}
			case <-time.After(time.Minute):
				t.Fatal("it waits for a job that is not its own")
			}
		})
	}
}

// Two that find the same job by different marks, and so do not wait for each other,
// still make two versions of it: the later begins again.
func TestWritersInEachOthersWay(t *testing.T) {
	a := openEmpty(t)
	first := stated("S", "first", "f1")
	putJob(t, a, first)
	b, err := Open(t.Context(), a.conn.Config().ConnString())
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	byName, byFile := stated("S", "second", "f2"), stated("", "third", "f1")
	done := make(chan error, 2)
	go func() { _, err := a.Put(context.Background(), byName); done <- err }()
	go func() { _, err := b.Put(context.Background(), byFile); done <- err }()
	for range 2 {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
	jobs, err := a.Jobs(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	versions := 0
	for _, j := range jobs {
		vs, err := a.Versions(t.Context(), j.Key)
		if err != nil {
			t.Fatal(err)
		}
		versions += len(vs)
	}
	if versions != 3 || rowsOf(t, a, "archive_version", "present") != rowsOf(t, a, "job", "true") {
		t.Errorf("%d versions of %d jobs", versions, len(jobs))
	}
}

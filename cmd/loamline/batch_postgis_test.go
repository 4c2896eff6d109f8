package main

import (
	"bytes"
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"loamline.example/cmd/loamline/internal/batch"
)

// ownDatabase makes a database beside the one that LOAMLINE_TEST_POSTGIS names, for
// tests of other packages empty that at the same time.
func ownDatabase(t *testing.T) string {
	t.Helper()
	address := os.Getenv("LOAMLINE_TEST_POSTGIS")
	if address == "" {
		t.Skip("LOAMLINE_TEST_POSTGIS is not set: nothing is tested against a database")
	}
	conn, err := pgx.Connect(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	name := fmt.Sprintf("loamline_batch_%d", os.Getpid())
	if _, err := conn.Exec(t.Context(), "CREATE DATABASE "+name); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		conn.Exec(context.Background(), "DROP DATABASE IF EXISTS "+name+" WITH (FORCE)")
		conn.Close(context.Background())
	})
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	u.Path = "/" + name
	return u.String()
}

// Four batches that write into one database at once, as from four machines, lose
// nothing: every job of each is in it, once, with its line, whatever it is called.
func TestFourBatchesIntoOneDatabase(t *testing.T) {
	address := ownDatabase(t)
	const jobs = 5
	streets := town(t, 4, jobs, 20) // each street has a walk-0 to walk-4
	outs, said := make([]string, len(streets)), make([]bytes.Buffer, len(streets))
	start := func() []*exec.Cmd {
		cmds := make([]*exec.Cmd, len(streets))
		for i, street := range streets {
			outs[i] = filepath.Join(t.TempDir(), "maps")
			cmds[i] = program(t, "batch", "--out", outs[i], "--archive", address, street)
			cmds[i].Stdout, cmds[i].Stderr = &said[i], &said[i]
			if err := cmds[i].Start(); err != nil {
				t.Fatal(err)
			}
		}
		return cmds
	}
	for round, want := range []string{"kept as job", "which is this very map"} {
		for i, c := range start() {
			if err := c.Wait(); err != nil {
				t.Fatalf("%v: %s", err, &said[i])
			}
			for _, e := range entries(t, filepath.Join(outs[i], "batch.jsonl")) {
				if e.Status != batch.Made || !strings.Contains(e.Archive, want) {
					t.Errorf("round %d: %s %s: %s", round, e.Job, e.Status, e.Archive)
				}
			}
		}
		conn, err := pgx.Connect(t.Context(), address)
		if err != nil {
			t.Fatal(err)
		}
		for q, want := range map[string]int{
			`SELECT count(*) FROM loamline.job`:                                                       4 * jobs,
			`SELECT count(*) FROM loamline.archive_version`:                                           4 * jobs,
			`SELECT count(DISTINCT files) FROM loamline.archive_version WHERE present`:                4 * jobs,
			`SELECT count(DISTINCT job) FROM loamline.centerline`:                                     4 * jobs,
			`SELECT count(*) FROM loamline.reading`:                                                   4 * jobs * 20,
			`SELECT count(*) FROM loamline.job WHERE key = name OR key ~ ('^' || name || ' \([0-9]')`: 4 * jobs,
		} {
			var n int
			if err := conn.QueryRow(t.Context(), q).Scan(&n); err != nil || n != want {
				t.Errorf("round %d: %s: %d, want %d; %v", round, q, n, want, err)
			}
		}
		conn.Close(t.Context())
	}
}

package export

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"loamline.example/export/internal/unfinished"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

func folder(t *testing.T, dir string) map[string]string {
	t.Helper()
	got := map[string]string{}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		b, _ := os.ReadFile(filepath.Join(dir, e.Name()))
		got[e.Name()] = string(b)
	}
	return got
}

func TestWriteFilesWritesAllAndMakesTheFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	err := WriteFiles([]Output{
		{Path: filepath.Join(dir, "m.geojson"), Write: text("one")},
		{Path: filepath.Join(dir, "m.gpkg"), WritePath: func(_ context.Context, p string) error { return os.WriteFile(p, []byte("two"), 0o600) }},
	})
	if err != nil {
		t.Fatal(err)
	}
	got := folder(t, dir)
	if len(got) != 2 || got["m.geojson"] != "one" || got["m.gpkg"] != "two" {
		t.Errorf("got %v", got)
	}
	if err := WriteFiles([]Output{{Path: filepath.Join(dir, "m.geojson"), Write: text("new")}}); err != nil {
		t.Fatal(err)
	}
	if got := folder(t, dir); len(got) != 2 || got["m.geojson"] != "new" {
		t.Errorf("after the second run: %v", got)
	}
}

// Whatever goes wrong with one output, the earlier map stands, nothing is left
// over and no other output of the job appears.
func TestWriteFilesAllOrNone(t *testing.T) {
	broken := errors.New("broken half way")
	cases := map[string]struct {
		bad  Output
		want string
		is   error
	}{
		"writer fails":      {Output{Path: "b.kml", Write: func(w io.Writer) error { io.WriteString(w, "half"); return broken }}, "b.kml: could not be written", broken},
		"path writer fails": {Output{Path: "b.gpkg", WritePath: func(context.Context, string) error { return broken }}, "b.gpkg: could not be written", broken},
		"folder has name":   {Output{Path: "taken", Write: text("x")}, "a folder has this name", unfinished.ErrIsFolder},
		"file as folder":    {Output{Path: "a.geojson/b.kml", Write: text("x")}, "is not a folder", unfinished.ErrIsFile},
		"twice the name":    {Output{Path: "./a.geojson", Write: text("x")}, "two outputs have this name", nil},
	}
	if runtime.GOOS == "linux" {
		// The device gives the system's own error of a full disk.
		cases["disk full"] = struct {
			bad  Output
			want string
			is   error
		}{Output{Path: "b.kml", Write: func(io.Writer) error { return os.WriteFile("/dev/full", []byte("x"), 0) }}, "the disk is full: make room", syscall.ENOSPC}
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			os.WriteFile(filepath.Join(dir, "a.geojson"), []byte("good"), 0o644)
			os.WriteFile(filepath.Join(dir, "z.csv"), []byte("good too"), 0o644)
			os.Mkdir(filepath.Join(dir, "taken"), 0o755)
			c.bad.Path = filepath.Join(dir, c.bad.Path)
			err := WriteFiles([]Output{
				{Path: filepath.Join(dir, "a.geojson"), Write: text("new")},
				c.bad,
				{Path: filepath.Join(dir, "z.csv"), Write: text("new")},
				{Path: filepath.Join(dir, "fresh", "y.csv"), Write: text("new")},
			})
			if err == nil || !strings.Contains(err.Error(), c.want) || (c.is != nil && !errors.Is(err, c.is)) {
				t.Fatalf("got error %v, want %q", err, c.want)
			}
			got := folder(t, dir)
			if len(got) != 3 || got["a.geojson"] != "good" || got["z.csv"] != "good too" {
				t.Errorf("left behind: %v", got)
			}
		})
	}
}

// A failing rename in the middle brings the files back that were replaced before.
func TestWriteFilesRollsBack(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "a"), filepath.Join(dir, "b")
	os.WriteFile(a, []byte("good"), 0o644)
	err := WriteFiles([]Output{
		{Path: a, Write: text("new")},
		{Path: b, Write: text("new")},
		{Path: filepath.Join(dir, "c"), Write: func(io.Writer) error {
			// Somebody makes a folder of that name while the job runs.
			return os.MkdirAll(filepath.Join(b, "inside"), 0o755)
		}},
	})
	if !errors.Is(err, unfinished.ErrIsFolder) {
		t.Fatalf("got %v", err)
	}
	if got := folder(t, dir); got["a"] != "good" || len(got) != 2 {
		t.Errorf("left behind: %v", got)
	}
}

// It takes away again what it has published where nothing stood before.
func TestWriteFilesTakesNewFilesBack(t *testing.T) {
	dir := t.TempDir()
	b := filepath.Join(dir, "b")
	err := WriteFiles([]Output{
		{Path: filepath.Join(dir, "a"), Write: text("new")},
		{Path: b, Write: func(io.Writer) error { return os.MkdirAll(filepath.Join(b, "inside"), 0o755) }},
	})
	if !errors.Is(err, unfinished.ErrIsFolder) {
		t.Fatalf("got %v", err)
	}
	if got := folder(t, dir); len(got) != 1 {
		t.Errorf("left behind: %v", got)
	}
}

func TestWriteFilesCleansUpAfterPanic(t *testing.T) {
	dir := t.TempDir()
	func() {
		defer func() { recover() }()
		WriteFiles([]Output{{Path: filepath.Join(dir, "a"), Write: func(io.Writer) error { panic("bug") }}})
	}()
	if got := folder(t, dir); len(got) != 0 {
		t.Errorf("left behind: %v", got)
	}
}

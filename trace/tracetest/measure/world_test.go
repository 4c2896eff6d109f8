package measure

import (
	"bytes"
	"context"
	"io"
	"testing"

	"loamline.example/trace/intake"
	"loamline.example/trace/tracetest"
)

// Every row of every family of the second world is read, in the layout that its
// seed draws.
func TestSecondWorldIsRead(t *testing.T) {
	for _, f := range SecondWorld.Families() {
		j, err := SecondWorld.Make(f.Name, 21)
		if err != nil {
			t.Fatal(err)
		}
		tables, err := j.Tables(j.Layout)
		if err != nil {
			t.Fatal(f.Name, err)
		}
		files, err := j.Files(j.Layout)
		if err != nil {
			t.Fatal(f.Name, err)
		}
		opt := intake.LoadOptions{Name: f.Name, Version: "measured"}
		for _, x := range files {
			if x.Name == tracetest.JobFile {
				if opt.Job, err = intake.ReadJobFile(bytes.NewReader(x.Bytes), x.Name); err != nil {
					t.Fatal(f.Name, err)
				}
			}
		}
		for _, x := range tables {
			opt.Tables = append(opt.Tables, intake.File{Name: x.Name, Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(x.Bytes)), nil }})
		}
		src, err := intake.Load(context.Background(), opt)
		if err != nil {
			t.Errorf("%s: %v", f.Name, err)
			continue
		}
		rows := 0
		for _, tr := range j.Traces {
			rows += len(tr.Readings)
		}
		if len(src.Readings) != rows || src.Unreadable != 0 {
			t.Errorf("%s: %d of %d rows read, %d unreadable: %v", f.Name, len(src.Readings), rows, src.Unreadable, src.Problems)
		}
	}
}

// A job of the second world goes through the whole program, with either set of
// columns, and its truth is found behind each row.
func TestSecondWorldIsMapped(t *testing.T) {
	for _, family := range []string{"hump", "branch", "jump-known", "rounded"} {
		j, err := SecondWorld.Make(family, 22)
		if err != nil {
			t.Fatal(err)
		}
		m, err := runMap(context.Background(), j, j.Layout)
		if err != nil {
			t.Error(err)
			continue
		}
		line, err := m.mainLine()
		if err != nil {
			t.Error(err)
			continue
		}
		for _, r := range line.Readings {
			at, ok := m.truth(r)
			if !ok || at.Pos.Dist(m.toJob(r.Pos)) > 0.5 {
				t.Errorf("%s: row %d lies %.2f m from what was simulated", family, r.Row, at.Pos.Dist(m.toJob(r.Pos)))
				break
			}
		}
	}
}

package export_test

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"loamline/export/kml"
	"loamline/export/page"
	"loamline/export/pdf"
	"loamline/export/tongue"
	"loamline/geo"
	"loamline/trace"
	"loamline/trace/intake"
	"loamline/trace/locate"
	"loamline/trace/tracetest"
	"loamline/trace/tracetest/cases"
	"loamline/trace/tracetest/otherworld"
)

// TestNoSentenceIsLeftInEnglish draws page, balloons and sheets in Spanish of the
// example, of all small cases and of a locate of each simulated family, and names every sentence that has no words.
func TestNoSentenceIsLeftInEnglish(t *testing.T) {
	missed := map[string][]string{}
	where := ""
	stop := tongue.Listen(func(s string) {
		if n := len(missed[s]); n == 0 || missed[s][n-1] != where {
			missed[s] = append(missed[s], where)
		}
	})
	defer stop()
	n := 0
	each := func(name string, s *trace.Sheet, printed bool) {
		n++
		where = name
		s.Job.Language = trace.Spanish
		for format, write := range map[string]func(io.Writer) error{
			"page": func(w io.Writer) error { return page.Write(w, s, page.Options{}) },
			"KML":  func(w io.Writer) error { return kml.Write(w, s) },
			"PDF":  func(w io.Writer) error { return pdf.Write(w, s, pdf.Options{Scale: 500}) },
		} {
			if format == "PDF" && !printed {
				continue
			}
			if err := write(io.Discard); err != nil {
				t.Errorf("%s, %s: %v", name, format, err)
			}
		}
	}
	units := []geo.Units{geo.Metric, geo.US}
	lantern := os.DirFS("../examples/lantern-row")
	job, err := lantern.Open("lantern-row.toml")
	if err != nil {
		t.Fatal(err)
	}
	toml, _ := io.ReadAll(job)
	csv, err := os.ReadFile("../examples/lantern-row/lantern-row.csv")
	if err != nil {
		t.Fatal(err)
	}
	each("example", built(t, "", toml, csv), true)
	for i, c := range cases.All() {
		if testing.Short() && i%5 != 0 {
			continue
		}
		if s := built(t, units[i%2], c.Job, c.Table); s != nil {
			each(c.Name, s, i%8 == 0)
		}
	}
	for _, world := range []struct {
		families []tracetest.Family
		make     func(string, uint64) (tracetest.Job, error)
	}{{tracetest.Families(), tracetest.Make}, {otherworld.Families(), otherworld.Make}} {
		for i, f := range world.families {
			if testing.Short() && i%4 != 0 {
				continue
			}
			j, err := world.make(f.Name, 31)
			if err != nil {
				t.Fatal(err)
			}
			if s := simulated(t, units[i%2], j); s != nil {
				each(f.Name, s, i%4 == 0)
			}
		}
	}
	t.Logf("%d maps", n)
	var all []string
	for s := range missed {
		all = append(all, s)
	}
	slices.Sort(all)
	for _, s := range all {
		t.Errorf("%q has no Spanish (%s): add it to export/tongue/es_*.go", s, strings.Join(missed[s][:min(2, len(missed[s]))], ", "))
	}
}

// built is the map of a table in units of one's choice, nil where it is refused.
func built(t *testing.T, u geo.Units, job []byte, tables ...[]byte) *trace.Sheet {
	t.Helper()
	opt := intake.LoadOptions{Name: "t", Version: "test", Job: trace.DefaultJob()}
	if job != nil {
		var err error
		if opt.Job, err = intake.ReadJobFile(bytes.NewReader(job), "job.toml"); err != nil {
			t.Fatal(err)
		}
		opt.References = references(t, &opt.Job)
	}
	if u != "" {
		opt.Job.Units = u
	}
	for _, table := range tables {
		opt.Tables = append(opt.Tables, intake.File{Name: "trace.csv", Size: int64(len(table)),
			Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(table)), nil }})
	}
	src, err := intake.Load(t.Context(), opt)
	if err != nil {
		return nil
	}
	s, err := locate.Build(t.Context(), src)
	if err != nil {
		return nil
	}
	return s
}

// references opens the layers of the example.
func references(t *testing.T, job *trace.Job) (out []intake.ReferenceFile) {
	for _, r := range job.References {
		path := filepath.Join("..", "examples", "lantern-row", r.File)
		if _, err := os.Stat(path); err != nil {
			continue
		}
		out = append(out, intake.ReferenceFile{File: intake.File{Name: r.File, Open: func() (io.ReadCloser, error) { return os.Open(path) }},
			Utility: r.Utility, CRS: r.CRS, Datum: r.Datum, Epoch: r.Epoch, Background: r.Role == trace.RoleBackground})
	}
	return out
}

// simulated is the map of a locate with known truth.
func simulated(t *testing.T, u geo.Units, j tracetest.Job) *trace.Sheet {
	t.Helper()
	tables, err := j.Tables(j.Layout)
	if err != nil {
		t.Fatal(err)
	}
	files, err := j.Files(j.Layout)
	if err != nil {
		t.Fatal(err)
	}
	var job []byte
	for _, f := range files {
		if f.Name == tracetest.JobFile {
			job = f.Bytes
		}
	}
	var texts [][]byte
	for _, f := range tables {
		texts = append(texts, f.Bytes)
	}
	return built(t, u, job, texts...)
}

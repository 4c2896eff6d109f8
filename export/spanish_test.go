package export_test

import (
	"bytes"
	"flag"
	"html"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"loamline.example/export/kml"
	"loamline.example/export/page"
	"loamline.example/export/pdf"
	"loamline.example/export/tongue"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/cases"
	"loamline.example/trace/tracetest/otherworld"
	"loamline.example/trace/tracetest/study"
)

var allFamilies = flag.Bool("families", false, "draw a locate of every simulated family in Spanish")

// The crew sheet of the example takes a page for each of its languages, on either small
// paper: who has one side before them has all of it.
func TestExampleCrewSheetIsAPageForEachLanguage(t *testing.T) {
	lantern := os.DirFS("../examples/lantern-row")
	toml, err := fs.ReadFile(lantern, "lantern-row.toml")
	if err != nil {
		t.Fatal(err)
	}
	csv, err := fs.ReadFile(lantern, "lantern-row.csv")
	if err != nil {
		t.Fatal(err)
	}
	s := built(t, "", toml, csv)
	s.Job.Language = trace.EnglishAndSpanish
	for _, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
		var b bytes.Buffer
		if err := pdf.Write(&b, s, pdf.Options{Paper: paper, Sheets: trace.SheetsCrew}); err != nil {
			t.Fatal(err)
		}
		text := printed(t, b.Bytes())
		if text == "" {
			t.Skip("no pdftotext")
		}
		for said, times := range map[string]int{"Hoja de cuadrilla, hoja": 1, "Crew sheet, sheet": 1, "NO USE MÁQUINA A MENOS DE": 1, "NO MACHINE WITHIN:": 1} {
			if n := strings.Count(text, said); n != times {
				t.Errorf("%s: %q stands %d times, not %d", paper, said, n, times)
			}
		}
	}
}

// TestNoSentenceIsLeftInEnglish draws page, balloons and sheets in Spanish of the
// example, of small cases (every other one of each mechanism, all in a full study) and of
// locates of simulated families, and names every sentence that has no words. What they
// then show has no English word left.
func TestNoSentenceIsLeftInEnglish(t *testing.T) {
	t.Parallel()
	missed := map[string][]string{}
	where := ""
	stop := tongue.Listen(func(s string) {
		if n := len(missed[s]); n == 0 || missed[s][n-1] != where {
			missed[s] = append(missed[s], where)
		}
	})
	defer stop()
	n := 0
	each := func(name string, s *trace.Sheet, onPaper bool) {
		n++
		where = name
		s.Job.Language = trace.Spanish
		for format, write := range map[string]func(io.Writer) error{
			"page": func(w io.Writer) error { return page.Write(w, s, page.Options{}) },
			"KML":  func(w io.Writer) error { return kml.Write(w, s) },
			"PDF":  func(w io.Writer) error { return pdf.Write(w, s, pdf.Options{Scale: 500}) },
		} {
			if format == "PDF" && !onPaper {
				continue
			}
			var b bytes.Buffer
			if err := write(&b); err != nil {
				t.Errorf("%s, %s: %v", name, format, err)
			}
			text := b.String()
			if format == "PDF" {
				if text = printed(t, b.Bytes()); s.Job.Area != "" {
					continue // the job's own words are broken over lines there
				}
			}
			for _, l := range englishIn(s, text) {
				t.Errorf("%s, %s: %q has English in it", name, format, l)
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
	of := map[string]int{} // by the mechanism
	for i, c := range cases.All() {
		of[c.Mechanism()]++
		if testing.Short() && i%5 != 0 {
			continue
		}
		if of[c.Mechanism()]%24 != 1 && !study.Full() {
			continue
		}
		if s := built(t, units[i%2], c.Job, c.Table); s != nil {
			each(c.Name, s, i%12 == 0)
		}
	}
	for _, world := range []struct {
		families []tracetest.Family
		make     func(string, uint64) (tracetest.Job, error)
	}{{tracetest.Families(), tracetest.Make}, {otherworld.Families(), otherworld.Make}} {
		for i, f := range world.families {
			if !*allFamilies && i%24 != 0 { // a few: the small cases have each mechanism
				continue
			}
			j, err := world.make(f.Name, 31)
			if err != nil {
				t.Fatal(err)
			}
			if s := simulated(t, units[i/2%2], j); s != nil {
				each(f.Name, s, i%8 == 0)
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

// ofTheMachine is what stays English: scripts and styles, properties, schemas.
var ofTheMachine = [][2]string{{"<script", "</script>"}, {"<style", "</style>"}, {"<ExtendedData>", "</ExtendedData>"}, {"<Schema ", "</Schema>"},
	{"<styleUrl>", "</styleUrl>"}, {"<Style", "</Style>"}, {"<coordinates>", "</coordinates>"}, {"<altitudeMode>", "</altitudeMode>"}}

// english are words that no Spanish sentence has.
var english = map[string]bool{"the": true, "of": true, "and": true, "was": true, "were": true, "with": true, "from": true, "here": true, "this": true,
	"which": true, "not": true, "line": true, "lines": true, "reading": true, "readings": true, "depth": true, "set": true, "aside": true}

// englishIn are the texts of a page or of balloons with an English word in them, the
// job's own texts taken out: it knows nothing of the catalogue.
func englishIn(s *trace.Sheet, file string) (out []string) {
	for _, cut := range ofTheMachine {
		var b strings.Builder
		for {
			before, rest, _ := strings.Cut(file, cut[0])
			b.WriteString(before + "\n")
			var found bool
			if _, file, found = strings.Cut(rest, cut[1]); !found {
				break
			}
		}
		file = b.String()
	}
	text := html.UnescapeString(untagged(html.UnescapeString(untagged(file))))
	for _, own := range []string{s.Job.Area, s.Job.Tolerance.Rule, s.Job.Ticket} {
		if own != "" {
			text = strings.ReplaceAll(text, own, "")
		}
	}
	for _, l := range strings.Split(text, "\n") {
		if strings.HasPrefix(l, "Nota: ") || strings.HasPrefix(l, "trace.csv:") {
			continue // the locator's words; where a problem is, by its column
		}
		if slices.ContainsFunc(strings.FieldsFunc(l, func(r rune) bool { return !unicode.IsLetter(r) }), func(w string) bool { return english[strings.ToLower(w)] }) {
			out = append(out, l)
		}
	}
	return out
}

// untagged has a line's end for each tag.
func untagged(s string) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(s, "<")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		b.WriteByte('\n')
		_, s, _ = strings.Cut(rest, ">")
	}
}

// printed is what another reader finds written in a PDF, nothing where there is none.
func printed(t *testing.T, file []byte) string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		return ""
	}
	c := exec.Command(tool, "-", "-")
	c.Stdin = bytes.NewReader(file)
	out, err := c.Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
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

package export_test

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/peterstace/simplefeatures/geom"

	"loamline.example/export"
	"loamline.example/export/internal/check"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
)

// mostRows bounds what one input costs, for one that takes ten seconds ends the
// fuzzing; what many rows do has benchmarks.
const mostRows = 40

// FuzzWholeRun takes a table through the whole program: what was read is put on
// the map or told, every format is written, and other people's readers (the XML
// and JSON of Go, simplefeatures' port of JTS, GDAL for one in 32 where it is
// installed) find nothing wrong with it. The text may be anything; besides, cells
// are exchanged by seed for what makes numbers awkward, since bytes changed at
// random seldom leave a number.
func FuzzWholeRun(f *testing.F) {
	for i, name := range seedTables(f) {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text, uint64(i), byte(i))
	}
	f.Fuzz(func(t *testing.T, text []byte, seed uint64, edits byte) {
		text = edited(text, seed, int(edits%32))
		sheet, err := sheetOf(text)
		if err != nil {
			if told := (*trace.Problem)(nil); errors.As(err, &told) && (told.Cause == "" || told.Hint == "") {
				t.Errorf("%v says not what to do", err)
			}
			return
		}
		c := sheet.Counts
		if c.Rows != c.Used+c.SetAside+c.Check+c.Exposed+c.Unreadable {
			t.Errorf("the ledger does not add up: %+v", c)
		}
		dir := t.TempDir()
		if _, err := export.WriteJob(context.Background(), sheet, dir, further(seed), export.JobOptions{}); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		readBack(t, dir, seed)
		if t.Failed() {
			t.Logf("the table:\n%s", text)
		}
	})
}

func seedTables(f *testing.F) []string {
	var all []string
	for _, pattern := range []string{"../trace/intake/testdata/tables/*.csv", "../examples/lantern-row/lantern-row.csv", "../testdata/cases/*/trace.csv"} {
		names, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		all = append(all, names...)
	}
	if len(all) < 4 {
		f.Fatal("too few seeds: ", all)
	}
	return all
}

// awkward is what stands in cells: values at the limits of what is possible and
// beyond, in every column.
var awkward = []string{"", "0", "-0", "nan", "1e308", "-1e308", "1e-308", "90", "180", "-180", "89.9999999", "179.9999999", "0.0000001", "99999", "-1", "4", "5", "peak", "null", "\"a\nb\"", "]]>", "<&>", "=1+1", "\u2028", "2026-05-12T10:00:00Z", "1", "0.3"}

// edited exchanges cells, copies cells of other rows, leaves rows out and repeats
// them.
func edited(text []byte, seed uint64, edits int) []byte {
	lines := strings.SplitAfter(string(text), "\n")
	if len(lines) > mostRows {
		lines = lines[:mostRows]
	}
	r := rand.New(rand.NewPCG(seed, 7))
	for range edits {
		i := r.IntN(len(lines))
		cells := strings.Split(strings.TrimRight(lines[i], "\r\n"), ",")
		at := r.IntN(len(cells))
		switch r.IntN(6) {
		case 0:
			lines[i] = ""
			continue
		case 1:
			lines[i] += lines[i]
			continue
		case 2, 3:
			other := strings.Split(strings.TrimRight(lines[r.IntN(len(lines))], "\r\n"), ",")
			cells[at] = other[min(at, len(other)-1)]
		default:
			cells[at] = awkward[r.IntN(len(awkward))]
		}
		lines[i] = strings.Join(cells, ",") + "\n"
	}
	return []byte(strings.Join(lines, ""))
}

// sheetOf reads the table and builds the job's sheet.
func sheetOf(text []byte) (*trace.Sheet, error) {
	ctx := context.Background()
	table := intake.File{Name: "walk.csv", Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(text)), nil }}
	src, err := intake.Load(ctx, intake.LoadOptions{Name: "walk", Tables: []intake.File{table}})
	if err != nil {
		return nil, err
	}
	return locate.Build(ctx, src)
}

// further is the formats that the seed's bits choose, which is half of them; the
// printed sheets, which take as long as all the others together, for one in 64.
func further(seed uint64) []string {
	var out []string
	for i, name := range export.FormatNames() {
		if name != "pdf" && seed>>(i%8)&1 == 1 || seed%64 == 63 {
			out = append(out, name)
		}
	}
	return out
}

func readBack(t *testing.T, dir string, seed uint64) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		switch filepath.Ext(path) {
		case ".geojson":
			if v := check.Violations(text); len(v) > 0 {
				t.Errorf("RFC 7946: %q", v)
			}
			validGeometries(t, text)
		case ".kml", ".gpx", ".xml":
			wellFormed(t, filepath.Base(path), text)
		case ".csv":
			check.CSVRows(t, withoutComments(text))
		case ".html":
			if !utf8.Valid(text) || bytes.ContainsRune(text, 0) {
				t.Error("the page holds what browsers do not read")
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seed%32 == 31 {
		readByGDAL(t, dir)
	}
}

func validGeometries(t *testing.T, text []byte) {
	t.Helper()
	var all struct {
		Features []struct {
			Geometry   json.RawMessage
			Properties struct{ Role, Line string }
		}
	}
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	for _, f := range all.Features {
		if len(f.Geometry) == 0 || string(f.Geometry) == "null" {
			continue
		}
		if _, err := geom.UnmarshalGeoJSON(f.Geometry); err != nil {
			t.Errorf("%s of %q: %v", f.Properties.Role, f.Properties.Line, err)
		}
	}
}

func wellFormed(t *testing.T, name string, text []byte) {
	t.Helper()
	for dec := xml.NewDecoder(bytes.NewReader(text)); ; {
		if _, err := dec.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
	}
}

func withoutComments(text []byte) []byte {
	for bytes.HasPrefix(text, []byte("#")) {
		_, text, _ = bytes.Cut(text, []byte("\n"))
	}
	return text
}

// readByGDAL opens map and GeoPackage with GDAL and GEOS.
func readByGDAL(t *testing.T, dir string) {
	t.Helper()
	check.NeedGDAL(t)
	rows := check.GDAL(t, filepath.Join(dir, "walk.geojson"), "SELECT COALESCE(MIN(ST_IsValid(geometry)), 1) AS v FROM walk WHERE geometry IS NOT NULL")
	if v := check.GDALNumber(t, rows, "v"); v != 1 {
		t.Error("GEOS finds an invalid geometry")
	}
	if packed := filepath.Join(dir, "walk.gpkg"); exists(packed) {
		check.GDALRun(t, packed, "-al")
	}
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

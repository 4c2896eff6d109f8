package siteplan

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/tracetest/study"
)

// A page is drawn so that a pixel is 4 cm on the ground, in 100 to 400 dots per inch of 72
// points (judgement): fine and coarse plans, and the scales between.
func TestHowFinelyAPageIsDrawn(t *testing.T) {
	frame, err := geo.NewFrame("EPSG:26919", "", 2026)
	if err != nil {
		t.Fatal(err)
	}
	for pointM, dpi := range map[float64]float64{0.02: 100, 0.04 * 200 / 72: 200, 1: 400} {
		p := &page{width: 100, height: 100}
		paper := geo.Affine{A: pointM, C: 460000, E: -pointM, F: 4880000}
		if got := 72 * p.scale(paper, frame); math.Abs(got-dpi) > 0.005*dpi {
			t.Errorf("a point of %.3f m: %.1f dots per inch, want %g", pointM, got, dpi)
		}
	}
}

// gdalPDF is a picture with a mark that GDAL puts into a PDF.
func gdalPDF(t *testing.T, col, row int, epsg string, w World, options string) string {
	t.Helper()
	dir := t.TempDir()
	for file, b := range map[string][]byte{"plan.png": pngOf(t, dot(480, 360, col, row)), "plan.pgw": w.Text} {
		if err := os.WriteFile(filepath.Join(dir, file), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out := filepath.Join(dir, "plan.pdf")
	args := append([]string{"-of", "PDF", "-a_srs", epsg}, strings.Fields(options)...)
	gdalTranslate(t, append(args, filepath.Join(dir, "plan.png"), out)...)
	return out
}

func fileAt(t *testing.T, path string) File {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return File{Name: filepath.Base(path), Bytes: b}
}

func noSystem() trace.UnderlaySetup {
	s := setup()
	s.CRS = ""
	return s
}

// Geospatial PDFs made by GDAL, whose ink lies where GDAL itself, reading the PDF
// again, says that the page's pixel lies: flat, turned, with a margin that lies nowhere,
// with several dots per inch, in degrees and in survey feet.
func TestPDFsThatGDALMade(t *testing.T) {
	const col, row = 311, 222
	for name, c := range map[string]struct {
		epsg, options string
		world         World
		left, top     float64 // margins, in pixels
	}{
		"flat":        {utm, "", worldAt(0.04, 0, -10, 8), 0, 0},
		"turned":      {utm, "", worldAt(0.04, 33, -10, 8), 0, 0},
		"margins":     {utm, "-co LEFT_MARGIN=40 -co TOP_MARGIN=25 -co RIGHT_MARGIN=9 -co BOTTOM_MARGIN=60", worldAt(0.04, 0, -10, 8), 40, 25},
		"200 an inch": {utm, "-co DPI=200", worldAt(0.04, 0, -10, 8), 0, 0},
		"in degrees":  {"EPSG:4326", "", World{"plan.pgw", fmt.Appendf(nil, "0.0000005\n0\n0\n-0.0000004\n%.9f\n%.9f\n", here.LonDeg-0.00012, here.LatDeg+0.00007)}, 0, 0},
		"survey feet": {newYork, "", World{"plan.pgw", []byte("0.25\n0\n0\n-0.25\n984250\n200000\n")}, 0, 0},
	} {
		if !study.Full() && (name == "flat" || name == "200 an inch") {
			continue // others are so beside what else they are
		}
		pdf := gdalPDF(t, col, row, c.epsg, c.world, c.options)
		g, err := Read(t.Context(), fileAt(t, pdf), noSystem(), 2026)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if g.Frame.CRS.ID() != c.epsg {
			t.Errorf("%s: read as %s", name, g.Frame.CRS.ID())
		}
		// GDAL, at the resolution that it takes for the page, tells where its pixel lies.
		x, y := gdalPlace(t, pdf, "", col+0.5+c.left, row+0.5+c.top)
		ink := redIn(t, g.Picture)
		got, pixel := g.Figures.Apply(ink.X, ink.Y), math.Sqrt(math.Abs(g.Figures.Det()))
		near := 0.01 // metres; in degrees and feet a quarter of a pixel
		if c.epsg != utm {
			near = pixel / 4
		}
		if off := got.Dist(geo.XY{X: x, Y: y}); off > near {
			t.Errorf("%s: the ink at %.6f, %.6f, by GDAL at %.6f, %.6f: %.4f apart", name, got.X, got.Y, x, y, off)
		}
	}
}

// A page that is shown turned, has another origin or a cut-off margin, lies where it
// lay.
func TestPagesThatAreTurnedAndCut(t *testing.T) {
	const col, row = 311, 222
	plain := fileAt(t, gdalPDF(t, col, row, utm, worldAt(0.04, 0, -10, 8), ""))
	place := func(f File) (where geo.XY, pixelM float64) {
		g, err := Read(t.Context(), f, noSystem(), 2026)
		if err != nil {
			t.Fatal(err)
		}
		ink := redIn(t, g.Picture)
		return g.Figures.Apply(ink.X, ink.Y), math.Sqrt(math.Abs(g.Figures.Det()))
	}
	want, _ := place(plain)
	for _, change := range []string{"/Rotate 90", "/Rotate 180", "/Rotate -90", "/CropBox [ 100 40 400 300 ]", "/Rotate 270 /CropBox [ 100 40 400 300 ]", "/UserUnit 2"} {
		// The mark is in a picture of its own, whose edges the renderer brings to whole pixels.
		if got, pixelM := place(changedPage(t, plain, change)); got.Dist(want) > 0.01+pixelM/2 {
			t.Errorf("%s: the ink lies %.4f m off, with pixels of %.4f m", change, got.Dist(want), pixelM)
		}
	}
}

// changedPage adds to the page's dictionary, in a new version of the page behind the
// file's end (ISO 32000-2, 7.5.6).
func changedPage(t *testing.T, f File, more string) File {
	t.Helper()
	const head = "3 0 obj\n"
	from := bytes.Index(f.Bytes, []byte(head))
	to := bytes.Index(f.Bytes[from:], []byte("endobj"))
	was := bytes.LastIndex(f.Bytes, []byte("startxref\n"))
	if from < 0 || to < 0 || was < 0 {
		t.Fatal("the page is not where it was")
	}
	page := strings.Replace(string(f.Bytes[from:from+to]), "<<", "<< "+more, 1)
	if strings.HasPrefix(more, "/UserUnit") {
		page = strings.Replace(page, "/UserUnit 1 ", "", 1)
	}
	at := len(f.Bytes)
	var prev int
	if _, err := fmt.Sscan(string(f.Bytes[was+len("startxref\n"):]), &prev); err != nil {
		t.Fatal(err)
	}
	out := append(bytes.Clone(f.Bytes), page+"endobj\n"...)
	table := len(out)
	out = fmt.Appendf(out, "xref\n3 1\n%010d 00000 n \ntrailer\n<< /Root 2 0 R /Size 13 /Prev %d >>\nstartxref\n%d\n%%%%EOF\n", at, prev, table)
	return File{Name: f.Name, Bytes: out, Worlds: f.Worlds}
}

// A world file places a PDF's points with dpi = 72, and with another number the
// pixels of a picture of so many dots per inch.
func TestPDFsWithAWorldFile(t *testing.T) {
	const col, row = 311, 222
	f := fileAt(t, gdalPDF(t, col, row, utm, worldAt(0.04, 0, -10, 8), "-co GEO_ENCODING=NONE"))
	c, _ := geo.LookupCRS(utm)
	e, n, _ := c.Project(here)
	want := geo.XY{X: e - 10 + 0.04*col, Y: n + 8 - 0.04*row}
	for dpi, world := range map[float64]World{
		72:  worldAt(0.04, 0, -10, 8),
		288: worldAt(0.01, 0, -10-0.015, 8+0.015), // the first pixel's centre is nearer to the corner
	} {
		s := setup()
		s.DPI = dpi
		f.Worlds = []World{world}
		g, err := Read(t.Context(), f, s, 2026)
		if err != nil {
			t.Fatal(err)
		}
		ink := redIn(t, g.Picture)
		if off := g.Figures.Apply(ink.X, ink.Y).Dist(want); off > 0.01 {
			t.Errorf("%g dots per inch: the ink lies %.4f m off", dpi, off)
		}
	}
}

func TestSamePDFSamePicture(t *testing.T) {
	f := fileAt(t, gdalPDF(t, 100, 100, utm, worldAt(0.04, 9, -10, 8), ""))
	a, b := mustPlace(t, f, noSystem(), geo.XY{}), mustPlace(t, f, noSystem(), geo.XY{})
	if !bytes.Equal(a.Picture, b.Picture) || a.Ground != b.Ground {
		t.Error("the same PDF comes out differently")
	}
}

// What is refused of a PDF, and what is said of it.
func TestPDFsThatAreRefused(t *testing.T) {
	world := worldAt(0.04, 0, -10, 8)
	placed := fileAt(t, gdalPDF(t, 9, 9, utm, world, ""))
	bare := fileAt(t, gdalPDF(t, 9, 9, utm, world, "-co GEO_ENCODING=NONE"))
	with := func(f File, worlds ...World) File { f.Worlds = worlds; return f }
	swap := func(f File, old, new string) File {
		if len(old) != len(new) || !bytes.Contains(f.Bytes, []byte(old)) {
			t.Fatalf("no %q to change", old)
		}
		return File{Name: f.Name, Bytes: bytes.Replace(f.Bytes, []byte(old), []byte(new), 1)}
	}
	for name, c := range map[string]struct {
		f    File
		s    trace.UnderlaySetup
		want string
	}{
		"no place":         {bare, setup(), "nothing says where on the ground its page 1 lies"},
		"no dots":          {with(bare, world), setup(), "nothing says how large the pixels are that it speaks of"},
		"both, apart":      {with(placed, worldAt(0.04, 0, -10, 8.4)), trace.UnderlaySetup{DPI: 72}, "and its world file plan.pgw place it differently, by 10 points"},
		"another system":   {placed, trace.UnderlaySetup{CRS: "EPSG:32629"}, "the job says that it is in EPSG:32629, and its own keys say EPSG:32625"},
		"no such page":     {placed, trace.UnderlaySetup{Page: 2}, "it has no page 2"},
		"cut short":        {File{"plan.pdf", placed.Bytes[:len(placed.Bytes)/2], nil}, setup(), "it has no table of objects; it may have been cut short"},
		"no points":        {swap(placed, "/GPTS", "/GPTX"), noSystem(), "placed by 0 figures for 4 corners"},
		"table elsewhere":  {swap(placed, "\n0000000015 ", "\n0000000016 "), noSystem(), "where on the ground"},
		"not degrees":      {swap(placed, "/GPTS [ 44.", "/GPTS [ 94."), noSystem(), "which is none"},
		"no flat picture":  {swap(placed, "/GPTS [ 44.1", "/GPTS [ 44.2"), noSystem(), "make no flat picture"},
		"protected":        {File{"plan.pdf", bytes.Replace(placed.Bytes, []byte("/Size 13"), []byte("/Encrypt << >>"), 1), nil}, noSystem(), "protected"},
		"picture with dpi": {File{"plan.png", pngOf(t, dot(9, 9, 4, 4)), []World{world}}, trace.UnderlaySetup{CRS: utm, DPI: 72}, "can be stated of a PDF alone"},
	} {
		_, err := Read(t.Context(), c.f, c.s, 2026)
		var told *trace.Problem
		if !errors.As(err, &told) || told.Hint == "" || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

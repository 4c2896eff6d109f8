package export

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/export/internal/sample"
	"loamline/geo"
	"loamline/trace"
)

func TestPDFSameSheetSameBytes(t *testing.T) {
	a, b := pdfBytes(t, sample.Sheet(), PDFOptions{}), pdfBytes(t, sample.Sheet(), PDFOptions{})
	if !bytes.Equal(a, b) {
		t.Error("the same sheet gave different bytes")
	}
}

// edgeSheets are jobs at the rim of what happens.
func edgeSheets() map[string]*trace.Sheet {
	few := testSheet(geo.Metric, straight(3, 0.2, 2))
	trench := testSheet(geo.US, straight(60, 0.8, 31), straight(60, 0.8, 31), straight(60, 0.8, 31))
	for i := range trench.Lines {
		for k := range trench.Lines[i].Centerline.Parts[0].Vertices {
			trench.Lines[i].Centerline.Parts[0].Vertices[k].Pos.X += 0.4 * float64(i)
		}
	}
	bare := testSheet(geo.Metric, straight(10, 0, 6))
	bare.Job.Ticket, bare.Job.Date, bare.Job.ValidUntil, bare.Job.Area, bare.Job.Locator = "", "", "", "", ""
	bare.Frame, bare.Inputs, bare.Cautions, bare.Name, bare.Version = "", nil, nil, "", ""
	hostile := testSheet(geo.Metric, straight(10, 0, 6))
	hostile.Lines[0].Setup.Name = "W \U0001F6B0\u202e\x00水道\n1"
	hostile.Lines[0].Findings = trace.AllFindings()
	nan := testSheet(geo.Metric, straight(10, 0, 6))
	for k := range nan.Lines[0].Centerline.Parts[0].Vertices {
		v := &nan.Lines[0].Centerline.Parts[0].Vertices[k]
		v.DepthM, v.Depth95M, v.Horizontal95M = trace.Unknown, trace.Unknown, trace.Unknown
	}
	nan.Lines[0].Tolerance.HalfWidthM = trace.Unknown
	return map[string]*trace.Sheet{
		"few readings": few, "two kilometres": testSheet(geo.Metric, winding(2000)), "one trench": trench,
		"closed loop": testSheet(geo.Metric, loop(14)), "nothing usable": nothingUsable(), "long names": longNames(),
		"nothing stated": bare, "hostile letters": hostile, "no figures": nan, "empty": {Plane: geo.NewPlane(geo.LonLat{})},
		"point": testSheet(geo.Metric, []geo.XY{{X: 1, Y: 1}, {X: 1, Y: 1}}), "hill": hill(),
	}
}

// hill is a line under sloping ground of known elevation.
func hill() *trace.Sheet {
	s := testSheet(geo.Metric, straight(80, 2.6, 41))
	for k := range s.Lines[0].Centerline.Parts[0].Vertices {
		v := &s.Lines[0].Centerline.Parts[0].Vertices[k]
		v.ElevM = 212 + 0.08*v.StationM + 0.4*math.Sin(v.StationM/9)
		v.DepthM = 1.2 + 0.3*math.Sin(v.StationM/11)
	}
	return s
}

func TestPDFEdgeCasesStayInTheFrame(t *testing.T) {
	for name, s := range edgeSheets() {
		for _, size := range []Paper{"", A4, Letter} {
			b := pdfBytes(t, s, PDFOptions{Paper: size})
			lay := layoutOf(size)
			if size == "" {
				set, err := newSheetSet(s, PDFOptions{})
				if err != nil {
					t.Fatal(err)
				}
				lay = set.lay
			}
			for no, page := range pdfWords(t, pdfFile(t, b)) {
				for _, w := range page {
					f := lay.frame
					if w.x0 < f.X || w.x1 > f.Right()+0.1 || w.y0 < f.Y-0.3 || w.y1 > f.Bottom()+0.3 {
						t.Errorf("%s, %q, sheet %d: %q at %.1f,%.1f to %.1f,%.1f mm lies outside the frame", name, size, no+1, w.text, w.x0, w.y0, w.x1, w.y1)
					}
				}
			}
		}
	}
}

func TestPDFNothingUsableSaysSo(t *testing.T) {
	text := poppler(t, "pdftotext", pdfFile(t, pdfBytes(t, nothingUsable(), PDFOptions{})), "-")
	text = strings.Join(strings.Fields(text), " ")
	for _, want := range []string{"NO LINE COULD BE DRAWN", "12 rows in: 0 used, 11 set aside", "11 × dead reckoning: no position fix", "a.csv:4:3"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
}

func TestPDFWordsAndFonts(t *testing.T) {
	file := pdfFile(t, pdfBytes(t, sample.Sheet(), PDFOptions{}))
	for _, line := range strings.Split(strings.TrimSpace(poppler(t, "pdffonts", file)), "\n")[2:] {
		f := strings.Fields(line)
		if n := len(f); n < 8 || f[n-5] != "yes" || f[n-3] != "yes" {
			t.Errorf("a font is not embedded with its Unicode map: %s", line)
		}
	}
	info := poppler(t, "pdfinfo", file)
	for _, want := range []string{"lantern-row, ticket T-2041", "loamline 0.0.0-sample", "2026", "1190.55 x 841.89 pts (A3)"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo does not tell %q", want)
		}
	}
	text := strings.Join(strings.Fields(poppler(t, "pdftotext", file, "-")), " ")
	for _, want := range []string{
		"T-2041", "2026-05-12", "2026-06-11", "R. Example", "Lantern Row, between Mill Lane and the pond", "ITRF2014",
		"common best practice; local law decides", "2c26b46b68ff", "CAUTION", "CHECK BEFORE DIGGING", "LEGEND", "KEY PLAN",
		"Bleed-over strongly suspected", "line likely 0.08 m ± 0.05 left of the mark", "NOT TRACED", "Depth to centre; estimates; expose to verify.",
		"exaggerated 8 times", "Plan 1:200", `C <7> & "spare"`, "record: main 12 (W)", "read 1.16 m ± 0.12", "1 unreadable", "match line 46.0 m, see sheet 3",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheets do not say %q", want)
		}
	}
}

// Every sheet carries the cautions, its number and the title block.
func TestPDFEverySheetCarriesTheCautions(t *testing.T) {
	s := testSheet(geo.Metric, winding(2000))
	pages := strings.Split(poppler(t, "pdftotext", "-layout", pdfFile(t, pdfBytes(t, s, PDFOptions{})), "-"), "\f")
	pages = pages[:len(pages)-1]
	if len(pages) < 10 {
		t.Errorf("two kilometres on %d sheets", len(pages))
	}
	for i, p := range pages {
		for _, want := range []string{"Positions are approximate.", "Expose to verify.", "T-1", fmt.Sprintf("%d of %d", i+1, len(pages))} {
			if !strings.Contains(p, want) {
				t.Errorf("sheet %d lacks %q", i+1, want)
			}
		}
	}
}

// The words of an ordinary job do not run over each other.
func TestPDFWordsDoNotOverlap(t *testing.T) {
	for _, size := range []Paper{A4, A3} {
		for no, page := range pdfWords(t, pdfFile(t, pdfBytes(t, sample.Sheet(), PDFOptions{Paper: size}))) {
			for i, a := range page {
				for _, b := range page[i+1:] {
					w, h := math.Min(a.x1, b.x1)-math.Max(a.x0, b.x0), math.Min(a.y1, b.y1)-math.Max(a.y0, b.y0)
					small := math.Min((a.x1-a.x0)*(a.y1-a.y0), (b.x1-b.x0)*(b.y1-b.y0))
					if w > 0 && h > 0 && w*h > 0.25*small {
						t.Errorf("%s, sheet %d: %q runs over %q at %.0f,%.0f mm", size, no+1, a.text, b.text, a.x0, a.y0)
					}
				}
			}
		}
	}
}

// blueSpan is the extent along x of the blue line left of right, in the rows
// from y0 to y1.
func blueSpan(img image.Image, right, y0, y1 int) (x0, x1 int) {
	x0, x1 = math.MaxInt, 0
	for y := y0; y < y1; y++ {
		for x := img.Bounds().Min.X; x < right; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			if b > 0x8000 && r < 0x4000 && g < 0x8000 {
				x0, x1 = min(x0, x), max(x1, x)
			}
		}
	}
	return x0, x1
}

// A line of known length is measured on the rendered sheet, in plan and in
// profile: 30 m at 1:200 are 150 mm, 100 ft at 20 ft to the inch are 5 in.
func TestPDFIsTrueToScale(t *testing.T) {
	const dpi = 300
	cases := []struct {
		name    string
		u       geo.Units
		paper   Paper
		scale   float64
		lengthM float64
		wantMM  float64
	}{
		{"1:200 on A4", geo.Metric, A4, 200, 30, 150},
		{"1:250 on A3", geo.Metric, A3, 250, 62.5, 250},
		{"1 in = 20 ft on Letter", geo.US, Letter, 240, 100 * geo.FootM, 127},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			file := pdfFile(t, pdfBytes(t, testSheet(c.u, straight(c.lengthM, 0, 2)), PDFOptions{Paper: c.paper, Scale: c.scale}))
			img := render(t, file, 1, dpi)
			lay := layoutOf(c.paper)
			split := int((lay.drawing.Bottom() - lay.profileMM) / 25.4 * dpi)
			for part, rows := range map[string][2]int{"plan": {0, split}, "profile": {split, img.Bounds().Max.Y}} {
				x0, x1 := blueSpan(img, int(lay.drawing.Right()/25.4*dpi), rows[0], rows[1])
				if got := float64(x1-x0+1) / dpi * 25.4; math.Abs(got/c.wantMM-1) > 0.005 {
					t.Errorf("%s: %.2f mm, want %.2f", part, got, c.wantMM)
				}
			}
		})
	}
}

// golden pages: what a person looked at and accepted.
var goldenPages = []struct {
	name string
	job  func() *trace.Sheet
	opt  PDFOptions
	page int
}{
	{"sample-overview", sample.Sheet, PDFOptions{}, 1},
	{"sample-strip", sample.Sheet, PDFOptions{}, 2},
	{"sample-notes-a4", sample.Sheet, PDFOptions{Paper: A4}, 7},
	{"sample-us-letter", func() *trace.Sheet { s := sample.Sheet(); s.Job.Units = geo.US; return s }, PDFOptions{Paper: Letter}, 2},
	{"hill", hill, PDFOptions{}, 2},
	{"nothing-usable", nothingUsable, PDFOptions{}, 1},
}

func TestPDFGoldenPages(t *testing.T) {
	for _, g := range goldenPages {
		t.Run(g.name, func(t *testing.T) {
			got := render(t, pdfFile(t, pdfBytes(t, g.job(), g.opt)), g.page, 64)
			path := filepath.Join("testdata", "pdf", g.name+".png")
			if *update {
				var b bytes.Buffer
				if err := png.Encode(&b, paletted(got)); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			want, err := png.Decode(f)
			if err != nil {
				t.Fatal(err)
			}
			if d := difference(got, want); d > 0.004 {
				t.Errorf("%.2f %% of the page differs from %s: look at both, then run with -update", 100*d, path)
			}
		})
	}
}

// paletted keeps golden files small: 16 greys.
func paletted(img image.Image) image.Image {
	out := image.NewGray(img.Bounds())
	for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
		for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
			out.Pix[out.PixOffset(x, y)] = uint8(gray(img.At(x, y)) / 17 * 17)
		}
	}
	return out
}

// difference is the share of pixels that differ clearly in grey.
func difference(a, b image.Image) float64 {
	if a.Bounds().Size() != b.Bounds().Size() {
		return 1
	}
	n := 0
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y++ {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x++ {
			if d := gray(a.At(x, y)) - gray(b.At(x, y)); d > 64 || d < -64 {
				n++
			}
		}
	}
	return float64(n) / float64(a.Bounds().Dx()*a.Bounds().Dy())
}

func TestPDFRefusesWhatItCannotDraw(t *testing.T) {
	var b bytes.Buffer
	if PDF(&b, nil, PDFOptions{}) == nil {
		t.Error("no sheet was printed without an error")
	}
	if PDF(&b, sample.Sheet(), PDFOptions{Scale: -5}) == nil {
		t.Error("a negative scale was printed")
	}
	if PDF(&b, sample.Sheet(), PDFOptions{Paper: "napkin"}) == nil {
		t.Error("an unknown paper was printed")
	}
	if b.Len() > 0 {
		t.Error("something was written all the same")
	}
}

// Every sign has words; every sign that a sheet uses stands in its legend.
func TestPDFLegendKnowsEverySign(t *testing.T) {
	for s := signTolerance; s < signEnd; s++ {
		if signWords[s] == "" {
			t.Errorf("sign %d has no words", s)
		}
	}
	d := newDrafter(&sheetSet{lay: layoutOf(A3)})
	d.c = paper.New(420, 297, paper.Info{})
	d.used = map[sign]bool{}
	for i := range styles {
		d.used[signLine+sign(i)] = true
	}
	for s := signTolerance; s < signEnd; s++ {
		d.used[s] = true
	}
	rows, _ := d.legendRows(80)
	if want := len(styles) + int(signEnd-signTolerance); len(rows) != want {
		t.Errorf("the legend has %d rows, want %d", len(rows), want)
	}
	d.c.Page("legend")
	d.legend(plan.Rect{X: 10, Y: 10, W: 80, H: 270})
}

func BenchmarkPDFTwoKilometres(b *testing.B) {
	path := make([]geo.XY, 20000)
	for i, q := range winding(2000) {
		for k := range 50 {
			if j := i*50 + k; j < len(path) {
				path[j] = q.Add(geo.XY{X: 0.02 * float64(k), Y: 0.02 * float64(k)})
			}
		}
	}
	s := testSheet(geo.Metric, path)
	b.ReportAllocs()
	for b.Loop() {
		var buf bytes.Buffer
		if err := PDF(&buf, s, PDFOptions{}); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(buf.Len()), "bytes")
	}
}

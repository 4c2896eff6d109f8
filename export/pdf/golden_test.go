package pdf

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
)

// golden pages: what a person looked at and accepted.
var goldenPages = []struct {
	name string
	job  func() *trace.Sheet
	opt  Options
	page int
}{
	{"sample-overview", sample.Sheet, full(""), 1},
	{"sample-strip", sample.Sheet, full(""), 2},
	{"sample-notes-a4", sample.Sheet, full(A4), 7},
	{"sample-us-letter", func() *trace.Sheet { s := sample.Sheet(); s.Job.Units = geo.US; return s }, full(Letter), 2},
	{"crew-a4", sample.Sheet, Options{}, 1},
	{"crew-us-letter", func() *trace.Sheet { return crewJobs()["sample in feet"] }, Options{}, 1},
	{"stakeout-a4", sample.Sheet, Options{}, 2},
	{"hill", hill, full(""), 2},
	{"nothing-usable", sample.NothingUsable, full(""), 1},
}

func full(p Paper) Options { return Options{Paper: p, Sheets: trace.SheetsFull} }

func TestPDFGoldenPages(t *testing.T) {
	for _, g := range goldenPages {
		t.Run(g.name, func(t *testing.T) {
			got := render(t, pdfFile(t, pdfBytes(t, g.job(), g.opt)), g.page, 64)
			path := filepath.Join("testdata", g.name+".png")
			if *check.Update {
				var b bytes.Buffer
				if err := png.Encode(&b, paletted(got)); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if d := difference(got, picture(t, path)); d > 0.004 {
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

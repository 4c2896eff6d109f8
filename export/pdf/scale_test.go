package pdf

import (
	"image"
	"math"
	"regexp"
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
)

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
			file := pdfFile(t, pdfBytes(t, sample.Of(c.u, sample.Straight(c.lengthM, 0, 2)), Options{Paper: c.paper, Scale: c.scale, Sheets: trace.SheetsFull}))
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

// All profiles of one line have one scale of heights, whatever each of them
// would have room for.
func TestPDFOneScaleOfHeightsForOneLine(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Straight(200, 0, 101))
	vs := s.Lines[0].Centerline.Parts[0].Vertices
	for i := range vs {
		vs[i].DepthM, vs[i].Depth95M = 0.8, 0.1
		if vs[i].StationM > 150 {
			vs[i].DepthM = 4.5
		}
	}
	text := poppler(t, "pdftotext", pdfFile(t, pdfBytes(t, s, full(A4))), "-")
	found := map[string]bool{}
	for _, m := range regexp.MustCompile(`heights (1:\d+)`).FindAllStringSubmatch(text, -1) {
		found[m[1]] = true
	}
	if len(found) != 1 || strings.Count(text, "heights 1:") < 3 {
		t.Errorf("scales of heights on %d sheets: %v", strings.Count(text, "heights 1:"), found)
	}
}

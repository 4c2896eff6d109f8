package pdf

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"loamline.example/export/internal/plan"
	"loamline.example/export/internal/sample"
	"loamline.example/trace"
)

// The mark on a turned site plan is printed where the sheet's own scale puts it, on
// the overview and on every strip that shows it, and what the plan is worth is said.
func TestSitePlanLiesInItsPlace(t *testing.T) {
	s := sample.Sheet()
	s.Underlay, s.Job.Sheets = sample.SitePlan(9), trace.SheetsFull
	s.Underlay.Opacity = 1
	mark := s.Underlay.Ground.Apply(sample.SitePlanMark.X, sample.SitePlanMark.Y)
	set, err := newSheetSet(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	file := pdfFile(t, pdfBytes(t, s, Options{}))
	const dpi = 150
	rooms, seen := &stripRooms{set, newCautionBand(set.ruler, s)}, 0
	for i := range set.sheets {
		sh := &set.sheets[i]
		if sh.kind != stripSheet {
			continue
		}
		view := rooms.viewOf(sh)
		want := view.Paper(mark)
		if !view.Window.Inset(3).Contains(want) {
			continue
		}
		img := render(t, file, sh.no, dpi)
		var sum plan.Pt
		n := 0.0
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				if r, g, b, _ := img.At(x, y).RGBA(); r > 0x9000 && g < 0x6000 && b > 0x7000 {
					if at := (plan.Pt{X: (float64(x) + 0.5) * 25.4 / dpi, Y: (float64(y) + 0.5) * 25.4 / dpi}); view.Window.Contains(at) {
						sum, n = sum.Add(at), n+1
					}
				}
			}
		}
		if n < 20 {
			t.Errorf("sheet %d: the mark is not seen at %v", sh.no, want)
			continue
		}
		seen++
		if off := sum.Scale(1 / n).Sub(want).Norm(); off > 25.4/dpi {
			t.Errorf("sheet %d: the mark is printed %.2f mm from where it belongs", sh.no, off)
		}
	}
	if seen == 0 {
		t.Error("no sheet shows the mark")
	}
	text := strings.Join(strings.Fields(poppler(t, "pdftotext", file, "-")), " ")
	for _, want := range []string{"site plan: only as well placed as its own geo-referencing", "placed by its world file plan.pgw, in EPSG:32619"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheets do not say %q", want)
		}
	}
	// The picture is in the file once, not once a sheet.
	without := sample.Sheet()
	without.Job.Sheets = trace.SheetsFull
	more := len(pdfBytes(t, s, Options{})) - len(pdfBytes(t, without, Options{}))
	if most := 2*len(s.Underlay.Picture) + 4096; more > most || math.Abs(float64(more)) < 100 {
		t.Errorf("the site plan of %d bytes adds %d", len(s.Underlay.Picture), more)
	}
}

// A photograph is printed as one, and the same for the same sheet.
func TestPhotographOnTheSheets(t *testing.T) {
	s := sample.Sheet()
	s.Underlay = sample.Photograph(8)
	b := pdfBytes(t, s, Options{})
	if !bytes.Equal(b, pdfBytes(t, s, Options{})) {
		t.Error("the same sheet gave different bytes")
	}
	if list := poppler(t, "pdfimages", "-list", pdfFile(t, b)); !strings.Contains(list, "jpeg") || strings.Contains(list, "smask") {
		t.Errorf("in the file are\n%s", list)
	}
}

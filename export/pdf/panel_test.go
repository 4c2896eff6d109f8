package pdf

import (
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/geo"
)

// Straight stretches share the large sheets, each with plan and profile of its
// own, and their words keep off each other.
func TestStraightStretchesShareASheet(t *testing.T) {
	for size, u := range map[Paper]geo.Units{A3: geo.Metric, Tabloid: geo.US} {
		lay := func(y float64) []geo.XY {
			p := sample.Straight(100, 0.06, 51)
			for i := range p {
				p[i].Y += y
			}
			return p
		}
		s := sample.Of(u, lay(0), lay(1.2), lay(14))
		set, err := newSheetSet(s, Options{Paper: size})
		if err != nil {
			t.Fatal(err)
		}
		strips, upper := 0, 0
		for i := range set.sheets {
			sh := &set.sheets[i]
			if sh.kind != stripSheet {
				continue
			}
			strips++
			if sh.panel == upperHalf {
				upper++
				if next := set.sheets[i+1]; next.panel != lowerHalf || next.no != sh.no {
					t.Errorf("%s: no lower half follows on sheet %d", size, sh.no)
				}
			}
		}
		if upper < strips/2 || set.pages() >= strips+1 {
			t.Errorf("%s: %d strips on %d pages, %d pairs", size, strips, set.pages(), upper)
		}
		file := pdfFile(t, pdfBytes(t, s, full(size)))
		for no, page := range ofTheSet(pdfWords(t, file)) {
			for i, a := range page {
				for _, b := range page[i+1:] {
					if a.over(b) {
						t.Errorf("%s, sheet %d: %q runs over %q at %.0f,%.0f mm", size, no+1, a.text, b.text, a.x0, a.y0)
					}
				}
			}
		}
		text := poppler(t, "pdftotext", file, "-")
		if strings.Count(text, "Profile of") != strips {
			t.Errorf("%s: %d profiles for %d strips", size, strings.Count(text, "Profile of"), strips)
		}
	}
}

// A line that goes on below or above is told so; one that bends keeps a page.
func TestMatchLinesOfSharedSheets(t *testing.T) {
	a, b := &drawnSheet{no: 2, panel: upperHalf}, &drawnSheet{no: 2, panel: lowerHalf}
	if whereWords(a, b) != "see below" || whereWords(b, a) != "see above" || whereWords(a, &drawnSheet{no: 3}) != "see sheet 3" {
		t.Error("match lines lead astray")
	}
	set, err := newSheetSet(sample.Of(geo.Metric, sample.Loop(14)), Options{Paper: A3})
	if err != nil {
		t.Fatal(err)
	}
	for _, sh := range set.sheets {
		if sh.kind == stripSheet && sh.panel != wholePage {
			t.Errorf("a loop was squeezed into half a sheet: %+v", sh)
		}
	}
}

package pdf

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/internal/sample"
	"loamline.example/export/style"
	"loamline.example/geo"
	"loamline.example/trace"
)

func TestPDFSameSheetSameBytes(t *testing.T) {
	a, b := pdfBytes(t, sample.Sheet(), Options{}), pdfBytes(t, sample.Sheet(), Options{})
	if !bytes.Equal(a, b) {
		t.Error("the same sheet gave different bytes")
	}
}

func TestPDFWordsAndFonts(t *testing.T) {
	file := pdfFile(t, pdfBytes(t, sample.Sheet(), Options{Sheets: trace.SheetsFull}))
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
		"common best practice; local law takes precedence", "2c26b46b68ff", "CAUTION", "CHECK BEFORE DIGGING", "LEGEND", "KEY PLAN",
		"Bleed-over strongly suspected", "line likely 0.08 m ± 0.05 left of the paint", "NOT TRACED", "Depth to centre; estimates; expose to verify.",
		"exaggerated 8 times", "Plan 1:200", `C <7> & "spare"`, "record: main 12 (W)", "read 1.16 m ± 0.12", "1 unreadable", "match line 46.0 m, see sheet 3",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheets do not say %q", want)
		}
	}
}

// Every sheet carries the cautions, its number and the title block.
func TestPDFEverySheetCarriesTheCautions(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Winding(2000))
	pages := strings.Split(poppler(t, "pdftotext", "-layout", pdfFile(t, pdfBytes(t, s, Options{Sheets: trace.SheetsFull})), "-"), "\f")
	pages = pages[:len(pages)-1]
	total := len(pages)
	for i, p := range pages {
		if strings.Contains(p, "STAKE-OUT TABLE") {
			pages = pages[:i]
			break
		}
	}
	if len(pages) < 10 {
		t.Errorf("two kilometres on %d sheets", len(pages))
	}
	for i, p := range pages {
		for _, want := range []string{"Positions are approximate.", "Expose to verify.", "T-1", fmt.Sprintf("%d of %d", i+1, total)} {
			if !strings.Contains(p, want) {
				t.Errorf("sheet %d lacks %q", i+1, want)
			}
		}
	}
}

// The words of an ordinary job do not run over each other.
func TestPDFWordsDoNotOverlap(t *testing.T) {
	for _, size := range []Paper{A4, A3} {
		for no, page := range ofTheSet(pdfWords(t, pdfFile(t, pdfBytes(t, sample.Sheet(), Options{Paper: size, Sheets: trace.SheetsFull})))) {
			for i, a := range page {
				for _, b := range page[i+1:] {
					if a.over(b) {
						t.Errorf("%s, sheet %d: %q runs over %q at %.0f,%.0f mm", size, no+1, a.text, b.text, a.x0, a.y0)
					}
				}
			}
		}
	}
}

func TestPDFRefusesWhatItCannotDraw(t *testing.T) {
	var b bytes.Buffer
	if Write(&b, nil, Options{}) == nil {
		t.Error("no sheet was printed without an error")
	}
	if Write(&b, sample.Sheet(), Options{Scale: -5}) == nil {
		t.Error("a negative scale was printed")
	}
	if Write(&b, sample.Sheet(), Options{Paper: "napkin"}) == nil {
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
	signs := newMarker(newPencil(paper.New(420, 297, paper.Info{}), layoutOf(A3), nil, nil))
	l := legend{marker: signs, drawnJob: newDrawnJob(sample.Sheet())}
	for i := range style.All() {
		l.used[signLine+sign(i)] = true
	}
	for s := signTolerance; s < signEnd; s++ {
		l.used[s] = true
	}
	rows, _ := l.rows(80)
	if want := len(style.All()) + int(signEnd-signTolerance); len(rows) != want {
		t.Errorf("the legend has %d rows, want %d", len(rows), want)
	}
	l.c.Page("legend")
	l.draw(plan.Rect{X: 10, Y: 10, W: 80, H: 270})
}

func BenchmarkPDFTwoKilometres(b *testing.B) {
	path := make([]geo.XY, 20000)
	for i, q := range sample.Winding(2000) {
		for k := range 50 {
			if j := i*50 + k; j < len(path) {
				path[j] = q.Add(geo.XY{X: 0.02 * float64(k), Y: 0.02 * float64(k)})
			}
		}
	}
	s := sample.Of(geo.Metric, path)
	b.ReportAllocs()
	for b.Loop() {
		var buf bytes.Buffer
		if err := Write(&buf, s, Options{}); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(buf.Len()), "bytes")
	}
}

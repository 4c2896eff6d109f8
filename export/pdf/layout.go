package pdf

import (
	"fmt"
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

// Paper is a size of sheet, used in landscape.
type Paper string

// The sizes. The empty Paper chooses by the job.
const (
	A4      Paper = "A4"
	A3      Paper = "A3"
	Letter  Paper = "Letter"
	Tabloid Paper = "Tabloid"
)

// ParsePaper reads a size, whatever its case.
func ParsePaper(s string) (Paper, error) {
	for _, p := range []Paper{"", A4, A3, Letter, Tabloid} {
		if strings.EqualFold(s, string(p)) {
			return p, nil
		}
	}
	return "", fmt.Errorf("%q is not a paper size of the sheet: use A4, A3, Letter or Tabloid", s)
}

// papers returns the sizes that a job may use, the smaller first.
func papers(u geo.Units) (small, large Paper) {
	if u == geo.US {
		return Letter, Tabloid
	}
	return A4, A3
}

// sheetLayout is where things stand on the page, in millimetres: the drawing on
// the left, the column of words on the right, all inside one frame.
type sheetLayout struct {
	page, frame plan.Rect
	drawing     plan.Rect // left of the column
	column      plan.Rect
	profileMM   float64 // height of the profile with its table
	basePt      float64 // size of running text
}

// Sizes after ISO 216 and ANSI/ASME Y14.1 (A and B).
func layoutOf(p Paper) sheetLayout {
	switch p {
	case A3:
		return newLayout(420, 297, 12, 92, 96, 7.6)
	case Tabloid:
		return newLayout(431.8, 279.4, 12, 92, 90, 7.6)
	case Letter:
		return newLayout(279.4, 215.9, 9, 67, 72, 6.4)
	}
	return newLayout(297, 210, 9, 67, 68, 6.4)
}

func newLayout(w, h, marginMM, columnMM, profileMM, basePt float64) sheetLayout {
	page := plan.Rect{W: w, H: h}
	f := page.Inset(marginMM)
	return sheetLayout{
		page: page, frame: f, profileMM: profileMM, basePt: basePt,
		drawing: plan.Rect{X: f.X, Y: f.Y, W: f.W - columnMM, H: f.H},
		column:  plan.Rect{X: f.Right() - columnMM, Y: f.Y, W: columnMM, H: f.H},
	}
}

// coordsMM is the band around a plan in which coordinates are written.
const coordsMM = 4.2

// endsMM is what a strip leaves free at both ends of the window, for match
// lines and for the profile's axis.
const endsMM = 13

// window returns the plan's window where the caution band takes bandMM.
func (l sheetLayout) window(bandMM float64) plan.Rect {
	r := l.drawing
	r.H -= l.profileMM + bandMM
	return r.Inset(coordsMM)
}

// font returns a font sized relative to running text.
func (l sheetLayout) font(face paper.Face, factor float64) paper.Font {
	return paper.Font{Face: face, SizePt: l.basePt * factor}
}

// small is the size of small type, over that of running text: larger where the page
// has room for it.
func (l sheetLayout) small(least, most float64) float64 {
	if l.page.W > 300 || l.page.H > l.page.W {
		return most
	}
	return least
}

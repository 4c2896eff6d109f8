package pdf

import (
	"loamline.example/export/internal/plan"
)

// noteColumns is the number of columns of text on a notes sheet.
const noteColumns = 2

// noteBook is the notes on their sheets.
type noteBook struct {
	*sheetSet
	*pencil
	cautions *cautionBand
	columns  [][]noteBlock // noteColumns of them a sheet
}

// newNoteBook writes the notes before anything is drawn, so that every sheet
// knows how many there are, and adds their sheets to the set.
func newNoteBook(set *sheetSet, p *pencil) *noteBook {
	b := &noteBook{sheetSet: set, pencil: p, cautions: newCautionBand(p, set.s)}
	r := b.area()
	w := (r.W - 4*(noteColumns-1)) / noteColumns
	n := &noteWriter{sheetSet: set, pencil: p, widthMM: w}
	n.write()
	b.columns = fill(n.blocks, func(int) float64 { return r.H })
	// Short notes stand in columns of one height, not in a full one beside an empty.
	for h := r.H; len(b.columns) <= noteColumns && h > 0.1*r.H; h -= 0.02 * r.H {
		even := fill(n.blocks, func(int) float64 { return h })
		if len(even) > noteColumns {
			break
		}
		b.columns = even
	}
	for k := 0; k*noteColumns < len(b.columns); k++ {
		b.sheets = append(b.sheets, drawnSheet{kind: notesSheet, no: b.pages() + 1, line: -1, note: k})
	}
	return b
}

// area is what the cautions leave of a sheet.
func (b *noteBook) area() plan.Rect {
	r := b.lay.drawing
	r.H -= b.cautions.heightMM(r.W)
	return r.Inset(2.5)
}

// page draws a sheet of them.
func (b *noteBook) page(sh *drawnSheet) {
	r := b.area()
	w := (r.W - 4*(noteColumns-1)) / noteColumns
	for k := range noteColumns {
		if i := sh.note*noteColumns + k; i < len(b.columns) {
			b.paragraphs(plan.Rect{X: r.X + float64(k)*(w+4), Y: r.Y, W: w, H: r.H}, b.columns[i])
		}
	}
	full := b.lay.drawing
	h := b.cautions.heightMM(full.W)
	b.cautions.draw(plan.Rect{X: full.X, Y: full.Bottom() - h, W: full.W, H: h})
}

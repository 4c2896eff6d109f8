package pdf

import (
	"slices"
	"strconv"
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// noteBlock is a paragraph of the notes.
type noteBlock struct {
	lines  []string
	font   paper.Font
	gapMM  float64 // above it
	tick   bool    // a box to tick before it
	number int     // a finding's number before it, 0 for none
	indent float64
	keep   bool      // belongs with the next block
	tabs   []float64 // where the cells of a line begin that are parted by tabs
	again  string    // heads what is left of a block that was broken, in one line or more
	whole  bool      // is not broken unless it takes more than half of a column
	heads  []string  // of a table, as they are when nothing breaks them
	// asWritten is a block in English on a sheet in two languages.
	asWritten bool
}

func (b noteBlock) heightMM() float64 { return b.gapMM + float64(len(b.lines))*b.font.LineMM() }

// unbroken reports a block that is to stand as a whole in a column of a height.
func (b noteBlock) unbroken(columnMM float64) bool { return b.whole && b.heightMM() <= columnMM/2 }

// noteColumns is the number of columns of text on a notes sheet.
const noteColumns = 2

// planNotes writes the notes before anything is drawn, so that every sheet
// knows how many there are, and adds their sheets to the set.
func (d *drafter) planNotes() {
	r := d.notesArea()
	w := (r.W - 4*(noteColumns-1)) / noteColumns
	n := &noteWriter{drafter: d, widthMM: w}
	n.write()
	d.notes = fill(n.blocks, func(int) float64 { return r.H })
	// Short notes stand in columns of one height, not in a full one beside an empty.
	for h := r.H; len(d.notes) <= noteColumns && h > 0.1*r.H; h -= 0.02 * r.H {
		even := fill(n.blocks, func(int) float64 { return h })
		if len(even) > noteColumns {
			break
		}
		d.notes = even
	}
	for k := 0; k*noteColumns < len(d.notes); k++ {
		d.sheets = append(d.sheets, drawnSheet{kind: notesSheet, no: d.pages() + 1, line: -1, note: k})
	}
}

func (d *drafter) notesArea() plan.Rect {
	r := d.lay.drawing
	r.H -= d.cautionsHeight(r.W)
	return r.Inset(2.5)
}

// fill flows blocks into columns of given heights; a long block is broken.
func fill(blocks []noteBlock, height func(col int) float64) [][]noteBlock {
	blocks = slices.Clone(blocks)
	var cols [][]noteBlock
	var col []noteBlock
	y := 0.0
	for i := 0; i < len(blocks); i++ {
		b, heightMM := blocks[i], height(len(cols))
		need := b.heightMM()
		for k := i; blocks[k].keep && k+1 < len(blocks); k++ {
			next, lines := blocks[k+1], 2
			if next.unbroken(heightMM) {
				lines = len(next.lines)
			}
			need += next.gapMM + float64(min(lines, len(next.lines)))*next.font.LineMM()
		}
		if y+need <= heightMM {
			col, y = append(col, b), y+b.heightMM()
			continue
		}
		room := int((heightMM - y - b.gapMM) / b.font.LineMM())
		// At the top of a column more must have room than what heads the block again.
		if least := 2 + strings.Count(b.again, "\n"); !b.keep && !b.unbroken(heightMM) && room >= 2 && (len(col) > 0 || room > least) && len(b.lines) > room {
			head := b
			head.lines, b.lines = b.lines[:room], b.lines[room:]
			if b.again != "" {
				b.lines = append(strings.Split(b.again, "\n"), b.lines...)
			}
			b.tick, b.number, b.gapMM = false, 0, 0
			blocks[i] = b
			col = append(col, head)
		} else if len(col) == 0 {
			// Taller than a whole column and not to be broken: take it as it is.
			col, y = append(col, b), heightMM
			continue
		}
		cols, col, y = append(cols, col), nil, 0
		i--
	}
	if len(col) > 0 {
		cols = append(cols, col)
	}
	return cols
}

func (d *drafter) notesPage(sh *drawnSheet) {
	r := d.notesArea()
	w := (r.W - 4*(noteColumns-1)) / noteColumns
	for k := range noteColumns {
		if i := sh.note*noteColumns + k; i < len(d.notes) {
			d.noteColumn(plan.Rect{X: r.X + float64(k)*(w+4), Y: r.Y, W: w, H: r.H}, d.notes[i])
		}
	}
	full := d.lay.drawing
	h := d.cautionsHeight(full.W)
	d.cautions(plan.Rect{X: full.X, Y: full.Bottom() - h, W: full.W, H: h})
}

func (d *drafter) noteColumn(r plan.Rect, blocks []noteBlock) {
	y := r.Y
	for i, b := range blocks {
		if i > 0 {
			y += b.gapMM
		}
		if b.tick {
			d.c.Frame(plan.Rect{X: r.X + b.indent - 4.2, Y: y + 0.35, W: b.font.SizePt * 0.3, H: b.font.SizePt * 0.3}, thinPen)
		}
		if b.number > 0 {
			d.numberDisc(plan.Pt{X: r.X + discMM, Y: y + discMM}, b.number)
		}
		if b.asWritten {
			d.c.AsWritten(func() { y = d.c.Lines(r.X+b.indent, y, b.lines, b.font) })
			continue
		}
		if b.tabs == nil {
			y = d.c.Lines(r.X+b.indent, y, b.lines, b.font)
			continue
		}
		for _, line := range b.lines {
			for k, cell := range strings.Split(line, "\t") {
				if cell == "" {
					continue // above it a heading of several lines begins
				}
				d.c.Lines(r.X+b.indent+b.tabs[min(k, len(b.tabs)-1)], y, []string{cell}, b.font)
			}
			y += b.font.LineMM()
		}
	}
}

// sheetIndex lists the sheets of the set on a notes sheet.
func (d *drafter) sheetIndex(r plan.Rect) {
	y := d.heading(r, "SHEETS OF THIS SET")
	f := d.font(paper.Regular, 0.92)
	var names []string
	if n := d.before.crew; n > 0 {
		names = append(names, sheetNumbers(1, n)+": crew sheet")
	}
	if n := d.before.stake; n > 0 && d.before.crew > 0 {
		names = append(names, sheetNumbers(d.before.crew+1, d.before.crew+n)+": stake-out table")
	}
	for i := range d.sheets {
		if d.sheets[i].panel != lowerHalf { // its page is named with the upper one
			names = append(names, d.sheetName(&d.sheets[i]))
		}
	}
	if n := d.before.stake; n > 0 && d.before.crew == 0 {
		names = append(names, sheetNumbers(d.pages()+1, d.pages()+n)+": stake-out table")
	}
	for i, name := range names {
		if y+2*f.LineMM() > r.Bottom() && i < len(names)-1 {
			d.c.Lines(r.X, y, []string{"and " + strconv.Itoa(len(names)-i) + " more"}, f)
			return
		}
		y = d.c.Lines(r.X, y, []string{d.c.Fit(name, f, r.W)}, f) + 0.3
	}
}

// sheetNumbers names one sheet or several on end.
func sheetNumbers(first, last int) string {
	if first == last {
		return "Sheet " + strconv.Itoa(first)
	}
	return "Sheets " + strconv.Itoa(first) + " to " + strconv.Itoa(last)
}

package pdf

import (
	"slices"
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

// paragraphs sets blocks below each other.
func (p *pencil) paragraphs(r plan.Rect, blocks []noteBlock) {
	y := r.Y
	for i, b := range blocks {
		if i > 0 {
			y += b.gapMM
		}
		if b.tick {
			p.c.Frame(plan.Rect{X: r.X + b.indent - 4.2, Y: y + 0.35, W: b.font.SizePt * 0.3, H: b.font.SizePt * 0.3}, thinPen)
		}
		if b.number > 0 {
			p.numberDisc(plan.Pt{X: r.X + discMM, Y: y + discMM}, b.number)
		}
		if b.asWritten {
			p.c.AsWritten(func() { y = p.c.Lines(r.X+b.indent, y, b.lines, b.font) })
			continue
		}
		if b.tabs == nil {
			y = p.c.Lines(r.X+b.indent, y, b.lines, b.font)
			continue
		}
		for _, line := range b.lines {
			for k, cell := range strings.Split(line, "\t") {
				if cell == "" {
					continue // above it a heading of several lines begins
				}
				p.c.Lines(r.X+b.indent+b.tabs[min(k, len(b.tabs)-1)], y, []string{cell}, b.font)
			}
			y += b.font.LineMM()
		}
	}
}

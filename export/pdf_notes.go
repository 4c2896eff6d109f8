package export

import (
	"fmt"
	"strconv"
	"strings"

	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/trace"
)

// noteBlock is a paragraph of the notes.
type noteBlock struct {
	lines  []string
	font   paper.Font
	gapMM  float64 // above it
	tick   bool    // a box to tick before it
	number int     // a finding's number before it, 0 for none
	indent float64
	keep   bool // belongs with the next block
}

func (b noteBlock) heightMM() float64 { return b.gapMM + float64(len(b.lines))*b.font.LineMM() }

// noteColumns is the number of columns of text on a notes sheet.
const noteColumns = 2

// planNotes writes the notes before anything is drawn, so that every sheet
// knows how many there are, and adds their sheets to the set.
func (d *drafter) planNotes() {
	r := d.notesArea()
	w := (r.W - 4*(noteColumns-1)) / noteColumns
	n := &noteWriter{drafter: d, widthMM: w}
	n.write()
	d.notes = fill(n.blocks, r.H)
	for k := 0; k*noteColumns < len(d.notes); k++ {
		d.sheets = append(d.sheets, drawnSheet{kind: notesSheet, no: len(d.sheets) + 1, line: -1, note: k})
	}
}

func (d *drafter) notesArea() plan.Rect {
	r := d.lay.drawing
	r.H -= d.cautionsHeight(r.W)
	return r.Inset(2.5)
}

// fill flows blocks into columns of a height; a long block is broken.
func fill(blocks []noteBlock, heightMM float64) [][]noteBlock {
	var cols [][]noteBlock
	var col []noteBlock
	y := 0.0
	for i := 0; i < len(blocks); i++ {
		b := blocks[i]
		need := b.heightMM()
		if b.keep && i+1 < len(blocks) {
			next := blocks[i+1]
			need += next.gapMM + float64(min(2, len(next.lines)))*next.font.LineMM()
		}
		if y+need <= heightMM {
			col, y = append(col, b), y+b.heightMM()
			continue
		}
		room := int((heightMM - y - b.gapMM) / b.font.LineMM())
		if !b.keep && room >= 2 && len(b.lines) > room {
			head := b
			head.lines, b.lines = b.lines[:room], b.lines[room:]
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
		y = d.c.Lines(r.X+b.indent, y, b.lines, b.font)
	}
}

// sheetIndex lists the sheets of the set on a notes sheet.
func (d *drafter) sheetIndex(r plan.Rect) {
	y := d.heading(r, "SHEETS OF THIS SET")
	f := d.font(paper.Regular, 0.92)
	for i := range d.sheets {
		if y+2*f.LineMM() > r.Bottom() && i < len(d.sheets)-1 {
			d.c.Lines(r.X, y, []string{"and " + strconv.Itoa(len(d.sheets)-i) + " more"}, f)
			return
		}
		y = d.c.Lines(r.X, y, []string{d.c.Fit(d.sheetName(&d.sheets[i]), f, r.W)}, f) + 0.3
	}
}

// noteWriter collects the paragraphs.
type noteWriter struct {
	*drafter
	widthMM float64
	blocks  []noteBlock
}

func (n *noteWriter) head(s string) {
	f := n.font(paper.Bold, 1.25)
	n.blocks = append(n.blocks, noteBlock{lines: n.c.Wrap(s, f, n.widthMM), font: f, gapMM: 3, keep: true})
}

func (n *noteWriter) para(s string, indent float64) {
	f := n.font(paper.Regular, 1)
	if lines := n.c.Wrap(s, f, n.widthMM-indent); len(lines) > 0 {
		n.blocks = append(n.blocks, noteBlock{lines: lines, font: f, gapMM: 0.6, indent: indent})
	}
}

func (n *noteWriter) strong(s string, indent float64, number int) {
	f := n.font(paper.Bold, 1)
	n.blocks = append(n.blocks, noteBlock{lines: n.c.Wrap(s, f, n.widthMM-indent), font: f, gapMM: 1.4, indent: indent, number: number, keep: true})
}

const noteIndentMM = 4.6

func (n *noteWriter) write() {
	n.advice()
	n.evidence()
	n.linesAndChecks()
	n.readings()
	n.problems()
	n.origins()
}

func (n *noteWriter) advice() {
	n.head("Check before digging")
	if len(n.s.Advice) == 0 {
		n.para(n.noAdvice(), 0)
	}
	for _, s := range n.s.Advice {
		n.para(sentence(s), noteIndentMM)
		n.blocks[len(n.blocks)-1].tick = true
	}
}

func (n *noteWriter) evidence() {
	if len(n.findings) == 0 {
		return
	}
	n.head("Findings and what speaks for them")
	for _, f := range n.findings {
		n.strong(f.OnLine()+": "+FindingTitle(n.u, f.Finding), noteIndentMM, f.no)
		for _, s := range FindingWords(n.u, f.Finding) {
			n.para(s, noteIndentMM)
		}
	}
}

func (n *noteWriter) linesAndChecks() {
	if len(n.lines) == 0 {
		return
	}
	n.head("Lines")
	for i := range n.lines {
		l := &n.lines[i]
		n.strong(LineTitle(l.Setup), 0, 0)
		n.para(sentence(SetupWords(n.u, l.Setup)), 0)
		if !l.traced() {
			n.para("No line could be drawn from its readings.", 0)
		} else {
			n.para("Traced "+n.u.Long(l.Centerline.TracedM())+". "+sentence(DepthRangeWords(n.u, l.Centerline, n.date)), 0)
			n.para("Tolerance zone: "+ZoneWords(n.u, l.Tolerance), 0)
			n.notesOf(l)
		}
		for _, s := range l.Checked {
			n.para(sentence(s), 0)
		}
	}
}

func (n *noteWriter) notesOf(l *drawnLine) {
	for _, s := range l.Centerline.Notes {
		n.para(sentence(s), 0)
	}
}

// readings accounts for every row, and for every reason to set one aside.
func (n *noteWriter) readings() {
	n.head("Readings")
	n.para(sentence(capital(ledgerWords(n.s.Counts))), 0)
	for i := range n.lines {
		for _, g := range setAside(n.lines[i].Line) {
			n.para(n.lines[i].Setup.Name+": "+g, 0)
		}
	}
}

// rowsNamed is how many rows of one reason are named; the GeoJSON has them all.
const rowsNamed = 12

// setAside groups a line's readings that were not used by their reason, in the
// order in which the reasons first occur.
func setAside(l *trace.Line) []string {
	var reasons []string
	rows := map[string][]string{}
	count := map[string]int{}
	for k := range l.Readings {
		r := &l.Readings[k]
		if r.Reason == "" || r.Status == trace.StatusUsed && !r.DepthDropped {
			continue
		}
		reason := r.Reason
		if r.Status == trace.StatusUsed {
			reason = "depth not used: " + reason
		}
		if count[reason]++; count[reason] == 1 {
			reasons = append(reasons, reason)
		}
		if count[reason] <= rowsNamed {
			rows[reason] = append(rows[reason], strconv.Itoa(int(r.Row)))
		}
	}
	var out []string
	for _, reason := range reasons {
		s := fmt.Sprintf("%d × %s (row %s", count[reason], reason, strings.Join(rows[reason], ", "))
		if count[reason] > rowsNamed {
			s += ", …"
		}
		out = append(out, s+").")
	}
	return out
}

// problemsNamed is how many problems of the input are told; the GeoJSON has
// them all.
const problemsNamed = 40

func (n *noteWriter) problems() {
	if len(n.s.Problems) == 0 {
		return
	}
	n.head("Problems in the input")
	for i := range n.s.Problems {
		if i == problemsNamed {
			n.para(fmt.Sprintf("and %d more, listed in the GeoJSON.", len(n.s.Problems)-i), 0)
			return
		}
		n.para(n.s.Problems[i].Error(), 0)
	}
}

func (n *noteWriter) origins() {
	n.head("Frame, zones and input")
	n.para(sentence(n.frameWords()), 0)
	n.para("Coordinates on the sheets are WGS 84 latitude and longitude in degrees; plans are true to scale on the ground.", 0)
	for _, l := range n.lines {
		if len(l.Caution.Area) > 0 {
			n.para("Caution zone: "+CautionZoneWords(l.Caution), 0)
			break
		}
	}
	for _, r := range n.s.Records {
		n.para("Record "+r.Name+", from "+r.Source+": drawn as given, not traced.", 0)
	}
	for _, in := range n.s.Inputs {
		n.para(in.Name+", SHA-256 "+in.SHA256, 0)
	}
}

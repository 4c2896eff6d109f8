package pdf

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/trace/finding"
)

// crewTightGap is how much of the room between the items is left in the smallest types,
// of which a list has need only where it would go on to another page. Judgement.
const crewTightGap = 0.5

// closer takes that room away, but never so much that the discs of two numbers meet.
func closer(blocks []noteBlock) {
	discs := 0.0 // what the disc of the block before needs below its words
	for i := range blocks {
		b := &blocks[i]
		b.gapMM = math.Max(b.gapMM*crewTightGap, discs)
		discs = 0
		if b.number > 0 {
			discs = math.Max(0, 2*discMM+0.2-float64(len(b.lines))*b.font.LineMM())
		}
	}
}

// crewWriter collects the lists in one size of type.
type crewWriter struct {
	noteWriter
	factor  float64
	runsOut bool // a table is wider than its column
}

func newCrewWriter(set *sheetSet, p *pencil, widthMM, factor float64) *crewWriter {
	return &crewWriter{noteWriter: noteWriter{sheetSet: set, pencil: p, widthMM: widthMM}, factor: factor}
}

// write collects what to check, where lines cross, how deep they were read, and the facts
// that the head has no room for. Where the lists go on to another page, how far machines keep
// off stands first: who looks at one page has seen it.
func (n *crewWriter) write(stepM float64, head *crewHead, goOn bool) {
	if goOn {
		n.widths()
	}
	n.head("CHECK BEFORE DIGGING")
	if len(n.items) == 0 {
		n.item(n.noAdvice(), 0, false)
	}
	for k, a := range n.items {
		n.item(words.Stopped(words.Item(n.u, a)), k+1, true)
	}
	for _, f := range n.afterItems() {
		n.item(words.Stopped(words.LookAt(n.u, f.Finding)), f.no, true)
	}
	if s := words.NotChecked(n.s); s != "" {
		n.plain(s)
	}
	n.crossings()
	if !goOn {
		n.widths()
	}
	n.depths(stepM)
	n.termsInBoth()
	n.settle()
	for _, s := range head.factsInFull() {
		n.plain(words.Sentence(s))
	}
	for i := range n.lines {
		if l := &n.lines[i]; l.Centerline != nil {
			for _, s := range words.Remarks(n.u, l.Centerline.Notes) {
				n.plain("Of " + l.Setup.Name + ": " + words.Sentence(s))
			}
		}
	}
	if n.factor*n.lay.basePt < leastBothPt {
		closer(n.blocks)
	}
}

func (n *crewWriter) head(s string) {
	f := n.font(paper.Bold, 1.12*n.factor)
	gap := 2.2
	if len(n.blocks) == 0 {
		gap = 0
	}
	n.blocks = append(n.blocks, noteBlock{lines: n.c.Wrap(n.inBoth(s), f, n.widthMM), font: f, gapMM: gap, keep: true})
}

// Where the words of a list begin: behind a number and a box.
const (
	crewNumberMM = 4.2
	crewBoxMM    = 4.8
)

func (n *crewWriter) item(s string, number int, tick bool) {
	f := n.font(paper.Regular, n.factor)
	indent := crewNumberMM + crewBoxMM
	n.blocks = append(n.blocks, noteBlock{lines: n.c.Wrap(s, f, n.widthMM-indent), font: f, gapMM: 0.8, indent: indent, tick: tick, number: number})
	n.inEnglish(s, paper.Italic, indent)
}

func (n *crewWriter) plain(s string) {
	f := n.font(paper.Regular, n.factor)
	n.blocks = append(n.blocks, noteBlock{lines: n.c.Wrap(s, f, n.widthMM), font: f, gapMM: 0.8})
	n.inEnglish(s, paper.Italic, 0)
}

// crossings tells both depths wherever two lines meet, with the doubt about each.
func (n *crewWriter) crossings() {
	first := true
	for _, f := range n.findings {
		c, ok := f.Finding.(finding.Crossing)
		if !ok {
			continue
		}
		if first {
			n.head("CROSSINGS, AND LINES CLOSE")
			first = false
		}
		n.item(fmt.Sprintf("%s, at %s of %s. %s: %s. %s: %s.", crossingTitle(n.u, c), n.u.Long(c.StationM), c.Line,
			c.Line, n.depthNear(c.Line, c.At), c.Other, n.depthNear(c.Other, c.At)), f.no, false)
	}
	for _, c := range n.close {
		if first {
			n.head("CROSSINGS, AND LINES CLOSE")
			first = false
		}
		n.item(words.CloseWords(n.u, c), 0, false)
	}
}

// widths tells within how far of the paint nobody digs by machine, where it changes, and
// of this map where its frame leaves open where it lies: as a tape shows it.
func (n *crewWriter) widths() {
	var rows [][]string
	var notTraced []string
	farther, frame := false, n.s.Doubted()
	u := n.u
	f := n.font(paper.Regular, n.factor)
	for i := range n.lines {
		l := &n.lines[i]
		notTraced = append(notTraced, words.NotTraced(n.u, l.Line)...)
		name := n.c.Fit(l.Setup.Name, f, n.widthMM*0.18)
		for _, z := range words.ZoneStretches(l.Line) {
			if z.NoWidth() {
				continue
			}
			row := []string{name + ", " + words.Range(n.u, z.FromM, z.ToM), z.Width(u, z.LeftM), z.Width(u, z.RightM)}
			if frame.DoubtM > 0 && !frame.DoubtOpen() {
				row = append(row, words.FromMap(u, l.Caution, z.LeftM), words.FromMap(u, l.Caution, z.RightM))
			}
			if farther = farther || z.Farther; z.Farther {
				for k := 3; k < len(row); k++ {
					row[k] = words.AtLeast + row[k]
				}
			}
			rows = append(rows, row)
		}
	}
	if len(rows)+len(notTraced) == 0 {
		return
	}
	const again = "NO MACHINE WITHIN, continued"
	n.head("NO MACHINE WITHIN: from the paint on the ground, looking in the direction of travel")
	said := func(s string) {
		n.plain(s)
		n.blocks[len(n.blocks)-1].keep = len(rows) > 0 // the table that follows has no heading of its own
	}
	for _, s := range notTraced {
		said(s)
	}
	if slices.ContainsFunc(n.findings, func(f numbered) bool { return f.Role() == finding.RoleBleedOver }) {
		said("Widths go on past the ends of the stretches listed.")
	}
	if farther {
		said(words.NoBound)
	}
	switch heads := []string{"line, from and to", "left", "right"}; {
	case len(rows) == 0:
		return
	case frame.DoubtOpen():
		said("Do not measure from this map: nothing says how far off it may lie.")
		n.table(heads, rows, again)
	case frame.DoubtM > 0:
		said("“map”: from this map, with its possible datum error added.")
		n.table(append(heads, "map, left", "map, right"), rows, again)
	default:
		n.table(heads, rows, again)
	}
	n.blocks[len(n.blocks)-1].whole = true // who looks for a line's widths finds them in one place
}

// settle lists once what could settle what is suspected.
func (n *crewWriter) settle() {
	told := words.Remarks(n.u, n.s.TryNext())
	if len(told) == 0 {
		return
	}
	n.head("WHAT COULD SETTLE IT")
	for i, s := range told {
		told[i] = words.Sentence(s)
	}
	n.plain(strings.Join(told, " "))
}

// depths tells every line's depth by station, two stations a row.
func (n *crewWriter) depths(stepM float64) {
	bold, across := n.font(paper.Bold, n.factor), false
	for i := range n.lines {
		l := &n.lines[i]
		if i == 0 {
			n.head(words.DepthsHead(n.u, stepM, n.date))
		}
		title := words.LineTitle(l.Setup)
		if setup := words.Setup(n.u, l.Setup); setup != "" {
			title += "; " + setup
		}
		n.blocks = append(n.blocks, noteBlock{lines: n.c.Wrap(n.inBoth(title), bold, n.widthMM), font: bold, gapMM: 1.2, keep: true})
		if !l.traced() {
			n.plain("No line could be drawn from its readings: locate it again.")
			continue
		}
		stations := plan.Ticks(0, l.path.Length(), stepM)
		if end := l.path.Length(); end-stations[len(stations)-1] > stepM/10 {
			stations = append(stations, end)
		}
		across = n.depthRows(l, stations) || across
	}
	if slices.ContainsFunc(n.lines, func(l drawnLine) bool { return l.traced() }) {
		n.plain("± is what each figure may be off (95 %); across: to either side of the drawn line, or to its left/right. “?”: doubtful: signal of another line may mix in, or readings lie off the line. The figure across holds what that may come to, where it is known; beside “do not trust” the figures hold the suspected one.")
		if s := words.FrameShare(n.u, n.s.Doubted()); s != "" && across {
			n.plain(s)
		}
	}
}

// depthRows sets the stations of a line, and reports whether a figure across it is known.
func (n *crewWriter) depthRows(l *drawnLine, stations []float64) (known bool) {
	var cells [][]string
	across := "across"
	if l.Caution.DoubtOpen() {
		across = "across, or more" // once for all of the column
	}
	for _, s := range stations {
		if l.Centerline.Way(s) {
			continue // nothing is there to dig for
		}
		c := l.figures(n.u, s)
		known = known || c[2] != noFigure
		c[2] = briefSides(acrossWords(strings.ReplaceAll(c[2], " or more", "")))
		cells = append(cells, c)
	}
	n.table([]string{"at", "depth", across}, cells, l.Setup.Name+", continued")
	return known
}

// briefSides is the band of either side, left/right, which the words below the table
// explain: with the words themselves half as many columns would have room.
func briefSides(across string) string {
	left, right, both := strings.Cut(strings.TrimPrefix(across, "left "), ", right ")
	if !both {
		return across
	}
	figure, unit, _ := strings.Cut(left, " ")
	right = strings.TrimSuffix(right, doubtMark) // it stands beside "do not trust", and no figure looks sure there
	if strings.HasSuffix(right, " "+unit) {
		left = figure // the unit stands behind the other
	}
	return left + "/" + right
}

// acrossWords is the band across the line in a list.
func acrossWords(figure string) string {
	switch {
	case figure == noFigure:
		return "not known"
	case strings.HasPrefix(figure, "left "): // the band of a side each
		return figure
	}
	return "± " + figure
}

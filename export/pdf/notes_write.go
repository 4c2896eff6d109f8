package pdf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/words"
	"loamline.example/export/words/beneath"
	"loamline.example/geo"
	"loamline.example/trace"
)

// noteWriter collects the paragraphs.
type noteWriter struct {
	*sheetSet
	*pencil
	widthMM float64
	blocks  []noteBlock
}

func (n *noteWriter) head(s string) {
	f := n.font(paper.Bold, 1.25)
	n.blocks = append(n.blocks, noteBlock{lines: n.c.Wrap(s, f, n.widthMM), font: f, gapMM: 3, keep: true})
}

func (n *noteWriter) para(s string, indent float64) {
	n.goOn()
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
	tick := func(text string, no int) {
		n.para(words.Stopped(text), crewNumberMM+crewBoxMM)
		n.blocks[len(n.blocks)-1].tick, n.blocks[len(n.blocks)-1].number = true, no
	}
	if len(n.items) == 0 {
		n.para(n.noAdvice(), 0)
	}
	for k, a := range n.items {
		tick(words.Item(n.u, a), k+1)
	}
	for _, f := range n.afterItems() {
		tick(words.LookAt(n.u, f.Finding), f.no)
	}
}

func (n *noteWriter) evidence() {
	head := map[bool]string{true: "Findings and evidence", false: "Checks and comparisons without a sign of trouble"}
	told := map[bool]bool{}
	for _, f := range n.findings { // those with a number come first
		if asks := f.no > 0; !told[asks] {
			n.head(head[asks])
			told[asks] = true
		}
		n.strong(f.OnLine()+": "+words.FindingTitle(n.u, f.Finding), noteIndentMM, f.no)
		for _, s := range words.Finding(n.u, f.Finding) {
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
		n.strong(words.LineTitle(l.Setup), 0, 0)
		n.para(words.Sentence(words.Setup(n.u, l.Setup)), 0)
		if !l.traced() {
			n.para("No line could be drawn from its readings.", 0)
		} else {
			n.para("Traced "+n.u.Long(l.Centerline.TracedM())+". "+words.Sentence(words.DepthRange(n.u, l.Line, n.date)), 0)
			n.para("Tolerance zone: "+words.Zone(n.u, l.Tolerance), 0)
			n.notesOf(l)
		}
		for _, s := range words.Remarks(n.u, slices.Concat(l.Checked, l.Statements)) {
			n.para(words.Sentence(s), 0)
		}
	}
}

func (n *noteWriter) notesOf(l *drawnLine) {
	for _, s := range words.Remarks(n.u, l.Centerline.Notes) {
		n.para(words.Sentence(s), 0)
	}
}

// readings accounts for every row, and for every reason to set one aside.
func (n *noteWriter) readings() {
	n.head("Readings")
	n.para(words.Sentence(words.Capital(words.Ledger(n.s.Counts))), 0)
	for i := range n.lines {
		for _, g := range setAside(n.u, n.lines[i].Line) {
			n.para(n.lines[i].Setup.Name+": "+g, 0)
		}
	}
}

// rowsNamed is how many rows of one reason are named; the GeoJSON has them all.
const rowsNamed = 12

// setAside groups a line's readings that were not used by their reason, in the
// order in which the reasons first occur. Particulars that differ from row to row
// are left to the GeoJSON: a file sent twice must not fill a book.
func setAside(u geo.Units, l *trace.Line) []string {
	type group struct {
		head, full string
		alike      bool
		rows       []string
		n          int
	}
	var groups []*group
	byHead := map[string]*group{}
	for k := range l.Readings {
		r := &l.Readings[k]
		if r.Reason == nil || r.Status == trace.StatusUsed && !r.DepthDropped {
			continue
		}
		prefix := ""
		if r.Status == trace.StatusUsed {
			prefix = "depth not used: "
		}
		full, head := words.Reason(u, r)
		head, full = prefix+head, prefix+full
		g := byHead[head]
		if g == nil {
			g = &group{head: head, full: full, alike: true}
			byHead[head], groups = g, append(groups, g)
		}
		g.alike = g.alike && g.full == full
		if g.n++; g.n <= rowsNamed {
			g.rows = append(g.rows, strconv.Itoa(int(r.Row)))
		}
	}
	var out []string
	for _, g := range groups {
		s := g.head
		if g.alike {
			s = g.full
		}
		s = fmt.Sprintf("%d × %s (row %s", g.n, s, strings.Join(g.rows, ", "))
		if g.n > rowsNamed {
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
	for i, p := range words.Problems(n.s) {
		if i == problemsNamed {
			n.para(fmt.Sprintf("and %d more, listed in the GeoJSON.", len(n.s.Problems)-i), 0)
			return
		}
		n.para(n.c.AsIs(n.tongue.Problem(&p))[0], 0)
	}
}

func (n *noteWriter) origins() {
	n.head("Frame, zones and input")
	n.para(words.Sentence(n.frameWords()), 0)
	n.para("Coordinates on the sheets are "+gridWords(n.s)+"; plans are true to scale on the ground.", 0)
	if said := n.s.OutputWords.In(n.u); said != "" {
		n.para(said, 0)
	}
	for _, l := range n.lines {
		if len(l.Caution.Area) > 0 {
			n.para("Caution zone: "+words.CautionZone(n.u, l.Caution), 0)
			break
		}
	}
	for _, r := range n.s.Records {
		n.para("Record "+r.Name+", from "+r.Source+": drawn as given, not traced.", 0)
	}
	for _, w := range beneath.Background(n.s) {
		n.para(w, 0)
	}
	for _, w := range beneath.SitePlan(n.u, n.s) {
		n.para(w, 0)
	}
	for _, in := range n.s.Inputs {
		n.para(in.Name+", SHA-256 "+in.SHA256, 0)
	}
}

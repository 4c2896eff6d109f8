package pdf

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// titleRow is a line of the title block.
type titleRow struct {
	label, value string
	most         int // lines
}

// strong rows are set bold.
func (r titleRow) strong() bool {
	return r.label == "Ticket" || r.label == "Located on" || r.label == "Valid until"
}

// lineWords tells what a strip's line is and what its course rests on.
func (d *drafter) lineWords(l *drawnLine) string {
	used := 0
	for k := range l.Readings {
		if st := l.Readings[k].Status; st == trace.StatusUsed || st == trace.StatusExposed {
			used++
		}
	}
	text := d.c.Fit(words.LineTitle(l.Setup), d.font(paper.Regular, 0.92), d.lay.column.W*1.4)
	if setup := words.Setup(d.u, l.Setup); setup != "" {
		text += "; " + d.tongue.Say(setup)
	}
	traced := "traced " + d.u.Long(l.Centerline.TracedM()) + " on " + strconv.Itoa(used) + " of " + strconv.Itoa(len(l.Readings)) + " readings"
	return d.c.AsIs(text + "; " + d.tongue.Say(traced))[0]
}

func (d *drafter) titleRows(sh *drawnSheet) []titleRow {
	j := d.s.Job
	rows := []titleRow{}
	for _, i := range d.linesOn(sh) {
		rows = append(rows, titleRow{"Line", d.lineWords(&d.lines[i]), 4})
	}
	rows = append(rows, []titleRow{
		{"Ticket", stated(j.Ticket), 2},
		{"Located on", stated(d.date), 1},
		{"Valid until", stated(j.ValidUntil), 1},
		{"Area", stated(j.Area), 3},
		{"Locator", stated(j.Locator), 2},
		{"Frame", d.frameWords(), 5},
		{"Zone rule", d.ruleWords(), 8},
		{"Readings", words.Ledger(d.s.Counts), 3},
		{"Input", d.fingerprint(), 4},
		{"Made by", "loamline " + d.s.Version + ", map " + d.s.Name, 2},
	}...)
	if sh.kind != notesSheet {
		rows = append(rows, titleRow{"Scale", d.scaleWords(sh), 2})
	}
	return rows
}

// linesOn are the lines whose strips a page has.
func (d *drafter) linesOn(sh *drawnSheet) []int {
	var out []int
	for _, k := range d.onPage(sh) {
		if k.kind == stripSheet && !slices.Contains(out, k.line) {
			out = append(out, k.line)
		}
	}
	return out
}

func stated(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

func (d *drafter) frameWords() string {
	if said := d.s.Frame.In(d.u); said != "" {
		return said
	}
	return "datum " + stated(d.s.Job.Datum)
}

// ruleWords tells the rule of the first drawn zone; the notes have every line's.
func (d *drafter) ruleWords() string {
	for _, l := range d.lines {
		if l.Tolerance.HalfWidthM > 0 {
			return d.zoneWords() + "; " + words.ZoneRule(d.u, l.Tolerance)
		}
	}
	return ruleSource(d.s.Job.Tolerance.Rule)
}

// zoneWords tell how far the tolerance zone reaches from the mark, and where that
// comes from; of several widths the greatest.
func (d *drafter) zoneWords() string {
	half, edge := 0.0, false
	for i := range d.lines {
		z := d.lines[i].Tolerance
		half, edge = math.Max(half, z.HalfWidthM), edge || z.MeasuredFrom == trace.FromEdge
	}
	s := d.u.ShortUp(half) + " to each side of the drawn line"
	if edge {
		s += " (" + words.HalfWidth(d.u, d.s.Job.Tolerance.HalfWidthM) + " from the outer edge)"
	}
	return s
}

// validUntil tells when a locate lapses, or that nobody said so.
func validUntil(day string) string {
	if day == "" {
		return "no expiry date stated"
	}
	return "valid until " + day
}

func ruleSource(rule string) string {
	if rule == "" {
		return "rule not stated; local law takes precedence"
	}
	return rule
}

// fingerprint tells the inputs by the head of their SHA-256.
func (d *drafter) fingerprint() string {
	if len(d.s.Inputs) == 0 {
		return "none named"
	}
	s := "SHA-256 "
	for i, in := range d.s.Inputs {
		if i > 0 {
			s += ", "
		}
		s += in.SHA256[:min(12, len(in.SHA256))] + " " + in.Name
		if i == 3 && len(d.s.Inputs) > 4 {
			return s + " and " + strconv.Itoa(len(d.s.Inputs)-4) + " more, see the notes"
		}
	}
	return s
}

func (d *drafter) scaleWords(sh *drawnSheet) string {
	if sh.scale == 0 {
		return "no plan"
	}
	s := sh.scale.Words(d.u)
	for _, k := range d.onPage(sh) {
		if k.scale != sh.scale {
			s += " above, " + k.scale.Words(d.u) + " below,"
		}
	}
	s += " on " + string(d.paper) + ", printed at full size"
	return s
}

// titleBlock fills the foot of the column and returns its upper edge.
func (d *drafter) titleBlock(r plan.Rect, sh *drawnSheet) float64 {
	label, value := d.font(paper.Regular, d.lay.small(0.82, 0.92)), d.font(paper.Regular, d.lay.small(0.92, 1))
	label.Color = paper.Gray(70)
	const labelMM = 15.5
	rows := d.titleRows(sh)
	lines := make([][]string, len(rows))
	h := 0.0
	for i, row := range rows {
		lines[i] = d.c.WrapTo(row.value, value, r.W-labelMM, row.most)
		h += float64(len(lines[i]))*value.LineMM() + 0.5
	}
	big := d.font(paper.Bold, 1.9)
	footH := big.LineMM() + 1.5
	y := r.Bottom() - h - footH
	top := y
	for i, row := range rows {
		d.c.Lines(r.X, y+0.15, []string{row.label}, label)
		f := value
		if row.strong() {
			f.Face = paper.Bold
		}
		y = d.c.Lines(r.X+labelMM, y, lines[i], f) + 0.5
	}
	d.titleFoot(plan.Rect{X: r.X, Y: r.Bottom() - footH, W: r.W, H: footH}, sh, big)
	d.c.Line(plan.Pt{X: d.lay.column.X, Y: top - 1}, plan.Pt{X: d.lay.column.Right(), Y: top - 1}, heavyPen)
	return top - 1
}

// titleFoot says which sheet of how many, in large type.
func (d *drafter) titleFoot(r plan.Rect, sh *drawnSheet, big paper.Font) {
	d.c.Line(plan.Pt{X: r.X, Y: r.Y + 0.5}, plan.Pt{X: r.Right(), Y: r.Y + 0.5}, thinPen)
	base := r.Bottom() - 0.8
	no := strconv.Itoa(sh.no) + " of " + strconv.Itoa(d.total())
	noW := d.c.Width(no, big) + d.c.Width("sheet ", d.font(paper.Regular, 1)) + 2
	d.c.Text(plan.Pt{X: r.Right(), Y: base}, no, big, paper.Right)
	d.c.Text(plan.Pt{X: r.Right() - noW + 1, Y: base}, "sheet", d.font(paper.Regular, 1), paper.Left)
	name := d.font(paper.Bold, 1.1)
	what := map[sheetKind]string{overviewSheet: "Overview", notesSheet: "Notes"}[sh.kind]
	if sh.kind == stripSheet {
		var names []string
		for _, i := range d.linesOn(sh) {
			names = append(names, d.lines[i].Setup.Name)
		}
		what = "Line " + strings.Join(names, ", ")
	}
	d.c.Text(plan.Pt{X: r.X, Y: base}, d.c.Fit(what, name, r.W-noW-2), name, paper.Left)
}

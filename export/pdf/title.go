package pdf

import (
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

// titleBlock is the foot of the column: whose sheet it is, and which.
type titleBlock struct {
	*sheetSet
	*pencil
	sh *drawnSheet
}

// lineWords tells what a strip's line is and what its course rests on.
func (t *titleBlock) lineWords(l *drawnLine) string {
	used := 0
	for k := range l.Readings {
		if st := l.Readings[k].Status; st == trace.StatusUsed || st == trace.StatusExposed {
			used++
		}
	}
	text := t.c.Fit(words.LineTitle(l.Setup), t.font(paper.Regular, 0.92), t.lay.column.W*1.4)
	if setup := words.Setup(t.u, l.Setup); setup != "" {
		text += "; " + t.tongue.Say(setup)
	}
	traced := "traced " + t.u.Long(l.Centerline.TracedM()) + " on " + strconv.Itoa(used) + " of " + strconv.Itoa(len(l.Readings)) + " readings"
	return t.c.AsIs(text + "; " + t.tongue.Say(traced))[0]
}

func (t *titleBlock) rows() []titleRow {
	j := t.s.Job
	rows := []titleRow{}
	for _, i := range t.linesOn(t.sh) {
		rows = append(rows, titleRow{"Line", t.lineWords(&t.lines[i]), 4})
	}
	rows = append(rows, []titleRow{
		{"Ticket", stated(j.Ticket), 2},
		{"Located on", stated(t.date), 1},
		{"Valid until", stated(j.ValidUntil), 1},
		{"Area", stated(j.Area), 3},
		{"Locator", stated(j.Locator), 2},
		{"Frame", t.frameWords(), 5},
		{"Zone rule", t.ruleWords(), 8},
		{"Readings", words.Ledger(t.s.Counts), 3},
		{"Input", t.fingerprint(), 4},
		{"Made by", "loamline " + t.s.Version + ", map " + t.s.Name, 2},
	}...)
	if t.sh.kind != notesSheet {
		rows = append(rows, titleRow{"Scale", t.scaleWords(), 2})
	}
	return rows
}

func (t *titleBlock) scaleWords() string {
	if t.sh.scale == 0 {
		return "no plan"
	}
	s := t.sh.scale.Words(t.u)
	for _, k := range t.onPage(t.sh) {
		if k.scale != t.sh.scale {
			s += " above, " + k.scale.Words(t.u) + " below,"
		}
	}
	s += " on " + string(t.paper) + ", printed at full size"
	return s
}

// draw fills the foot of the column and returns its upper edge.
func (t *titleBlock) draw(r plan.Rect) float64 {
	label, value := t.font(paper.Regular, t.lay.small(0.82, 0.92)), t.font(paper.Regular, t.lay.small(0.92, 1))
	label.Color = paper.Gray(70)
	const labelMM = 15.5
	rows := t.rows()
	lines := make([][]string, len(rows))
	h := 0.0
	for i, row := range rows {
		lines[i] = t.c.WrapTo(row.value, value, r.W-labelMM, row.most)
		h += float64(len(lines[i]))*value.LineMM() + 0.5
	}
	big := t.font(paper.Bold, 1.9)
	footH := big.LineMM() + 1.5
	y := r.Bottom() - h - footH
	top := y
	for i, row := range rows {
		t.c.Lines(r.X, y+0.15, []string{row.label}, label)
		f := value
		if row.strong() {
			f.Face = paper.Bold
		}
		y = t.c.Lines(r.X+labelMM, y, lines[i], f) + 0.5
	}
	t.foot(plan.Rect{X: r.X, Y: r.Bottom() - footH, W: r.W, H: footH}, big)
	t.c.Line(plan.Pt{X: t.lay.column.X, Y: top - 1}, plan.Pt{X: t.lay.column.Right(), Y: top - 1}, heavyPen)
	return top - 1
}

// foot says which sheet of how many, in large type.
func (t *titleBlock) foot(r plan.Rect, big paper.Font) {
	t.c.Line(plan.Pt{X: r.X, Y: r.Y + 0.5}, plan.Pt{X: r.Right(), Y: r.Y + 0.5}, thinPen)
	base := r.Bottom() - 0.8
	no := strconv.Itoa(t.sh.no) + " of " + strconv.Itoa(t.total())
	noW := t.c.Width(no, big) + t.c.Width("sheet ", t.font(paper.Regular, 1)) + 2
	t.c.Text(plan.Pt{X: r.Right(), Y: base}, no, big, paper.Right)
	t.c.Text(plan.Pt{X: r.Right() - noW + 1, Y: base}, "sheet", t.font(paper.Regular, 1), paper.Left)
	name := t.font(paper.Bold, 1.1)
	what := map[sheetKind]string{overviewSheet: "Overview", notesSheet: "Notes"}[t.sh.kind]
	if t.sh.kind == stripSheet {
		var names []string
		for _, i := range t.linesOn(t.sh) {
			names = append(names, t.lines[i].Setup.Name)
		}
		what = "Line " + strings.Join(names, ", ")
	}
	t.c.Text(plan.Pt{X: r.X, Y: base}, t.c.Fit(what, name, r.W-noW-2), name, paper.Left)
}

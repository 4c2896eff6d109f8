package pdf

import (
	"slices"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
)

// checks lists what to check before digging, each with a box to tick, then what
// is to be known of the sheet's line. What finds no room is named as being in
// the notes, never left out silently.
func (d *drafter) checks(r plan.Rect, sh *drawnSheet) {
	y := d.heading(r, "CHECK BEFORE DIGGING")
	list := d.checkList(sh)
	items := len(list)
	for _, s := range d.lineNotes(sh) {
		list = append(list, checkItem{text: s, note: true})
	}
	room := plan.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y}
	f := d.checkFont(list, room)
	most, shown := d.checkLines(list, f, room), 0
	whole := true
	for i, item := range list {
		if most[i] == 0 {
			whole = false
			continue
		}
		lines := d.c.WrapTo(words.Stopped(item.text), f, r.W-checkTabMM, most[i])
		whole = whole && len(d.c.Wrap(words.Stopped(item.text), f, r.W-checkTabMM)) <= most[i]
		if !item.note {
			shown++
			d.c.Frame(plan.Rect{X: r.X + 0.2, Y: y + 0.35, W: f.SizePt * 0.3, H: f.SizePt * 0.3}, thinPen)
		}
		if item.no > 0 {
			d.numberDisc(plan.Pt{X: r.X + checkBoxMM + discMM, Y: y + discMM}, item.no)
		}
		y = d.c.Lines(r.X+checkTabMM, y, lines, f) + checkGapMM
	}
	if !whole {
		d.c.Lines(r.X+checkTabMM, y, d.checkMore(items-shown, r.W), d.font(paper.Bold, 1))
	}
}

// checkMore says where the rest of a list is.
func (d *drafter) checkMore(left int, widthMM float64) []string {
	more := "See the notes, " + d.notesWords()
	if left > 0 {
		more = "and " + strconv.Itoa(left) + " more: see the notes, " + d.notesWords()
	}
	return d.c.WrapTo(more, d.font(paper.Bold, 1), widthMM-checkTabMM, 2)
}

const (
	checkBoxMM = 3.8 // of the box to tick, with the space behind it
	checkTabMM = checkBoxMM + 2*discMM + 1
	checkGapMM = 0.8
	// checkLeastLines tell the place of an item and what is the matter there. Judgement.
	checkLeastLines = 2
)

// checkItem is one thing to check with its number on the plan, 0 for none; own where it
// is about what the sheet shows, a note where it is nothing to tick.
type checkItem struct {
	text      string
	no        int
	own, note bool
}

// checkLines is to how many lines each of a list is cut, 0 for what is left out: where
// not all has room in full, an item in a few words says more than a number of items that
// are elsewhere. What the sheet itself shows is cut last, and notes give way first.
func (d *drafter) checkLines(list []checkItem, f paper.Font, r plan.Rect) []int {
	fit := checkFit{list: list, lines: make([]int, len(list)), lineMM: f.LineMM(), items: len(list)}
	for fit.items > 0 && list[fit.items-1].note {
		fit.items--
	}
	// Of a job of many lines no more is looked at than could ever have room.
	looked := min(len(list), int(r.H/fit.lineMM)+1)
	for i, item := range list[:looked] {
		fit.lines[i] = len(d.c.Wrap(words.Stopped(item.text), f, r.W-checkTabMM))
	}
	if looked == len(list) && fit.heightMM(fit.lines) <= r.H {
		return fit.lines
	}
	fit.roomMM = r.H - float64(len(d.checkMore(fit.items, r.W)))*d.font(paper.Bold, 1).LineMM()
	if fit.items > looked {
		fit.items = looked
		return fit.asMany()
	}
	return fit.cut()
}

// checkFit is a list in too little room: how many lines each takes in full, items first,
// of which there are so many.
type checkFit struct {
	list           []checkItem
	lines          []int
	items          int
	lineMM, roomMM float64
}

func (c checkFit) heightMM(lines []int) (mm float64) {
	for _, n := range lines {
		if n > 0 {
			mm += float64(n)*c.lineMM + checkGapMM
		}
	}
	return mm
}

// cutTo holds the sheet's own items to a number of lines and the rest to another, without
// the notes.
func (c checkFit) cutTo(own, rest int) []int {
	out := make([]int, len(c.list))
	for i, item := range c.list[:c.items] {
		out[i] = min(c.lines[i], rest)
		if item.own {
			out[i] = min(c.lines[i], own)
		}
	}
	return out
}

// cut shows every item, if need be in few lines.
func (c checkFit) cut() []int {
	longest := checkLeastLines
	for _, n := range c.lines[:c.items] {
		longest = max(longest, n)
	}
	for rest := longest; rest >= checkLeastLines; rest-- {
		out := c.cutTo(longest, rest)
		if c.heightMM(out) > c.roomMM {
			continue
		}
		for i := c.items; i < len(c.list) && rest == longest; i++ { // as many of the notes as have room
			if out[i] = c.lines[i]; c.heightMM(out) > c.roomMM {
				out[i] = 0
				break
			}
		}
		return c.filled(out)
	}
	for own := longest; own > checkLeastLines; own-- {
		if out := c.cutTo(own-1, checkLeastLines); c.heightMM(out) <= c.roomMM {
			return c.filled(out)
		}
	}
	return c.asMany()
}

// filled gives the room that is left to the first of those that were cut.
func (c checkFit) filled(lines []int) []int {
	for i := range c.items {
		for lines[i] > 0 && lines[i] < c.lines[i] && c.heightMM(lines)+c.lineMM <= c.roomMM {
			lines[i]++
		}
	}
	return lines
}

// asMany shows as many items as have room in few lines, but never none.
func (c checkFit) asMany() []int {
	out := c.cutTo(checkLeastLines, checkLeastLines)
	for i := c.items - 1; i > 0 && c.heightMM(out) > c.roomMM; i-- {
		out[i] = 0
	}
	if c.heightMM(out) > c.roomMM {
		out[0] = 1
	}
	return c.filled(out)
}

// checkFont is the largest type in which the list fits: it is read in the rain.
func (d *drafter) checkFont(list []checkItem, r plan.Rect) paper.Font {
	for _, factor := range []float64{1.4, 1.25, 1.12} {
		f := d.font(paper.Regular, factor)
		h := 0.0
		for _, item := range list {
			h += float64(len(d.c.Wrap(words.Stopped(item.text), f, r.W-checkTabMM)))*f.LineMM() + checkGapMM
			if h > r.H { // a job of many lines has a list of many sheets' length
				break
			}
		}
		if h <= r.H {
			return f
		}
	}
	return d.font(paper.Regular, 1)
}

// checkList is the job's advice, first what is about the sheet's own lines or has a number
// on its plan whose words found no room there.
func (d *drafter) checkList(sh *drawnSheet) []checkItem {
	var own, rest []checkItem
	add := func(text string, no int, line string) {
		item := checkItem{text: text, no: no}
		item.own = d.shows(sh, line) || slices.ContainsFunc(d.unplaced, func(n numbered) bool { return n.no == no })
		if item.own {
			own = append(own, item)
		} else {
			rest = append(rest, item)
		}
	}
	for k, a := range d.items {
		add(words.Item(d.u, a), k+1, a.Line)
	}
	for _, n := range d.afterItems() {
		add(words.LookAt(d.u, n.Finding), n.no, n.OnLine())
	}
	if list := append(own, rest...); len(list) > 0 {
		return list
	}
	return []checkItem{{text: d.noAdvice()}}
}

// shows reports whether a page has a strip of a line.
func (d *drafter) shows(sh *drawnSheet, line string) bool {
	for _, k := range d.onPage(sh) {
		if k.kind == stripSheet && d.lines[k.line].Setup.Name == line {
			return true
		}
	}
	return false
}

// lineNotes is what people must know of the fit of a strip's line.
func (d *drafter) lineNotes(sh *drawnSheet) []string {
	if sh.kind != stripSheet {
		return nil
	}
	var out []string
	for i := range d.lines {
		if l := &d.lines[i]; d.shows(sh, l.Setup.Name) {
			for _, s := range words.Remarks(d.u, l.Centerline.Notes) {
				out = append(out, "Of "+l.Setup.Name+": "+s)
			}
		}
	}
	return out
}

// noAdvice stands where a job lists nothing to check.
func (d *drafter) noAdvice() string {
	if d.strips() == 0 {
		return "Nothing was traced on this job: have the lines located before any digging."
	}
	return "No particular check is listed for this job. Follow the cautions: expose every line before digging near it."
}

// notesWords names the sheets with the notes.
func (d *drafter) notesWords() string {
	first := 0
	for _, sh := range d.sheets {
		if sh.kind == notesSheet && first == 0 {
			first = sh.no
		}
	}
	return sheetsWords(first, d.pages())
}

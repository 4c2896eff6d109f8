package pdf

import (
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// checkColumn is the head of the column: what is to be checked before anybody digs.
type checkColumn struct {
	*sheetSet
	*pencil
	sh   *drawnSheet
	told map[int]bool // numbers of the findings on the page's plans
}

// draw lists what to check before digging, each with a box to tick, then what
// is to be known of the sheet's line. What finds no room is named as being in
// the notes, never left out silently.
func (col *checkColumn) draw(r plan.Rect) {
	y := col.heading(r, "CHECK BEFORE DIGGING")
	list := col.list()
	items := len(list)
	for _, s := range col.lineNotes() {
		list = append(list, checkItem{text: s, note: true})
	}
	room := plan.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y}
	f := col.fontFor(list, room)
	most, shown := col.cuts(list, f, room), 0
	whole := true
	for i, item := range list {
		if most[i] == 0 {
			whole = false
			continue
		}
		lines := col.c.WrapTo(words.Stopped(item.text), f, r.W-checkTabMM, most[i])
		whole = whole && len(col.c.Wrap(words.Stopped(item.text), f, r.W-checkTabMM)) <= most[i]
		if !item.note {
			shown++
			col.c.Frame(plan.Rect{X: r.X + 0.2, Y: y + 0.35, W: f.SizePt * 0.3, H: f.SizePt * 0.3}, thinPen)
		}
		if item.no > 0 {
			col.numberDisc(plan.Pt{X: r.X + checkBoxMM + discMM, Y: y + discMM}, item.no)
		}
		y = col.c.Lines(r.X+checkTabMM, y, lines, f) + checkGapMM
	}
	if !whole {
		col.c.Lines(r.X+checkTabMM, y, col.more(items-shown, r.W), col.font(paper.Bold, 1))
	}
}

// more says where the rest of a list is.
func (col *checkColumn) more(left int, widthMM float64) []string {
	more := "See the notes, " + col.notesWords()
	if left > 0 {
		more = "and " + strconv.Itoa(left) + " more: see the notes, " + col.notesWords()
	}
	return col.c.WrapTo(more, col.font(paper.Bold, 1), widthMM-checkTabMM, 2)
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

// cuts is to how many lines each of a list is cut, 0 for what is left out: where
// not all has room in full, an item in a few words says more than a number of items that
// are elsewhere. What the sheet itself shows is cut last, and notes give way first.
func (col *checkColumn) cuts(list []checkItem, f paper.Font, r plan.Rect) []int {
	fit := checkFit{list: list, lines: make([]int, len(list)), lineMM: f.LineMM(), items: len(list)}
	for fit.items > 0 && list[fit.items-1].note {
		fit.items--
	}
	// Of a job of many lines no more is looked at than could ever have room.
	looked := min(len(list), int(r.H/fit.lineMM)+1)
	for i, item := range list[:looked] {
		fit.lines[i] = len(col.c.Wrap(words.Stopped(item.text), f, r.W-checkTabMM))
	}
	if looked == len(list) && fit.heightMM(fit.lines) <= r.H {
		return fit.lines
	}
	fit.roomMM = r.H - float64(len(col.more(fit.items, r.W)))*col.font(paper.Bold, 1).LineMM()
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
	// What the sheet shows is told whole before anything else is: how far to keep off stands
	// at the end of an item.
	out := c.cutTo(longest, checkLeastLines)
	for i := c.items - 1; i >= 0; i-- {
		if c.list[i].own {
			continue
		}
		if out[i] = 0; c.heightMM(out) <= c.roomMM {
			return c.filled(out)
		}
	}
	for own := longest; own > checkLeastLines; own-- {
		out := c.cutTo(own-1, checkLeastLines)
		if out[0] = c.lines[0]; c.heightMM(out) <= c.roomMM { // the most important is told whole
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

// asMany shows as many items as have room in few lines, the most important whole where no
// more than a quarter of them gives way to that.
func (c checkFit) asMany() []int {
	few := c.dropped(c.cutTo(checkLeastLines, checkLeastLines))
	whole := c.cutTo(checkLeastLines, checkLeastLines)
	whole[0] = c.lines[0]
	if whole = c.dropped(whole); 4*shownItems(whole) >= 3*shownItems(few) && c.heightMM(whole) <= c.roomMM {
		return c.filled(whole)
	}
	return c.filled(few)
}

// dropped leaves out items from the last on until the others have room, but never all.
func (c checkFit) dropped(lines []int) []int {
	for i := c.items - 1; i > 0 && c.heightMM(lines) > c.roomMM; i-- {
		lines[i] = 0
	}
	if c.heightMM(lines) > c.roomMM {
		lines[0] = 1
	}
	return lines
}

func shownItems(lines []int) (n int) {
	for _, k := range lines {
		n += min(k, 1)
	}
	return n
}

// fontFor is the largest type in which the list fits: it is read in the rain.
func (col *checkColumn) fontFor(list []checkItem, r plan.Rect) paper.Font {
	for _, factor := range []float64{1.4, 1.25, 1.12} {
		f := col.font(paper.Regular, factor)
		h := 0.0
		for _, item := range list {
			h += float64(len(col.c.Wrap(words.Stopped(item.text), f, r.W-checkTabMM)))*f.LineMM() + checkGapMM
			if h > r.H { // a job of many lines has a list of many sheets' length
				break
			}
		}
		if h <= r.H {
			return f
		}
	}
	return col.font(paper.Regular, 1)
}

// list is the job's advice, first what has its number on the sheet's plans, and what is about
// all of a line that they show.
func (col *checkColumn) list() []checkItem {
	var own, rest []checkItem
	add := func(text string, no int, ofSheet bool) {
		item := checkItem{text: text, no: no, own: ofSheet || col.told[no]}
		if item.own {
			own = append(own, item)
		} else {
			rest = append(rest, item)
		}
	}
	for k, a := range col.items {
		add(words.Item(col.u, a), k+1, !trace.Known(a.FromM) && col.shows(col.sh, a.Line))
	}
	for _, n := range col.afterItems() {
		add(words.LookAt(col.u, n.Finding), n.no, false)
	}
	if list := append(own, rest...); len(list) > 0 {
		return list
	}
	return []checkItem{{text: col.noAdvice()}}
}

// lineNotes is what people must know of the fit of a strip's line.
func (col *checkColumn) lineNotes() []string {
	if col.sh.kind != stripSheet {
		return nil
	}
	var out []string
	for i := range col.lines {
		if l := &col.lines[i]; col.shows(col.sh, l.Setup.Name) {
			for _, s := range words.Remarks(col.u, l.Centerline.Notes) {
				out = append(out, "Of "+l.Setup.Name+": "+s)
			}
		}
	}
	return out
}

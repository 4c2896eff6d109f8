package pdf

import (
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
	boxes := len(list)
	for _, s := range d.lineNotes(sh) {
		list = append(list, checkItem{text: s})
	}
	f := d.checkFont(list, plan.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y})
	for i, item := range list {
		lines := d.c.Wrap(words.Stopped(item.text), f, r.W-checkTabMM)
		room := r.Bottom() - y
		if i < len(list)-1 {
			room -= 2 * f.LineMM()
		}
		if float64(len(lines))*f.LineMM() > room {
			more := "See the notes, " + d.notesWords()
			if i < boxes {
				more = "and " + strconv.Itoa(boxes-i) + " more: see the notes, " + d.notesWords()
			}
			bold := d.font(paper.Bold, 1)
			d.c.Lines(r.X+checkTabMM, y, d.c.WrapTo(more, bold, r.W-checkTabMM, 2), bold)
			return
		}
		if i < boxes {
			d.c.Frame(plan.Rect{X: r.X + 0.2, Y: y + 0.35, W: f.SizePt * 0.3, H: f.SizePt * 0.3}, thinPen)
		}
		if item.no > 0 {
			d.numberDisc(plan.Pt{X: r.X + checkBoxMM + discMM, Y: y + discMM}, item.no)
		}
		y = d.c.Lines(r.X+checkTabMM, y, lines, f) + checkGapMM
	}
}

const (
	checkBoxMM = 3.8 // of the box to tick, with the space behind it
	checkTabMM = checkBoxMM + 2*discMM + 1
	checkGapMM = 0.8
)

// checkItem is one thing to check with its number on the plan, 0 for none.
type checkItem struct {
	text string
	no   int
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

// checkList is the job's advice, that for the sheet's own line first, and what
// found no room on the plan.
func (d *drafter) checkList(sh *drawnSheet) []checkItem {
	var own, rest []checkItem
	for k, a := range d.items {
		item := checkItem{words.Item(d.u, a), k + 1}
		if d.shows(sh, a.Line) {
			own = append(own, item)
		} else {
			rest = append(rest, item)
		}
	}
	for _, n := range d.toRepeat() {
		item := checkItem{words.LookAt(d.u, n.Finding), n.no}
		if d.shows(sh, n.OnLine()) {
			own = append(own, item)
		} else {
			rest = append(rest, item)
		}
	}
	for _, n := range d.unplaced {
		if inconclusive(n.Finding) {
			continue // it is in the list
		}
		own = append(own, checkItem{"Number " + strconv.Itoa(n.no) + " on this plan, " + n.OnLine() + ": " + words.FindingTitle(d.u, n.Finding), 0})
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

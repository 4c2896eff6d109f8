package pdf

import (
	"maps"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
)

// crewPage is where things stand on a crew sheet, upright, in millimetres.
type crewPage struct {
	frame, head, plan, lists, cautions plan.Rect
}

const crewGapMM = 4.0 // between two columns of lists

// crewDraft is a crew sheet as it is laid out in one way, on its own paper or on a trial.
type crewDraft struct {
	uprightPage
	fit      crewFit
	signs    *marker
	head     *crewHead
	cautions *cautionBand
	at       crewPage
	cols     [][]noteBlock // two a page
}

func newCrewDraft(on uprightPage, fit crewFit) *crewDraft {
	d := &crewDraft{uprightPage: on, fit: fit, signs: newMarker(on.pencil), head: &crewHead{on.drawnJob, on.pencil}, cautions: newCautionBand(on.pencil, on.s)}
	d.cautions.readPt = fit.readPt
	if d.head.callWhole() {
		d.cautions.texts = d.cautions.texts[len(words.Contact(on.s)):]
	}
	return d
}

// drawnPlan is a plan that was drawn on a trial: how high it must be, for which its share
// of the page decides, and which signs are on it.
type drawnPlan struct {
	heightMM float64
	signs    map[sign]bool
}

// begin draws the plan in its share of a first page and flows the lists below it.
// Where drawn has a plan of that share already, it is neither looked for nor drawn again.
func (d *crewDraft) begin(drawn map[float64]drawnPlan) {
	f, headMM, share := d.lay.frame, d.head.heightMM(), d.fit.planShare
	area := crewPlan{d.sheetSet, d.signs}
	was, before := drawn[share]
	var view plan.View
	if !before {
		view, was.heightMM = area.view(plan.Rect{X: f.X, Y: f.Y + headMM, W: f.W, H: f.H * share})
	}
	band := d.cautions.heightMM(f.W)
	at := crewPage{frame: f, head: plan.Rect{X: f.X, Y: f.Y, W: f.W, H: headMM},
		plan:     plan.Rect{X: f.X, Y: f.Y + headMM, W: f.W, H: was.heightMM},
		cautions: plan.Rect{X: f.X, Y: f.Bottom() - crewFootMM - band, W: f.W, H: band}}
	at.lists = plan.Rect{X: f.X, Y: at.plan.Bottom(), W: f.W, H: at.cautions.Y - at.plan.Bottom()}.Inset(1.6)
	d.page("Crew sheet")
	if before {
		d.signs.used = maps.Clone(was.signs)
	} else {
		area.draw(view, at.plan)
		if drawn != nil {
			drawn[share] = drawnPlan{was.heightMM, maps.Clone(d.signs.used)}
		}
	}
	signs := legend{marker: d.signs, drawnJob: d.drawnJob, numberWords: "number of a finding in the lists above", readPt: d.fit.readPt}
	if h := signs.across(plan.Rect{X: at.lists.X, W: at.lists.W}, false); h > 0 {
		at.lists.H -= h + 1.5
		signs.across(plan.Rect{X: at.lists.X, Y: at.lists.Bottom() + 1.5, W: at.lists.W}, true)
	}
	d.at = at
	d.cols = d.flowed()
}

// pages is how many it takes.
func (d *crewDraft) pages() int { return 1 + max(0, len(d.cols)-2+1)/2 }

// written are the lists in a size of type, for the first page alone or going on on others, and
// whether a table of them runs out of its column.
func (d *crewDraft) written(widthMM, factor float64, goOn bool) (blocks []noteBlock, runsOut bool) {
	n := newCrewWriter(d.sheetSet, d.pencil, widthMM, factor)
	n.write(d.fit.stepM, d.head, goOn)
	return n.blocks, n.runsOut
}

// flowed are the lists over the columns of as many pages as they take:
// in the largest type that leaves them on the first.
func (d *crewDraft) flowed() [][]noteBlock {
	height := func(col int) float64 {
		if col < 2 {
			return d.at.lists.H
		}
		return d.again().H
	}
	w, least := crewColumn(d.at.lists, 0).W, d.fit.readPt/d.lay.basePt
	blocks, _ := d.written(w, least, false)
	if smallest := fill(blocks, height); len(smallest) <= 2 {
		for _, factor := range []float64{1.6, 1.5, 1.4, 1.3, 1.2} {
			if factor <= least {
				break
			}
			blocks, runsOut := d.written(w, factor, false)
			if cols := fill(blocks, height); len(cols) <= 2 && !runsOut {
				return cols
			}
		}
		return smallest
	}
	// Words say at the foot of a column that the lists go on.
	goesOn := func(col int) float64 {
		if col < 2 {
			return height(col) - d.font(paper.Bold, 1).LineMM()*1.2
		}
		return height(col)
	}
	blocks, _ = d.written(w, least, true)
	return fill(blocks, goesOn)
}

// lists draws the two columns of one page, the first of them the column first; where
// they go on, on the sheet next.
func (d *crewDraft) lists(r plan.Rect, first, next int) {
	for k := range 2 {
		if first+k < len(d.cols) {
			d.paragraphs(crewColumn(r, k), d.cols[first+k])
		}
	}
	right := crewColumn(r, 1)
	if first == 0 && len(d.cols) > 2 {
		f := d.font(paper.Bold, 1)
		d.c.Lines(right.X, right.Bottom()-f.LineMM()*1.1, []string{d.inBoth("These lists continue: see sheet " + strconv.Itoa(next) + " of " + strconv.Itoa(d.total()))}, f)
	}
	x := r.X + (r.W-crewGapMM)/2 + crewGapMM/2
	d.c.Line(plan.Pt{X: x, Y: r.Y}, plan.Pt{X: x, Y: r.Bottom()}, thinPen)
}

// again is the room for lists on a page after the first.
func (d *crewDraft) again() plan.Rect {
	f := d.at.frame
	return plan.Rect{X: f.X, Y: f.Y + crewAgainMM, W: f.W, H: d.at.cautions.Y - f.Y - crewAgainMM}.Inset(1.6)
}

func crewColumn(r plan.Rect, k int) plan.Rect {
	w := (r.W - crewGapMM) / 2
	return plan.Rect{X: r.X + float64(k%2)*(w+crewGapMM), Y: r.Y, W: w, H: r.H}
}

// ends draws what every page of a crew sheet has: cautions, foot, frame.
func (d *crewDraft) ends(no int) {
	d.cautions.draw(d.at.cautions)
	d.foot(d.at.frame, "Crew sheet", no)
}

package pdf

import (
	"slices"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

// crewPage is where things stand on a crew sheet, upright, in millimetres.
type crewPage struct {
	frame, head, plan, lists, cautions plan.Rect
}

// crewPaper is the sheet's size: that of the job's units, larger only on request.
func (set *sheetSet) crewPaper() Paper {
	if set.given != "" {
		return set.given
	}
	small, _ := papers(set.u)
	return small
}

// upright is the layout of a page that stands: words and tables across all of
// it, no column.
func upright(p Paper) sheetLayout {
	flat := layoutOf(p)
	lay := sheetLayout{page: plan.Rect{W: flat.page.H, H: flat.page.W}, basePt: 7}
	if lay.page.H > 400 {
		lay.basePt = 8.4
	}
	lay.frame = lay.page.Inset(8)
	lay.drawing = lay.frame
	return lay
}

// crewDrafter draws upright pages with the set's own findings and numbers.
func (d *drafter) crewDrafter() *drafter {
	set := *d.sheetSet
	set.paper = set.crewPaper()
	set.lay = upright(set.paper)
	return &drafter{sheetSet: &set, c: d.c, used: map[sign]bool{}, numberWords: "number of a finding in the lists below"}
}

const (
	crewAgainMM = 8.0 // the head of a page that goes on
	crewFootMM  = 4.2
	crewGapMM   = 4.0 // between two columns of lists
)

// crewHeadMM is the height of the head, which grows with the type.
func (d *drafter) crewHeadMM() float64 { return 4.03 * d.lay.basePt }

// crew prints the sheet for the glove box. What its lists have no room for goes
// on, in words, on pages after it.
func (d *drafter) crew() error {
	c := d.crewDrafter()
	f := c.lay.frame
	at, cols := c.crewLaid(d.crewFitting())
	pages := 1 + max(0, len(cols)-2+1)/2
	d.before.crew = pages
	d.follow(pages + d.before.stake)
	c.crewLists(at.lists, cols, 0)
	c.crewEnds(at, 1)
	if err := c.crewHead(at.head); err != nil {
		return err
	}
	for no := 2; no <= pages; no++ {
		c.c.PageOf(c.lay.page.W, c.lay.page.H, "Crew sheet, page "+strconv.Itoa(no))
		c.crewLists(c.crewAgain(at), cols, 2*(no-1))
		c.headAgain(plan.Rect{X: f.X, Y: f.Y, W: f.W, H: crewAgainMM}, "CREW SHEET, continued")
		c.crewEnds(at, no)
	}
	return nil
}

// crewLaid draws the plan in its share of the page and flows the lists below it.
func (d *drafter) crewLaid(fit crewFit) (crewPage, [][]noteBlock) {
	f, headMM := d.lay.frame, d.crewHeadMM()
	view, planMM := d.crewView(plan.Rect{X: f.X, Y: f.Y + headMM, W: f.W, H: f.H * fit.planShare})
	band := d.cautionsHeight(f.W)
	at := crewPage{frame: f, head: plan.Rect{X: f.X, Y: f.Y, W: f.W, H: headMM},
		plan:     plan.Rect{X: f.X, Y: f.Y + headMM, W: f.W, H: planMM},
		cautions: plan.Rect{X: f.X, Y: f.Bottom() - crewFootMM - band, W: f.W, H: band}}
	at.lists = plan.Rect{X: f.X, Y: at.plan.Bottom(), W: f.W, H: at.cautions.Y - at.plan.Bottom()}.Inset(1.6)
	d.c.PageOf(d.lay.page.W, d.lay.page.H, "Crew sheet")
	d.crewPlan(view, at.plan)
	if h := d.crewLegend(plan.Rect{X: at.lists.X, W: at.lists.W}, false); h > 0 {
		at.lists.H -= h + 1.5
		d.crewLegend(plan.Rect{X: at.lists.X, Y: at.lists.Bottom() + 1.5, W: at.lists.W}, true)
	}
	return at, d.crewColumns(at, fit)
}

// crewPlanShares are what part of the page the plan may have, the largest first: it
// gives way where the lists would go on to another page.
var crewPlanShares = []float64{0.36, 0.31, 0.26, 0.22, 0.18}

// crewFit is how the crew sheet is laid out: the plan's share of the page, how close
// the depths stand, and the least size of type, in parts of the sheet's own.
type crewFit struct{ planShare, stepM, leastType float64 }

// crewTypes are the least sizes of type: that of the sheet, 7 points on A4 and letter,
// and where nothing fits in that, a tenth less.
var crewTypes = []float64{1, 0.9}

// crewFitting is the largest type, then the closest depths, then the largest plan with
// which all stands on one page, tried out on paper that is thrown away; where nothing
// does, the plan keeps its size and the lists go on.
func (d *drafter) crewFitting() crewFit {
	trial := paper.New(d.lay.page.W, d.lay.page.H, paper.Info{}) // a page of it for each
	steps := slices.Compact([]float64{d.stationStepM(0), d.stationStepM(10), d.stationStepM(20)})
	for _, least := range crewTypes {
		if !d.crewFits(trial, crewFit{crewPlanShares[len(crewPlanShares)-1], steps[len(steps)-1], least}) {
			continue // then no other does
		}
		for _, stepM := range steps {
			for _, share := range crewPlanShares {
				if fit := (crewFit{share, stepM, least}); d.crewFits(trial, fit) {
					return fit
				}
			}
		}
	}
	return crewFit{crewPlanShares[0], steps[0], 1}
}

// crewFits reports whether all stands on one page.
func (d *drafter) crewFits(trial *paper.Canvas, fit crewFit) bool {
	d.goOn()
	c := d.crewDrafter()
	c.c = trial
	c.speak(c.c)
	_, cols := c.crewLaid(fit)
	return len(cols) <= 2
}

// crewAgain is the room for lists on a page after the first.
func (d *drafter) crewAgain(at crewPage) plan.Rect {
	f := at.frame
	return plan.Rect{X: f.X, Y: f.Y + crewAgainMM, W: f.W, H: at.cautions.Y - f.Y - crewAgainMM}.Inset(1.6)
}

func crewColumn(r plan.Rect, k int) plan.Rect {
	w := (r.W - crewGapMM) / 2
	return plan.Rect{X: r.X + float64(k%2)*(w+crewGapMM), Y: r.Y, W: w, H: r.H}
}

// crewEnds draws what every page of a crew sheet has: cautions, foot, frame.
func (d *drafter) crewEnds(at crewPage, no int) {
	d.cautions(at.cautions)
	d.foot(at.frame, "Crew sheet", no)
}

// foot says what made a page and which of all it is.
func (d *drafter) foot(f plan.Rect, what string, no int) {
	base := f.Bottom() - 1.2
	small, big := d.font(paper.Regular, 0.86), d.font(paper.Bold, 1.15)
	page := what + ", sheet " + strconv.Itoa(no) + " of " + strconv.Itoa(d.total())
	d.c.Text(plan.Pt{X: f.Right() - 1.5, Y: base}, page, big, paper.Right)
	words := "loamline " + d.s.Version + ", map " + d.s.Name + ". " + d.fingerprint()
	if d.prints("full") {
		words += ". The plan and profile set follows."
	}
	d.c.Text(plan.Pt{X: f.X + 1.5, Y: base}, d.c.Fit(words, small, f.W-d.c.Width(page, big)-6), small, paper.Left)
	d.c.Frame(f, paper.Pen{WidthMM: 0.7, Color: paper.Black})
}

// headAgain heads a page after the first with what it belongs to.
func (d *drafter) headAgain(r plan.Rect, title string) {
	big, f := d.font(paper.Bold, 1.5), d.font(paper.Regular, 1.05)
	base := r.Y + r.H*0.66
	d.c.Text(plan.Pt{X: r.X + 1.6, Y: base}, title, big, paper.Left)
	x := r.X + 5 + d.c.Width(title, big)
	d.c.Text(plan.Pt{X: x, Y: base}, d.c.Fit("Ticket "+stated(d.s.Job.Ticket)+", located on "+stated(d.date)+", "+validUntil(d.s.Job.ValidUntil)+". "+d.s.Job.Area, f, r.Right()-x-2), f, paper.Left)
	d.c.Line(plan.Pt{X: r.X, Y: r.Bottom()}, plan.Pt{X: r.Right(), Y: r.Bottom()}, heavyPen)
}

// stationStepM is the distance between the depths of a crew sheet: a few metres,
// more where the lines are long.
func (d *drafter) stationStepM(least float64) float64 {
	total := 0.0
	for i := range d.lines {
		total += d.lines[i].path.Length()
	}
	unit := 1.0
	if d.u == geo.US {
		unit = geo.FootM * 5
	}
	for _, s := range []float64{5, 10, 20, 50, 100} {
		if s >= least && total/(s*unit) <= 240 {
			return s * unit
		}
	}
	return 200 * unit
}

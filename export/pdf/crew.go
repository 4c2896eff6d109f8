package pdf

import (
	"maps"
	"math"
	"slices"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/tongue"
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
	return &drafter{sheetSet: &set, c: d.c, used: map[sign]bool{}, numberWords: "number of a finding in the lists above"}
}

const (
	crewAgainMM = 8.0 // the head of a page that goes on
	crewFootMM  = 4.2
	crewGapMM   = 4.0 // between two columns of lists
)

// crewSide is a crew sheet in one language, or in both at once, with how it is laid
// out and on how many pages.
type crewSide struct {
	*drafter
	fit       crewFit
	pages     int
	otherSide string // what tells where the other language is; "" for none
}

// crew prints the sheet for the glove box. What its lists have no room for goes
// on, in words, on pages after it. A sheet in two languages that has no room for both
// on one page has one on each side of the paper.
func (d *drafter) crew() error {
	sides := d.crewSides()
	d.before.crew = 0
	for _, side := range sides {
		d.before.crew += side.pages
	}
	d.follow(d.before.crew + d.before.stake)
	first := 1
	for _, side := range sides {
		var err error
		side.inItsLanguage(func() { err = side.print(first) })
		if err != nil {
			return err
		}
		first += side.pages
	}
	return nil
}

// print draws the pages of a side, the first of which has the number first.
func (d *crewSide) print(first int) error {
	f := d.lay.frame
	at, cols := d.crewLaid(d.fit, nil)
	d.crewLists(at.lists, cols, 0, first+1)
	d.crewEnds(at, first)
	if err := d.crewHead(at.head, d.otherSide); err != nil {
		return err
	}
	for no := 1; no < d.pages; no++ {
		d.c.PageOf(d.lay.page.W, d.lay.page.H, "Crew sheet, page "+strconv.Itoa(first+no))
		d.crewLists(d.crewAgain(at), cols, 2*no, 0)
		d.headAgain(plan.Rect{X: f.X, Y: f.Y, W: f.W, H: crewAgainMM}, "CREW SHEET, continued", "")
		d.crewEnds(at, first+no)
	}
	return nil
}

// crewSides is the sheet as it stands, and where two languages have no room on one
// page, a side for each.
func (d *drafter) crewSides() []crewSide {
	whole := d.crewSide(d.tongue)
	if !d.tongue.Both() || whole.pages == 1 {
		return []crewSide{whole}
	}
	other, english := d.crewSide(d.tongue.Alone()), d.crewSide(nil)
	other.otherSide, english.otherSide = d.otherSides(1, other.pages+1)
	return []crewSide{other, english}
}

// otherSides are what tells on a sheet where the other language is, for those of the
// other language and for those in English.
func (d *drafter) otherSides(other, english int) (onOther, onEnglish string) {
	return "In English: sheet " + strconv.Itoa(english), d.tongue.Say("In Spanish: sheet " + strconv.Itoa(other))
}

func (d *drafter) crewSide(by *tongue.Speaker) crewSide {
	side := crewSide{drafter: d.crewDrafter()}
	side.tongue = by
	side.inItsLanguage(func() { side.fit, side.pages = side.crewFitting() })
	return side
}

// inItsLanguage draws in English where the sheet speaks it alone, whatever the canvas
// speaks.
func (d *drafter) inItsLanguage(draw func()) {
	if d.tongue == nil {
		d.c.AsWritten(func() { d.ruler.AsWritten(draw) })
		return
	}
	draw()
}

// crewLaid draws the plan in its share of the page and flows the lists below it.
// Where drawn has a plan of that share already, it is neither looked for nor drawn again.
func (d *drafter) crewLaid(fit crewFit, drawn map[float64]drawnPlan) (crewPage, [][]noteBlock) {
	f, headMM := d.lay.frame, d.crewHeadMM()
	d.lay.readPt = fit.readPt
	was, before := drawn[fit.planShare]
	var view plan.View
	if !before {
		view, was.heightMM = d.crewView(plan.Rect{X: f.X, Y: f.Y + headMM, W: f.W, H: f.H * fit.planShare})
	}
	band := d.cautionsHeight(f.W)
	at := crewPage{frame: f, head: plan.Rect{X: f.X, Y: f.Y, W: f.W, H: headMM},
		plan:     plan.Rect{X: f.X, Y: f.Y + headMM, W: f.W, H: was.heightMM},
		cautions: plan.Rect{X: f.X, Y: f.Bottom() - crewFootMM - band, W: f.W, H: band}}
	at.lists = plan.Rect{X: f.X, Y: at.plan.Bottom(), W: f.W, H: at.cautions.Y - at.plan.Bottom()}.Inset(1.6)
	d.c.PageOf(d.lay.page.W, d.lay.page.H, "Crew sheet")
	if before {
		d.used = maps.Clone(was.signs)
	} else {
		d.crewPlan(view, at.plan)
		if drawn != nil {
			drawn[fit.planShare] = drawnPlan{was.heightMM, maps.Clone(d.used)}
		}
	}
	if h := d.crewLegend(plan.Rect{X: at.lists.X, W: at.lists.W}, false); h > 0 {
		at.lists.H -= h + 1.5
		d.crewLegend(plan.Rect{X: at.lists.X, Y: at.lists.Bottom() + 1.5, W: at.lists.W}, true)
	}
	return at, d.crewColumns(at, fit)
}

// What part of the page the plan may have, the largest first: it gives way where the
// lists would go on to another page, and to a small one last.
var (
	crewFairShares  = []float64{0.36, 0.31, 0.26, 0.22}
	crewSmallShares = []float64{0.18, 0.165}
	crewLeastShare  = 0.15 // in the least type alone, where nothing else saves a page
)

// crewFit is how the crew sheet is laid out: the plan's share of the page, how close
// the depths stand, and the least size of type of lists, cautions and legend.
type crewFit struct{ planShare, stepM, readPt float64 }

// crewTypes are those sizes in points: 8 can be read with a dusty hand at arm's
// length (common practice, no source), and smaller ones are for a list that would
// otherwise go on to another page. Two languages on one page keep to leastBothPt, for
// they can have a side each.
var crewTypes = []float64{8, 7.5, 7, 6.6, 6.3, 6}

const leastBothPt = 7

// crewFitting is the largest type, then a plan of fair size, the closest depths and the
// largest plan with which all stands on one page, tried out on paper that is thrown
// away; where nothing does, the lists go on, and plan and type give way only where that
// saves a page. It tells on how many pages.
func (d *drafter) crewFitting() (crewFit, int) {
	trial := crewTrial{paper.New(d.lay.page.W, d.lay.page.H, paper.Info{}), map[float64]drawnPlan{}}
	steps := slices.Compact([]float64{d.stationStepM(0), d.stationStepM(10), d.stationStepM(20)})
	fits := func(fit crewFit) bool { return d.crewTried(trial, fit) == 1 }
	for _, pt := range crewTypes {
		if pt < leastBothPt && d.tongue.Both() {
			break
		}
		if !fits(crewFit{crewSmallShares[len(crewSmallShares)-1], steps[len(steps)-1], pt}) {
			continue // then no other does
		}
		for _, shares := range [][]float64{crewFairShares, crewSmallShares} { // no plan is crowded for closer depths
			for _, stepM := range steps {
				least := crewFit{shares[len(shares)-1], stepM, pt}
				if !fits(least) {
					continue // nor beside a larger plan
				}
				for _, share := range shares[:len(shares)-1] {
					if fit := (crewFit{share, stepM, pt}); fits(fit) {
						return fit, 1
					}
				}
				return least, 1
			}
		}
	}
	if fit := (crewFit{crewLeastShare, steps[len(steps)-1], crewTypes[len(crewTypes)-1]}); !d.tongue.Both() && fits(fit) {
		return fit, 1
	}
	best, least, small := crewFit{}, math.MaxInt, crewFairShares[len(crewFairShares)-1]
	for _, fit := range []crewFit{{crewFairShares[0], steps[0], crewTypes[0]}, {small, steps[0], crewTypes[0]}, {small, steps[0], leastBothPt}} {
		if pages := d.crewTried(trial, fit); pages < least {
			best, least = fit, pages
		}
	}
	return best, least
}

// crewTrial is paper that is thrown away, a page of it for each try, and the plans that
// were tried, by their share of the page.
type crewTrial struct {
	paper *paper.Canvas
	drawn map[float64]drawnPlan
}

// drawnPlan is a plan that was drawn on a trial: how high it must be, for which its share
// of the page decides, and which signs are on it.
type drawnPlan struct {
	heightMM float64
	signs    map[sign]bool
}

// crewTried is on how many pages all stands.
func (d *drafter) crewTried(trial crewTrial, fit crewFit) int {
	d.goOn()
	c := d.crewDrafter()
	c.c = trial.paper
	c.speak(c.c)
	_, cols := c.crewLaid(fit, trial.drawn)
	return 1 + max(0, len(cols)-2+1)/2
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
	room := f.W - d.c.Width(page, big) - 6
	if more := words + ". The plan and profile set follows."; d.prints("full") && d.c.Width(more, small) <= room { // a sentence is said whole or not at all
		words = more
	}
	d.c.Text(plan.Pt{X: f.X + 1.5, Y: base}, d.c.Fit(words, small, room), small, paper.Left)
	d.c.Frame(f, paper.Pen{WidthMM: 0.7, Color: paper.Black})
}

// headAgain heads a page after the first with what it belongs to, and where the other
// language is, if on another page.
func (d *drafter) headAgain(r plan.Rect, title, otherSide string) {
	big, f := d.font(paper.Bold, 1.5), d.font(paper.Regular, 1.05)
	base := r.Y + r.H*0.66
	d.c.Text(plan.Pt{X: r.X + 1.6, Y: base}, title, big, paper.Left)
	x, right := r.X+5+d.c.Width(title, big), r.Right()-2
	if other := d.font(paper.Bold, 1); otherSide != "" {
		d.c.Text(plan.Pt{X: right, Y: base}, otherSide, other, paper.Right)
		right -= d.c.Width(otherSide, other) + 3
	}
	d.c.Text(plan.Pt{X: x, Y: base}, d.c.Fit("Ticket "+stated(d.s.Job.Ticket)+", located on "+stated(d.date)+", "+validUntil(d.s.Job.ValidUntil)+". "+d.s.Job.Area, f, right-x), f, paper.Left)
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

package pdf

import (
	"math"
	"slices"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/tongue"
)

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

// crewSides is the sheet as it stands, and where two languages have no room on one
// page, a side for each.
func (d *drafter) crewSides() []*crewSide {
	whole := d.crewSide(d.tongue)
	if !d.tongue.Both() || whole.pages == 1 {
		return []*crewSide{whole}
	}
	other, english := d.crewSide(d.tongue.Alone()), d.crewSide(nil)
	other.otherSide, english.otherSide = otherSides(d.tongue, 1, other.pages+1)
	return []*crewSide{other, english}
}

func (d *drafter) crewSide(by *tongue.Speaker) *crewSide {
	side := &crewSide{uprightPage: d.uprightPage(d.pencil, by)}
	side.inItsLanguage(func() { side.fit, side.pages = side.fitting() })
	return side
}

// crewSide is a crew sheet in one language, or in both at once, with how it is laid
// out and on how many pages.
type crewSide struct {
	uprightPage
	fit       crewFit
	pages     int
	otherSide string // what tells where the other language is; "" for none
}

// print draws the pages of a side, the first of which has the number first.
func (side *crewSide) print(first int) error {
	d := newCrewDraft(side.uprightPage, side.fit)
	d.begin(nil)
	d.lists(d.at.lists, 0, first+1)
	d.ends(first)
	if err := d.head.draw(d.at.head, side.otherSide); err != nil {
		return err
	}
	f := d.lay.frame
	for no := 1; no < side.pages; no++ {
		d.page("Crew sheet, page " + strconv.Itoa(first+no))
		d.lists(d.again(), 2*no, 0)
		d.headAgain(plan.Rect{X: f.X, Y: f.Y, W: f.W, H: crewAgainMM}, "CREW SHEET, continued", "")
		d.ends(first + no)
	}
	return nil
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

// fitting is the largest type, then a plan of fair size, the closest depths and the
// largest plan with which all stands on one page, tried out on paper that is thrown
// away; where nothing does, the lists go on, and plan and type give way only where that
// saves a page. It tells on how many pages.
func (side *crewSide) fitting() (crewFit, int) {
	trial := crewTrial{paper.New(side.lay.page.W, side.lay.page.H, paper.Info{}), map[float64]drawnPlan{}}
	steps := slices.Compact([]float64{side.stationStepM(0), side.stationStepM(10), side.stationStepM(20)})
	fits := func(fit crewFit) bool { return side.tried(trial, fit) == 1 }
	for _, pt := range crewTypes {
		if pt < leastBothPt && side.tongue.Both() {
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
	if fit := (crewFit{crewLeastShare, steps[len(steps)-1], crewTypes[len(crewTypes)-1]}); !side.tongue.Both() && fits(fit) {
		return fit, 1
	}
	best, least, small := crewFit{}, math.MaxInt, crewFairShares[len(crewFairShares)-1]
	for _, fit := range []crewFit{{crewFairShares[0], steps[0], crewTypes[0]}, {small, steps[0], crewTypes[0]}, {small, steps[0], leastBothPt}} {
		if pages := side.tried(trial, fit); pages < least {
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

// tried is on how many pages all stands.
func (side *crewSide) tried(trial crewTrial, fit crewFit) int {
	side.goOn()
	p := newPencil(trial.paper, side.lay, side.tongue, side.asked)
	d := newCrewDraft(uprightPage{side.sheetSet, p}, fit)
	d.begin(trial.drawn)
	return d.pages()
}

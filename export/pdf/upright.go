package pdf

import (
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/tongue"
)

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

// crewPaper is the sheet's size: that of the job's units, larger only on request.
func (set *sheetSet) crewPaper() Paper {
	if set.given != "" {
		return set.given
	}
	small, _ := papers(set.u)
	return small
}

const (
	crewAgainMM = 8.0 // the head of a page that goes on
	crewFootMM  = 4.2
)

// uprightPage is what the pages of crew sheet and stake-out table have in common: they
// stand, and have a head and a foot instead of a column.
type uprightPage struct {
	*sheetSet
	*pencil
}

// uprightPage draws on a canvas of the set's, in one of its languages.
func (set *sheetSet) uprightPage(p *pencil, by *tongue.Speaker) uprightPage {
	return uprightPage{set, p.on(upright(set.crewPaper()), by)}
}

// otherSides are what tells on a sheet where the other language is, for those of the
// other language and for those in English.
func otherSides(by *tongue.Speaker, other, english int) (onOther, onEnglish string) {
	return "In English: sheet " + strconv.Itoa(english), by.Say("In Spanish: sheet " + strconv.Itoa(other))
}

// foot says what made a page and which of all it is.
func (u *uprightPage) foot(f plan.Rect, what string, no int) {
	base := f.Bottom() - 1.2
	small, big := u.font(paper.Regular, 0.86), u.font(paper.Bold, 1.15)
	page := what + ", sheet " + strconv.Itoa(no) + " of " + strconv.Itoa(u.total())
	u.c.Text(plan.Pt{X: f.Right() - 1.5, Y: base}, page, big, paper.Right)
	words := "loamline " + u.s.Version + ", map " + u.s.Name + ". " + u.fingerprint()
	room := f.W - u.c.Width(page, big) - 6
	if more := words + ". The plan and profile set follows."; u.prints("full") && u.c.Width(more, small) <= room { // a sentence is said whole or not at all
		words = more
	}
	u.c.Text(plan.Pt{X: f.X + 1.5, Y: base}, u.c.Fit(words, small, room), small, paper.Left)
	u.c.Frame(f, paper.Pen{WidthMM: 0.7, Color: paper.Black})
}

// headAgain heads a page after the first with what it belongs to, and where the other
// language is, if on another page.
func (u *uprightPage) headAgain(r plan.Rect, title, otherSide string) {
	big, f := u.font(paper.Bold, 1.5), u.font(paper.Regular, 1.05)
	base := r.Y + r.H*0.66
	u.c.Text(plan.Pt{X: r.X + 1.6, Y: base}, title, big, paper.Left)
	x, right := r.X+5+u.c.Width(title, big), r.Right()-2
	if other := u.font(paper.Bold, 1); otherSide != "" {
		u.c.Text(plan.Pt{X: right, Y: base}, otherSide, other, paper.Right)
		right -= u.c.Width(otherSide, other) + 3
	}
	u.c.Text(plan.Pt{X: x, Y: base}, u.c.Fit("Ticket "+stated(u.s.Job.Ticket)+", located on "+stated(u.date)+", "+validUntil(u.s.Job.ValidUntil)+". "+u.s.Job.Area, f, right-x), f, paper.Left)
	u.c.Line(plan.Pt{X: r.X, Y: r.Bottom()}, plan.Pt{X: r.Right(), Y: r.Bottom()}, heavyPen)
}

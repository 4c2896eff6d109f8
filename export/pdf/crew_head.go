package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
)

// crewCode is a text for a phone's camera, and what it opens.
type crewCode struct{ text, words string }

func (d *drafter) crewCodes() []crewCode {
	var out []crewCode
	for _, k := range []crewCode{{d.s.Job.PageURL, "the page of this map"}, {d.geoLink(), "the place, in a phone's map"}} {
		if k.text != "" {
			out = append(out, k)
		}
	}
	return out
}

const crewCodeGapMM = 3.5

// crewLabelMM is the width of the names of the facts.
func (d *drafter) crewLabelMM() float64 {
	wide := 12.0
	for _, row := range d.crewFacts() {
		wide = math.Max(wide, d.c.Width(d.inBoth(row[0]), d.font(paper.Regular, 0.86))+2.5)
	}
	return wide
}

// crewCodeMM is the side of a code in the head.
func (d *drafter) crewCodeMM() float64 { return d.crewCodesHeadMM() - 4.5 }

// crewFactMM is the width that a fact of the head has, clear of the codes.
func (d *drafter) crewFactMM() float64 {
	return d.lay.frame.W - 1 - float64(len(d.crewCodes()))*(d.crewCodeMM()+crewCodeGapMM) - d.crewLabelMM() - 3
}

// crewFacts are what the head tells of the job, each with its name.
func (d *drafter) crewFacts() [][2]string {
	return [][2]string{
		{"Located on", stated(d.date) + "; " + validUntil(d.s.Job.ValidUntil)},
		{"Area", stated(d.s.Job.Area)},
		{"Locator", stated(d.s.Job.Locator)},
		{"Zone rule", d.ruleWords()},
		{"Readings", words.Ledger(d.s.Counts)},
	}
}

// headFact is a fact as the head has it.
type headFact struct {
	line    string
	english string // on a line of its own where two languages have no room on one; else ""
	whole   bool   // nothing is cut, and a rule of many words is not told by its figures
}

func (d *drafter) crewFact(i int, row [2]string) headFact {
	f, texts := d.crewFactFont(i), []string{row[1]}
	if row[0] == "Zone rule" {
		texts = append(texts, d.zoneWords()+"; the rule stands below, in full")
	}
	fits := func(s string) bool { return len(d.c.Wrap(s, f, d.crewFactMM())) == 1 }
	for k, s := range texts {
		if both := d.inBoth(s); fits(both) {
			return headFact{both, "", k == 0}
		}
		if !d.tongue.Both() || !fits(s) {
			continue
		}
		room := false
		d.c.AsWritten(func() { room = fits(s) })
		if room {
			return headFact{s, s, k == 0}
		}
	}
	return headFact{line: d.c.WrapTo(d.inBoth(texts[len(texts)-1]), f, d.crewFactMM(), 1)[0]}
}

func (d *drafter) crewFactFont(i int) paper.Font {
	f := d.font(paper.Regular, 1)
	if i == 0 {
		f.Face = paper.Bold
	}
	return f
}

// crewFactsInFull are the facts that the head cuts, whole.
func (d *drafter) crewFactsInFull() []string {
	var out []string
	for i, row := range d.crewFacts() {
		if !d.crewFact(i, row).whole {
			out = append(out, row[0]+": "+row[1])
		}
	}
	if t := "Ticket " + stated(d.s.Job.Ticket); d.c.Width(t, d.font(paper.Bold, 1.5)) > d.crewFactMM()-d.c.Width(d.inBoth("CREW SHEET"), d.font(paper.Bold, 2.1)) {
		out = append(out, t)
	}
	return out
}

// crewCodesHeadMM is the height of a head of one line a fact, which grows with the type:
// that of the codes.
func (d *drafter) crewCodesHeadMM() float64 { return 4.03 * d.lay.basePt }

// crewHeadMM is the height of the head.
func (d *drafter) crewHeadMM() float64 {
	mm := d.crewCodesHeadMM()
	for i, row := range d.crewFacts() {
		if d.crewFact(i, row).english != "" {
			mm += d.crewFactFont(i).LineMM()
		}
	}
	return mm
}

// crewHead tells the job, with codes for a phone's camera at its right, and where the
// other language is, if on another page.
func (d *drafter) crewHead(r plan.Rect, otherSide string) error {
	right := r.Right() - 1
	for _, k := range d.crewCodes() {
		box := plan.Rect{X: right - d.crewCodeMM(), Y: r.Y + 0.6, W: d.crewCodeMM(), H: d.crewCodeMM()}
		if err := d.code(box, k.text); err != nil {
			return err
		}
		f := d.font(paper.Regular, 0.8)
		d.c.Text(plan.Pt{X: box.Center().X, Y: r.Y + d.crewCodesHeadMM() - 1.4}, k.words, f, paper.Middle)
		right = box.X - crewCodeGapMM
	}
	big := d.font(paper.Bold, 2.1)
	base := r.Y + big.LineMM() + 0.4
	d.c.Text(plan.Pt{X: r.X + 1.6, Y: base}, d.inBoth("CREW SHEET"), big, paper.Left)
	after := r.X + 6 + d.c.Width(d.inBoth("CREW SHEET"), big)
	ticket := d.font(paper.Bold, 1.5)
	if other := d.font(paper.Bold, 1); otherSide != "" {
		d.c.Text(plan.Pt{X: right, Y: base}, otherSide, other, paper.Right)
		right -= d.c.Width(otherSide, other) + 2
	}
	d.c.Text(plan.Pt{X: after, Y: base}, d.c.Fit("Ticket "+stated(d.s.Job.Ticket), ticket, right-after), ticket, paper.Left)
	label := d.font(paper.Regular, 0.86)
	label.Color = paper.Gray(70)
	x, y := r.X+1.6+d.crewLabelMM(), base+1.6
	for i, row := range d.crewFacts() {
		d.c.Lines(r.X+1.6, y+0.15, []string{d.inBoth(row[0])}, label)
		fact := d.crewFact(i, row)
		y = d.c.Lines(x, y, []string{fact.line}, d.crewFactFont(i))
		if fact.english != "" {
			d.c.AsWritten(func() { y = d.c.Lines(x, y, []string{fact.english}, d.crewFactFont(i)) })
		}
		y += 0.35
	}
	d.c.Line(plan.Pt{X: r.X, Y: r.Bottom()}, plan.Pt{X: r.Right(), Y: r.Bottom()}, heavyPen)
	return nil
}

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
func crewCodeMM(head plan.Rect) float64 { return head.H - 4.5 }

// crewFactMM is the width that a fact of the head has, clear of the codes.
func (d *drafter) crewFactMM(head plan.Rect) float64 {
	return head.W - 1 - float64(len(d.crewCodes()))*(crewCodeMM(head)+crewCodeGapMM) - d.crewLabelMM() - 3
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

// crewFactsInFull are the facts that one line of the head cuts, whole.
func (d *drafter) crewFactsInFull() []string {
	head := plan.Rect{W: d.lay.frame.W, H: d.crewHeadMM()}
	var out []string
	for _, row := range d.crewFacts() {
		if len(d.c.Wrap(d.inBoth(row[1]), d.font(paper.Regular, 1), d.crewFactMM(head))) > 1 {
			out = append(out, row[0]+": "+row[1])
		}
	}
	if t := "Ticket " + stated(d.s.Job.Ticket); d.c.Width(t, d.font(paper.Bold, 1.5)) > d.crewFactMM(head)-d.c.Width(d.inBoth("CREW SHEET"), d.font(paper.Bold, 2.1)) {
		out = append(out, t)
	}
	return out
}

// crewHead tells the job, with codes for a phone's camera at its right, and where the
// other language is, if on another page.
func (d *drafter) crewHead(r plan.Rect, otherSide string) error {
	right := r.Right() - 1
	for _, k := range d.crewCodes() {
		box := plan.Rect{X: right - crewCodeMM(r), Y: r.Y + 0.6, W: crewCodeMM(r), H: crewCodeMM(r)}
		if err := d.code(box, k.text); err != nil {
			return err
		}
		f := d.font(paper.Regular, 0.8)
		d.c.Text(plan.Pt{X: box.Center().X, Y: r.Bottom() - 1.4}, k.words, f, paper.Middle)
		right = box.X - crewCodeGapMM
	}
	big := d.font(paper.Bold, 2.1)
	base := r.Y + big.LineMM() + 0.4
	d.c.Text(plan.Pt{X: r.X + 1.6, Y: base}, d.inBoth("CREW SHEET"), big, paper.Left)
	x := r.X + 6 + d.c.Width(d.inBoth("CREW SHEET"), big)
	ticket := d.font(paper.Bold, 1.5)
	if other := d.font(paper.Bold, 1); otherSide != "" {
		d.c.Text(plan.Pt{X: right, Y: base}, otherSide, other, paper.Right)
		right -= d.c.Width(otherSide, other) + 2
	}
	d.c.Text(plan.Pt{X: x, Y: base}, d.c.Fit("Ticket "+stated(d.s.Job.Ticket), ticket, right-x), ticket, paper.Left)
	label, value := d.font(paper.Regular, 0.86), d.font(paper.Regular, 1)
	label.Color = paper.Gray(70)
	y := base + 1.6
	for i, row := range d.crewFacts() {
		v := value
		if i == 0 {
			v.Face = paper.Bold
		}
		d.c.Lines(r.X+1.6, y+0.15, []string{d.inBoth(row[0])}, label)
		text := d.inBoth(row[1])
		if len(d.c.Wrap(text, v, d.crewFactMM(r))) > 1 && row[0] == "Zone rule" {
			text = d.inBoth(d.zoneWords() + "; the rule stands below, in full")
		}
		y = d.c.Lines(r.X+1.6+d.crewLabelMM(), y, d.c.WrapTo(text, v, d.crewFactMM(r), 1), v) + 0.35
	}
	d.c.Line(plan.Pt{X: r.X, Y: r.Bottom()}, plan.Pt{X: r.Right(), Y: r.Bottom()}, heavyPen)
	return nil
}

package pdf

import (
	"loamline/export/internal/paper"
	"loamline/export/internal/plan"
	"loamline/export/words"
)

// crewHead tells the job, with codes for a phone's camera at its right.
func (d *drafter) crewHead(r plan.Rect) error {
	right := r.Right() - 1
	for _, k := range []struct{ text, words string }{{d.s.Job.PageURL, "the page of this map"}, {d.geoLink(), "the place, in a phone's map"}} {
		if k.text == "" {
			continue
		}
		mm := r.H - 4.5
		box := plan.Rect{X: right - mm, Y: r.Y + 0.6, W: mm, H: mm}
		if err := d.code(box, k.text); err != nil {
			return err
		}
		f := d.font(paper.Regular, 0.8)
		d.c.Text(plan.Pt{X: box.Center().X, Y: r.Bottom() - 1.4}, k.words, f, paper.Middle)
		right = box.X - 3.5
	}
	big := d.font(paper.Bold, 2.1)
	base := r.Y + big.LineMM() + 0.4
	d.c.Text(plan.Pt{X: r.X + 1.6, Y: base}, "CREW SHEET", big, paper.Left)
	x := r.X + 6 + d.c.Width("CREW SHEET", big)
	ticket := d.font(paper.Bold, 1.5)
	d.c.Text(plan.Pt{X: x, Y: base}, d.c.Fit("Ticket "+stated(d.s.Job.Ticket), ticket, right-x), ticket, paper.Left)
	rows := [][2]string{
		{"Located on", stated(d.date) + "; valid until " + stated(d.s.Job.ValidUntil)},
		{"Area", stated(d.s.Job.Area)},
		{"Locator", stated(d.s.Job.Locator)},
		{"Zone rule", d.ruleWords()},
		{"Readings", words.Ledger(d.s.Counts)},
	}
	label, value := d.font(paper.Regular, 0.86), d.font(paper.Regular, 1)
	label.Color = paper.Gray(70)
	const labelMM = 15
	y := base + 1.6
	for i, row := range rows {
		v := value
		if i == 0 {
			v.Face = paper.Bold
		}
		d.c.Lines(r.X+1.6, y+0.15, []string{row[0]}, label)
		y = d.c.Lines(r.X+1.6+labelMM, y, d.c.WrapTo(row[1], v, right-r.X-labelMM-3, 1), v) + 0.35
	}
	d.c.Line(plan.Pt{X: r.X, Y: r.Bottom()}, plan.Pt{X: r.Right(), Y: r.Bottom()}, heavyPen)
	return nil
}

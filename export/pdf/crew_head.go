package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
)

// crewCode is a text for a phone's camera, and what it opens.
type crewCode struct{ text, words string }

// crewHead is the head of a crew sheet: what the job is, and codes for a phone's camera.
type crewHead struct {
	*drawnJob
	*pencil
}

func (h *crewHead) codes() []crewCode {
	var out []crewCode
	for _, k := range []crewCode{{h.s.Job.PageURL, "the page of this map"}, {h.geoLink(), "the place, in a phone's map"}} {
		if k.text != "" {
			out = append(out, k)
		}
	}
	return out
}

const crewCodeGapMM = 3.5

// labelMM is the width of the names of the facts.
func (h *crewHead) labelMM() float64 {
	wide := 12.0
	for _, row := range h.facts() {
		wide = math.Max(wide, h.c.Width(h.inBoth(row[0]), h.font(paper.Regular, 0.86))+2.5)
	}
	return wide
}

// codeMM is the side of a code in the head.
func (h *crewHead) codeMM() float64 { return h.codesHeadMM() - 4.5 }

// factMM is the width that a fact of the head has, clear of the codes.
func (h *crewHead) factMM() float64 {
	return h.lay.frame.W - 1 - float64(len(h.codes()))*(h.codeMM()+crewCodeGapMM) - h.labelMM() - 3
}

// facts are what the head tells of the job, each with its name.
func (h *crewHead) facts() [][2]string {
	call := words.Call(h.s)
	if call == "" {
		call = "not stated: write the numbers of the owners here"
	}
	// Sought in more of a hurry than the count of readings, which the notes, the page and the
	// files have.
	return [][2]string{
		{"Located on", stated(h.date) + "; " + validUntil(h.s.Job.ValidUntil)},
		{"Area", stated(h.s.Job.Area)},
		{"Locator", stated(h.s.Job.Locator)},
		{"Zone rule", h.ruleWords()},
		{"Call", call},
	}
}

// headFact is a fact as the head has it.
type headFact struct {
	line    string
	english string // on a line of its own where two languages have no room on one; else ""
	whole   bool   // nothing is cut, and a rule of many words is not told by its figures
}

func (h *crewHead) fact(i int, row [2]string) headFact {
	f, texts := h.factFont(i), []string{row[1]}
	if row[0] == "Zone rule" {
		texts = append(texts, h.zoneWords()+"; the rule stands below, in full")
	}
	fits := func(s string) bool { return len(h.c.Wrap(s, f, h.factMM())) == 1 }
	for k, s := range texts {
		if both := h.inBoth(s); fits(both) {
			return headFact{both, "", k == 0}
		}
		if !h.tongue.Both() || !fits(s) {
			continue
		}
		room := false
		h.c.AsWritten(func() { room = fits(s) })
		if room {
			return headFact{s, s, k == 0}
		}
	}
	return headFact{line: h.c.WrapTo(h.inBoth(texts[len(texts)-1]), f, h.factMM(), 1)[0]}
}

func (h *crewHead) factFont(i int) paper.Font {
	f := h.font(paper.Regular, 1)
	if i == 0 || h.facts()[i][0] == "Call" {
		f.Face = paper.Bold
	}
	return f
}

// callWhole reports whether the head tells whole whom to call.
func (h *crewHead) callWhole() bool {
	rows := h.facts()
	last := len(rows) - 1
	return words.Call(h.s) != "" && h.fact(last, rows[last]).whole
}

// factsInFull are the facts that the head cuts, whole.
func (h *crewHead) factsInFull() []string {
	var out []string
	for i, row := range h.facts() {
		if !h.fact(i, row).whole {
			out = append(out, row[0]+": "+row[1])
		}
	}
	if t := "Ticket " + stated(h.s.Job.Ticket); h.c.Width(t, h.font(paper.Bold, 1.5)) > h.factMM()-h.c.Width(h.inBoth("CREW SHEET"), h.font(paper.Bold, 2.1)) {
		out = append(out, t)
	}
	return out
}

// codesHeadMM is the height of a head of one line a fact, which grows with the type:
// that of the codes.
func (h *crewHead) codesHeadMM() float64 { return 4.03 * h.lay.basePt }

// heightMM is the height of the head.
func (h *crewHead) heightMM() float64 {
	mm := h.codesHeadMM()
	for i, row := range h.facts() {
		if h.fact(i, row).english != "" {
			mm += h.factFont(i).LineMM()
		}
	}
	return mm
}

// draw tells the job, with codes for a phone's camera at its right, and where the
// other language is, if on another page.
func (h *crewHead) draw(r plan.Rect, otherSide string) error {
	right := r.Right() - 1
	for _, k := range h.codes() {
		box := plan.Rect{X: right - h.codeMM(), Y: r.Y + 0.6, W: h.codeMM(), H: h.codeMM()}
		if err := h.code(box, k.text); err != nil {
			return err
		}
		f := h.font(paper.Regular, 0.8)
		h.c.Text(plan.Pt{X: box.Center().X, Y: r.Y + h.codesHeadMM() - 1.4}, k.words, f, paper.Middle)
		right = box.X - crewCodeGapMM
	}
	big := h.font(paper.Bold, 2.1)
	base := r.Y + big.LineMM() + 0.4
	h.c.Text(plan.Pt{X: r.X + 1.6, Y: base}, h.inBoth("CREW SHEET"), big, paper.Left)
	after := r.X + 6 + h.c.Width(h.inBoth("CREW SHEET"), big)
	ticket := h.font(paper.Bold, 1.5)
	if other := h.font(paper.Bold, 1); otherSide != "" {
		h.c.Text(plan.Pt{X: right, Y: base}, otherSide, other, paper.Right)
		right -= h.c.Width(otherSide, other) + 2
	}
	h.c.Text(plan.Pt{X: after, Y: base}, h.c.Fit("Ticket "+stated(h.s.Job.Ticket), ticket, right-after), ticket, paper.Left)
	label := h.font(paper.Regular, 0.86)
	label.Color = paper.Gray(70)
	x, y := r.X+1.6+h.labelMM(), base+1.6
	for i, row := range h.facts() {
		h.c.Lines(r.X+1.6, y+0.15, []string{h.inBoth(row[0])}, label)
		fact := h.fact(i, row)
		y = h.c.Lines(x, y, []string{fact.line}, h.factFont(i))
		if fact.english != "" {
			h.c.AsWritten(func() { y = h.c.Lines(x, y, []string{fact.english}, h.factFont(i)) })
		}
		y += 0.35
	}
	h.c.Line(plan.Pt{X: r.X, Y: r.Bottom()}, plan.Pt{X: r.Right(), Y: r.Bottom()}, heavyPen)
	return nil
}

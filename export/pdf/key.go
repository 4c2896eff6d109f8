package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// keyPlan shows where on the job a strip lies, in the column.
type keyPlan struct {
	stripRooms
	*pencil
	planWindow
	sh *drawnSheet
}

// heightMM is the room for the key plan: none where there is but one drawing.
func (key *keyPlan) heightMM(r plan.Rect) float64 {
	if key.sh.kind != stripSheet || key.strips() < 2 {
		return 0
	}
	return math.Max(18, math.Min(r.W*0.5, r.H*0.3))
}

// draw shows all lines small, north up; this sheet's stretch stands out and its
// window is grey.
func (key *keyPlan) draw(r plan.Rect) {
	y := key.heading(r, "KEY PLAN, north up")
	win := plan.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y}
	view, ok := key.fitView(win, 4)
	if !ok {
		return
	}
	w, h, _ := plan.Bounds(key.extent(), 0)
	in := win.Inset(5)
	// A key needs no round scale: it is not measured.
	view.Scale = plan.Scale(math.Max(1, 1000*math.Max(w/in.W, h/in.H)))
	key.planWindow = planWindow{View: view, board: plan.NewBoard(win.Inset(0.8)), clip: win.Inset(-2)}
	key.c.Clip(win, func() {
		here := key.onPage(key.sh)
		for _, k := range here {
			key.c.Area([][]plan.Pt{key.ring(k)}, paper.Gray(222))
		}
		for i := range key.lines {
			for _, run := range key.runs(key.lines[i].path.Points) {
				key.c.Path(run, paper.Pen{WidthMM: 0.3, Color: paper.Black})
				key.board.Ink(run, 1)
			}
		}
		for _, k := range here {
			for _, run := range key.runs(key.lines[k.line].path.Slice(k.strip.FromM, k.strip.ToM)) {
				key.c.Path(run, paper.Pen{WidthMM: 1.1, Color: paper.Black})
				key.board.Ink(run, 3)
			}
		}
		key.numbers()
	})
	key.c.Frame(win, thinPen)
}

// ring is the outline of a strip's window.
func (key *keyPlan) ring(sh *drawnSheet) []plan.Pt {
	v := key.viewOf(sh)
	var ring []plan.Pt
	for _, q := range v.Corners() {
		ring = append(ring, key.Paper(q))
	}
	return ring
}

// numbers writes the numbers of the strips, this sheet's first.
func (key *keyPlan) numbers() {
	for pass := range 2 {
		for i := range key.sheets {
			k := &key.sheets[i]
			if k.kind != stripSheet || (k.no == key.sh.no) != (pass == 0) {
				continue
			}
			f := key.font(paper.Regular, 0.8)
			if k.no == key.sh.no {
				f = key.font(paper.Bold, 1.1)
			}
			s := strconv.Itoa(k.no)
			mid := key.lines[k.line].path.At((k.strip.FromM + k.strip.ToM) / 2)
			if at, _, ok := key.board.Place([]plan.Pt{key.Paper(mid)}, key.c.Width(s, f)+0.6, f.SizePt*0.28+0.4, 0.8, 6); ok {
				key.c.Text(plan.Pt{X: at.X + 0.3, Y: at.Bottom() - 0.2}, s, f, paper.Left)
			}
		}
	}
}

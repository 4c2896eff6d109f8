package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

// profileView is the profile below one strip: stations run along the sheet at
// the plan's scale and in the plan's direction, heights at a scale of their own.
type profileView struct {
	*drafter
	line      *drawnLine
	sh        *drawnSheet
	plot      plan.Rect
	board     *plan.Board
	points    [][]profilePoint // by stretch with vertices
	elevation bool             // heights are elevations, not depths below ground
	flip      bool             // travel runs to the left
	mmPerM    float64          // along
	vertical  plan.Scale
	topM      float64 // height at the upper edge of the plot
}

// profileOf is the profile of a strip in its room, before anything is drawn.
func (d *drafter) profileOf(r plan.Rect, view plan.View, sh *drawnSheet) *profileView {
	p := &profileView{drafter: d, line: &d.lines[sh.line], sh: sh, mmPerM: sh.scale.MMPerM()}
	headMM, _, tableMM := d.profileRows()
	half := (sh.strip.ToM - sh.strip.FromM) / 2 * p.mmPerM
	mid := view.Window.Center().X
	p.plot = plan.Rect{X: mid - half, Y: r.Y + headMM + 1.5, W: 2 * half, H: r.H - headMM - tableMM - 3}
	a, b := view.Paper(p.line.path.At(sh.strip.FromM)), view.Paper(p.line.path.At(sh.strip.ToM))
	p.flip = b.X < a.X
	p.collect()
	return p
}

func (d *drafter) profile(r plan.Rect, view plan.View, sh *drawnSheet) {
	p := d.profileOf(r, view, sh)
	p.chooseHeights(d.heightsOf(sh))
	_, rowMM, tableMM := d.profileRows()
	p.board = plan.NewBoard(plan.Rect{X: r.X + 1, Y: p.plot.Y, W: r.W - 2, H: p.plot.H})
	for _, x := range []float64{p.plot.X - 11, p.plot.Right()} {
		p.board.Take(plan.Rect{X: x, Y: p.plot.Y, W: 11, H: p.plot.H}) // the heights' figures
	}
	p.head(r)
	p.draw()
	p.table(plan.Rect{X: r.X, Y: r.Bottom() - tableMM, W: r.W, H: tableMM}, rowMM)
}

// mostExaggeration bounds how much steeper a profile may look than the ground.
const mostExaggeration = 10

// profileRows are the heights of a profile's head, of a row of its table and of
// the table.
func (d *drafter) profileRows() (headMM, rowMM, tableMM float64) {
	rowMM = d.font(paper.Regular, 0.9).LineMM() + 0.4
	return d.font(paper.Bold, 1).LineMM() + 1, rowMM, 3*rowMM + 0.6
}

// heightsOf is the scale of heights of all profiles of a sheet's line: that of
// the strip that needs the coarsest, so that one depth looks alike on all sheets.
func (d *drafter) heightsOf(sh *drawnSheet) plan.Scale {
	l := &d.lines[sh.line]
	if l.heights > 0 {
		return l.heights
	}
	var all []*profileView
	for i := range d.sheets {
		other := &d.sheets[i]
		if other.kind == stripSheet && other.line == sh.line {
			p := d.profileOf(d.profileRect(other), d.viewOf(other), other)
			l.heights = max(l.heights, p.finestHeights())
			all = append(all, p)
		}
	}
	for _, p := range all {
		if p.sh.panel == wholePage {
			p.sh.spareMM = p.spareAt(l.heights)
		}
	}
	return l.heights
}

// A profile is no higher than leastPlotMM, or than emptyBelow times what it shows: below
// that there is nothing but ruled paper, beside which a depth cannot be read (judgement).
const leastPlotMM, emptyBelow = 30, 1.6

// spareAt is how much of the plot a profile has no use for at a scale of heights.
func (p *profileView) spareAt(s plan.Scale) float64 {
	lo, hi := p.heightSpan()
	return math.Max(0, p.plot.H-math.Max(leastPlotMM, (hi-lo)*s.MMPerM()*emptyBelow+headroomMM+footMM))
}

const headroomMM, footMM = 5, 6

// heightSpan is what ground, line and band take up, a metre at least.
func (p *profileView) heightSpan() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	see := func(v float64) {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	for _, run := range p.points {
		for _, q := range run {
			see(q.groundM)
			see(q.lineM())
			if !math.IsNaN(q.bandM) {
				see(q.lineM() - q.bandM)
			}
		}
	}
	for _, o := range p.others() {
		see(o.heightM)
	}
	if math.IsInf(lo, 1) {
		lo, hi = 0, 0
	}
	if hi-lo < 1 {
		lo = hi - 1
	}
	return lo, hi
}

// finestHeights is the most detailed round scale at which the strip's heights
// fit the plot.
func (p *profileView) finestHeights() plan.Scale {
	lo, hi := p.heightSpan()
	for _, s := range plan.Heights(p.u) {
		if float64(p.sh.scale)/float64(s) <= mostExaggeration && (hi-lo)*s.MMPerM()+headroomMM+footMM <= p.plot.H {
			return s
		}
	}
	return p.sh.scale
}

func (p *profileView) chooseHeights(s plan.Scale) {
	_, hi := p.heightSpan()
	p.vertical = s
	p.topM = hi + headroomMM/s.MMPerM()
}

// x and y place a station and a height on paper.
func (p *profileView) x(stationM float64) float64 {
	dx := (stationM - (p.sh.strip.FromM+p.sh.strip.ToM)/2) * p.mmPerM
	if p.flip {
		dx = -dx
	}
	return p.plot.Center().X + dx
}

func (p *profileView) y(heightM float64) float64 {
	return p.plot.Y + (p.topM-heightM)*p.vertical.MMPerM()
}

func (p *profileView) at(stationM, heightM float64) plan.Pt {
	return plan.Pt{X: p.x(stationM), Y: p.y(heightM)}
}

func (p *profileView) within(stationM float64) bool {
	return stationM >= p.sh.strip.FromM-1e-6 && stationM <= p.sh.strip.ToM+1e-6
}

// head says what the profile shows and what it does not promise.
func (p *profileView) head(r plan.Rect) {
	f, g := p.font(paper.Bold, 1), p.font(paper.Regular, 0.95)
	title := p.c.Fit("Profile of "+p.line.Setup.Name, f, r.W*0.3)
	y := r.Y + f.LineMM() + 0.2
	p.c.Text(plan.Pt{X: r.X + 2, Y: y}, title, f, paper.Left)
	words := "along " + p.sh.scale.Words(p.u) + ", heights " + p.vertical.Words(p.u) + " (" + exaggeration(p.sh.scale, p.vertical) + "). " +
		"Depth to centre; estimates; expose to verify."
	if !p.elevation {
		words += " Ground drawn level: no elevations."
	}
	x := r.X + 4 + p.c.Width(title, f)
	p.c.Text(plan.Pt{X: x, Y: y}, p.c.Fit(words, g, r.Right()-x-2), g, paper.Left)
}

func exaggeration(along, up plan.Scale) string {
	v := math.Round(float64(along)/float64(up)*100) / 100
	if v == 1 {
		return "not exaggerated"
	}
	return "exaggerated " + strconv.FormatFloat(v, 'f', -1, 64) + " times"
}

// depthStepM is the distance between the profile's height lines.
func depthStepM(u geo.Units, mmPerM float64) float64 {
	unit := 1.0
	if u == geo.US {
		unit = geo.FootM
	}
	return plan.RoundStep(6/mmPerM/unit) * unit
}

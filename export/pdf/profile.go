package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/geo"
)

// profileView is the profile below one strip: stations run along the sheet at
// the plan's scale and in the plan's direction, heights at a scale of their own.
type profileView struct {
	*sheetSet
	line      *drawnLine
	sh        *drawnSheet
	plot      plan.Rect
	points    [][]profilePoint // by stretch with vertices
	elevation bool             // heights are elevations, not depths below ground
	flip      bool             // travel runs to the left
	mmPerM    float64          // along
	vertical  plan.Scale
	topM      float64 // height at the upper edge of the plot
}

// mostExaggeration bounds how much steeper a profile may look than the ground.
const mostExaggeration = 10

// profileRows are the heights of a profile's head, of a row of its table and of
// the table.
func profileRows(lay sheetLayout) (headMM, rowMM, tableMM float64) {
	rowMM = lay.font(paper.Regular, 0.9).LineMM() + 0.4
	return lay.font(paper.Bold, 1).LineMM() + 1, rowMM, 3*rowMM + 0.6
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

// span is the part of the plot between two stations.
func (p *profileView) span(fromM, toM float64) (plan.Rect, bool) {
	fromM, toM = math.Max(fromM, p.sh.strip.FromM), math.Min(toM, p.sh.strip.ToM)
	if !(toM > fromM) {
		return plan.Rect{}, false
	}
	a, b := p.x(fromM), p.x(toM)
	return plan.Rect{X: math.Min(a, b), Y: p.plot.Y, W: math.Abs(b - a), H: p.plot.H}, true
}

// inPlot holds a place on the profile's height: a band that nobody knows the end of must
// not run through the figures below.
func (p *profileView) inPlot(at plan.Pt) plan.Pt {
	at.Y = math.Max(p.plot.Y, math.Min(p.plot.Bottom(), at.Y))
	return at
}

func (p *profileView) bottomM() float64 { return p.topM - p.plot.H/p.vertical.MMPerM() }

func (p *profileView) within(stationM float64) bool {
	return stationM >= p.sh.strip.FromM-1e-6 && stationM <= p.sh.strip.ToM+1e-6
}

// depthStepM is the distance between the profile's height lines.
func depthStepM(u geo.Units, mmPerM float64) float64 {
	unit := 1.0
	if u == geo.US {
		unit = geo.FootM
	}
	return plan.RoundStep(6/mmPerM/unit) * unit
}

// stations are the round stations of the strip.
func (p *profileView) stations() []float64 {
	return stationsOf(p.u, p.line, p.sh.strip.FromM, p.sh.strip.ToM, p.mmPerM)
}

func (p *profileView) cells(s float64) []string { return p.line.figures(p.u, s) }

package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/station"
	"loamline.example/geo"
)

// paperStepM is the distance between stations: 5 or 10 m, 25 ft; less on a line
// that is shorter than three of them, more where they would touch on paper.
func paperStepM(u geo.Units, lengthM, mmPerM float64) float64 {
	steps := station.RoundSteps(u)
	least := 5.0
	if u == geo.US {
		least = 25 * geo.FootM
	}
	if lengthM < 3*least {
		least = 0
	}
	for _, s := range steps {
		if s >= least-1e-9 && s*mmPerM >= 17 {
			return s
		}
	}
	return steps[len(steps)-1]
}

// stationsOf are the round stations between two, with the line's own end.
func stationsOf(u geo.Units, l *drawnLine, fromM, toM, mmPerM float64) []float64 {
	out := plan.Ticks(fromM, toM, paperStepM(u, l.path.Length(), mmPerM))
	if end := l.path.Length(); toM >= end-1e-6 && (len(out) == 0 || (end-out[len(out)-1])*mmPerM > 0.5) {
		out = append(out, end)
	}
	return out
}

// stationLayer is the stations along the lines.
type stationLayer struct{ *planView }

// draw marks the sheet's own line, or every line of an overview.
func (p *stationLayer) draw() {
	for i := range p.lines {
		l := &p.lines[i]
		if !l.traced() || p.strip() && i != p.sh.line {
			continue
		}
		k := p.Scale.MMPerM()
		if !p.strip() {
			k *= 0.6 // an overview needs fewer
		}
		for _, s := range stationsOf(p.u, l, 0, l.path.Length(), k) {
			p.station(l, s)
		}
	}
}

func (p *stationLayer) station(l *drawnLine, s float64) {
	at := p.Paper(l.path.At(s))
	if !p.inside(at, 1) {
		return
	}
	dir := p.dir(l, s)
	n := dir.Normal().Scale(1.9)
	p.c.Line(at.Sub(n), at.Add(n), stationPen)
	p.board.Ink([]plan.Pt{at.Sub(n), at.Add(n)}, 1)
	p.used[signStation] = true
	f := p.font(paper.Regular, 0.9)
	p.words([]plan.Pt{at}, []string{p.u.Long(s)}, f, 2, 5)
}

package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/style"
	"loamline.example/geo"
	"loamline.example/trace"
)

// sample draws a sign in miniature, with the very pens of the drawing.
func (d *drafter) sample(s sign, r plan.Rect) {
	m := r.Center()
	path := []plan.Pt{{X: r.X, Y: m.Y}, {X: r.Right(), Y: m.Y}}
	if int(s) < len(style.All()) {
		d.utilityLine([][]plan.Pt{path}, style.All()[s], 0.7)
		d.codeOnLine(m, plan.Pt{X: 1}, style.All()[s])
		return
	}
	box := plan.Rect{X: r.X, Y: r.Y + 0.3, W: r.W, H: r.H - 0.5}
	ring := [][]plan.Pt{{{X: box.X, Y: box.Y}, {X: box.Right(), Y: box.Y}, {X: box.Right(), Y: box.Bottom()}, {X: box.X, Y: box.Bottom()}}}
	switch s {
	case signTolerance:
		d.c.Rings(ring, tolerancePen)
	case signCaution:
		d.c.Area(ring, cautionFill)
		d.c.Rings(ring, cautionPen)
	case signBleedStrong, signBleedSuspect, signBleedWatch:
		g := map[sign]trace.Grade{signBleedStrong: trace.GradeStrong, signBleedSuspect: trace.GradeSuspect, signBleedWatch: trace.GradeWatch}[s]
		d.hatch(path, box.H/2, box.H/2, g)
	case signDoubt:
		d.strokes(path, box.H/2, box.H/2, doubtStepMM, doubtPen)
	case signUnheld:
		d.c.Path(path, unheldPen)
	case signBand:
		d.c.Area(ring, bandFill)
		d.c.Rings(ring, bandPen)
		d.c.Path(path, paper.Pen{WidthMM: 0.5})
	default:
		d.samplePoint(s, m, path)
	}
}

func (d *drafter) samplePoint(s sign, m plan.Pt, path []plan.Pt) {
	switch s {
	case signSide:
		d.arrow(m.Sub(plan.Pt{X: 2}), plan.Pt{X: 1}, 4)
	case signGap, signDepthGap:
		d.c.Path(path, gapPen)
	case signCrossing:
		d.c.Circle(m, 1.2, markPen)
	case signExposed:
		d.exposedMark(m)
	case signUsed:
		for _, x := range []float64{-3, 0, 3} {
			d.tickMark(m.Add(plan.Pt{X: x}), plan.Pt{X: 1})
		}
	case signSetAside:
		d.crossMark(m)
	case signCheck:
		d.checkMark(m)
	case signFailed:
		d.failedMark(m)
	case signRecord:
		d.c.Path(path, recordPen)
	case signBackdrop:
		d.c.Path(path, backdropPen)
	case signUnderlay:
		d.c.Box(plan.Rect{X: m.X - 4, Y: m.Y - 1.2, W: 8, H: 2.4}, paper.Gray(225))
		for _, x := range []float64{-2.4, 0, 2.4} {
			d.c.Line(m.Add(plan.Pt{X: x, Y: -1.2}), m.Add(plan.Pt{X: x, Y: 1.2}), backdropPen)
		}
	case signDiffers:
		d.c.Path(path, differsPen)
	case signTransmitter:
		d.transmitterMark(m)
	case signStation:
		d.c.Line(m.Sub(plan.Pt{X: 2, Y: 1.2}), m.Add(plan.Pt{X: -2, Y: 1.2}), stationPen)
		d.c.Text(m.Add(plan.Pt{X: -1, Y: 0.8}), d.u.Long(10*d.stationUnitM()), d.font(paper.Regular, 0.8), paper.Left)
	case signMatch:
		d.c.Path(path, matchPen)
	case signSheet:
		d.c.Frame(plan.Rect{X: m.X - 4.5, Y: m.Y - 1.4, W: 9, H: 2.8}, sheetPen)
		d.c.Text(m.Add(plan.Pt{Y: 0.8}), "sheet 7", d.font(paper.Bold, 0.75), paper.Middle)
	case signJoint:
		d.c.Line(m.Sub(plan.Pt{Y: 1.3}), m.Add(plan.Pt{Y: 1.3}), paper.Pen{WidthMM: 0.8, Color: paper.Black})
	case signTravel:
		d.travelMark(m, plan.Pt{X: 1})
	case signGrid:
		d.gridCross(m, plan.Pt{X: 1})
	case signNumber:
		d.numberDisc(m, 7)
	case signGround:
		d.c.Path(path, groundPen)
	case signDepthReading:
		d.c.Disc(m.Sub(plan.Pt{X: 2}), 0.35, paper.Black, thinPen)
		d.crossMark(m.Add(plan.Pt{X: 2}))
	case signOtherLine:
		d.otherMark(m)
	}
}

// stationUnitM is one unit of length in which stations are told.
func (d *drafter) stationUnitM() float64 {
	if d.u == geo.US {
		return geo.FootM
	}
	return 1
}

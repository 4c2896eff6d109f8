package pdf

import (
	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/style"
	"loamline.example/geo"
	"loamline.example/trace"
)

// sample draws a sign in miniature, with the very pens of the drawing.
func (l *legend) sample(s sign, r plan.Rect) {
	m := r.Center()
	path := []plan.Pt{{X: r.X, Y: m.Y}, {X: r.Right(), Y: m.Y}}
	if int(s) < len(style.All()) {
		l.utilityLine([][]plan.Pt{path}, style.All()[s], 0.7)
		l.codeOnLine(m, plan.Pt{X: 1}, style.All()[s])
		return
	}
	box := plan.Rect{X: r.X, Y: r.Y + 0.3, W: r.W, H: r.H - 0.5}
	ring := [][]plan.Pt{{{X: box.X, Y: box.Y}, {X: box.Right(), Y: box.Y}, {X: box.Right(), Y: box.Bottom()}, {X: box.X, Y: box.Bottom()}}}
	switch s {
	case signTolerance:
		l.c.Rings(ring, tolerancePen)
	case signCaution:
		l.c.Area(ring, cautionFill)
		l.c.Rings(ring, cautionPen)
	case signBleedStrong, signBleedSuspect, signBleedWatch:
		g := map[sign]trace.Grade{signBleedStrong: trace.GradeStrong, signBleedSuspect: trace.GradeSuspect, signBleedWatch: trace.GradeWatch}[s]
		l.hatch(path, box.H/2, box.H/2, g)
	case signDoubt:
		l.strokes(path, box.H/2, box.H/2, doubtStepMM, doubtPen)
	case signUnheld:
		l.c.Path(path, unheldPen)
	case signBand:
		l.c.Area(ring, bandFill)
		l.c.Rings(ring, bandPen)
		l.c.Path(path, paper.Pen{WidthMM: 0.5})
	default:
		l.samplePoint(s, m, path)
	}
}

func (l *legend) samplePoint(s sign, m plan.Pt, path []plan.Pt) {
	switch s {
	case signSide:
		l.arrow(m.Sub(plan.Pt{X: 2}), plan.Pt{X: 1}, 4)
	case signGap, signDepthGap:
		l.c.Path(path, gapPen)
	case signCrossing:
		l.c.Circle(m, 1.2, markPen)
	case signExposed:
		l.exposedMark(m)
	case signUsed:
		for _, x := range []float64{-3, 0, 3} {
			l.tickMark(m.Add(plan.Pt{X: x}), plan.Pt{X: 1})
		}
	case signSetAside:
		l.crossMark(m)
	case signCheck:
		l.checkMark(m)
	case signFailed:
		l.failedMark(m)
	case signRecord:
		l.c.Path(path, recordPen)
	case signBackdrop:
		l.c.Path(path, backdropPen)
	case signUnderlay:
		l.c.Box(plan.Rect{X: m.X - 4, Y: m.Y - 1.2, W: 8, H: 2.4}, paper.Gray(225))
		for _, x := range []float64{-2.4, 0, 2.4} {
			l.c.Line(m.Add(plan.Pt{X: x, Y: -1.2}), m.Add(plan.Pt{X: x, Y: 1.2}), backdropPen)
		}
	case signDiffers:
		l.c.Path(path, differsPen)
	case signTransmitter:
		l.transmitterMark(m)
	case signFixed:
		l.fixedMark(m)
	case signStation:
		l.c.Line(m.Sub(plan.Pt{X: 2, Y: 1.2}), m.Add(plan.Pt{X: -2, Y: 1.2}), stationPen)
		l.c.Text(m.Add(plan.Pt{X: -1, Y: 0.8}), l.u.Long(10*stationUnitM(l.u)), l.font(paper.Regular, 0.8), paper.Left)
	case signMatch:
		l.c.Path(path, matchPen)
	case signSheet:
		l.c.Frame(plan.Rect{X: m.X - 4.5, Y: m.Y - 1.4, W: 9, H: 2.8}, sheetPen)
		l.c.Text(m.Add(plan.Pt{Y: 0.8}), "sheet 7", l.font(paper.Bold, 0.75), paper.Middle)
	case signJoint:
		l.c.Line(m.Sub(plan.Pt{Y: 1.3}), m.Add(plan.Pt{Y: 1.3}), paper.Pen{WidthMM: 0.8, Color: paper.Black})
	case signTravel:
		l.travelMark(m, plan.Pt{X: 1})
	case signGrid:
		l.gridCross(m, plan.Pt{X: 1})
	case signNumber:
		l.numberDisc(m, 7)
	case signGround:
		l.c.Path(path, groundPen)
	case signDepthReading:
		l.c.Disc(m.Sub(plan.Pt{X: 2}), 0.35, paper.Black, thinPen)
		l.crossMark(m.Add(plan.Pt{X: 2}))
	case signOtherLine:
		l.otherMark(m)
	}
}

// stationUnitM is one unit of length in which stations are told.
func stationUnitM(u geo.Units) float64 {
	if u == geo.US {
		return geo.FootM
	}
	return 1
}

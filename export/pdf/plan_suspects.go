package pdf

import (
	"math"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// onPlan is how a kind of finding stands on the plan.
type onPlan struct {
	mark  func()                  // draws where it is; nil where the drawing has it from elsewhere
	runs  func() [][]plan.Pt      // where its label may stand
	label func() (lines []string) // what the label says, the first line bold; nil for none
}

// suspectLayer is the stretches where the drawn line may not be trusted, and what is said of them.
type suspectLayer struct{ *planView }

// kinds has the form of each kind on the plan. One without a form of its own
// is hatched like a doubt and told by its title.
func (p *suspectLayer) kinds(l *drawnLine) finding.PerKind[onPlan] {
	within := func(f trace.Finding) func() [][]plan.Pt {
		return func() [][]plan.Pt { return p.runs(f.Where()) }
	}
	elsewhere := onPlan{} // crossings, checks and exposures are marks of their own
	return finding.PerKind[onPlan]{
		BleedOver: func(f finding.BleedOver) onPlan {
			return onPlan{func() { p.bleedOver(l, f) }, within(f), func() []string { return p.bleedLabel(f) }}
		},
		Gap: func(f finding.Gap) onPlan {
			return onPlan{nil, within(f), func() []string { return p.stretchLabel("NOT TRACED", f) }}
		},
		Doubt: func(f finding.Doubt) onPlan {
			return onPlan{func() { p.doubt(l, f) }, within(f), func() []string { return p.stretchLabel("IN DOUBT", f) }}
		},
		RecordDifference: func(f finding.RecordDifference) onPlan {
			return onPlan{func() { p.recordDiffers(f) }, func() [][]plan.Pt { return p.recordRuns(f) }, func() []string { return p.recordLabel(f) }}
		},
		Crossing:     func(finding.Crossing) onPlan { return elsewhere },
		FieldCheck:   func(finding.FieldCheck) onPlan { return elsewhere },
		ExposedCheck: func(finding.ExposedCheck) onPlan { return elsewhere },
		Else: func(f trace.Finding) onPlan {
			return onPlan{func() { p.doubt(l, f) }, within(f), func() []string { return p.stretchLabel(words.FindingTitle(p.u, f), f) }}
		},
	}
}

// draw hatches the stretches where the mark may not be trusted.
func (p *suspectLayer) draw() {
	for _, n := range p.findings {
		if k := p.kinds(&p.lines[n.line]).Of(n.Finding); k.mark != nil {
			k.mark()
		}
	}
}

func (p *suspectLayer) recordDiffers(f finding.RecordDifference) {
	for _, run := range p.recordRuns(f) {
		p.c.Path(run, differsPen)
		p.used[signDiffers] = true
	}
}

// bleedOver hatches over the caution zone's width there.
func (p *suspectLayer) bleedOver(l *drawnLine, f finding.BleedOver) {
	k := p.Scale.MMPerM()
	left := math.Max(1.6, (l.Tolerance.HalfWidthM+f.WidenLeftM)*k)
	right := math.Max(1.6, (l.Tolerance.HalfWidthM+f.WidenRightM)*k)
	for _, run := range p.runs(f.Path) {
		p.hatch(run, left, right, f.Grade)
		for _, side := range []float64{-left, -left / 2, right / 2, right} {
			p.board.Ink(offset(run, side), 2)
		}
	}
	for _, a := range p.sideArrows(f) {
		p.arrow(a.at.Add(a.out.Scale(1)), a.out, sideArrowMM)
		tip := a.at.Add(a.out.Scale(3.4)) // no label covers the side to look on
		p.board.Take(plan.Rect{X: tip.X - 2.4, Y: tip.Y - 2.4, W: 4.8, H: 4.8})
		p.used[signSide] = true
	}
}

// sideArrow points from the mark to the side on which the true line probably lies.
type sideArrow struct{ at, out plan.Pt }

const sideArrowMM = 4.5

func (p *suspectLayer) sideArrows(f finding.BleedOver) (out []sideArrow) {
	if f.LikelySide == "" || p.sh.kind == overviewSheet {
		return nil
	}
	for _, run := range p.runs(f.Path) {
		w := plan.NewWalk(run)
		for _, t := range []float64{0.25, 0.75} {
			at, dir := w.At(t * w.Length())
			if p.inside(at, 2) {
				out = append(out, sideArrow{at, towards(f.LikelySide, dir)})
			}
		}
	}
	return out
}

// How a doubt is hatched: as plainly as a suspicion of bleed-over.
const doubtStepMM = 2.0

var doubtPen = paper.Pen{WidthMM: 0.34, Color: paper.Black}

// doubt hatches a stretch, or the ground about places beside the line, as wide as
// the tolerance zone.
func (p *suspectLayer) doubt(l *drawnLine, f trace.Finding) {
	half := math.Max(1.6, l.Tolerance.HalfWidthM*p.Scale.MMPerM())
	for _, run := range p.runs(f.Where()) {
		p.strokes(run, half, half, doubtStepMM, doubtPen)
		p.board.Ink(run, 2)
		p.used[signDoubt] = true
	}
}

// towards is the way to a side of a line that runs in a direction on paper.
func towards(side trace.Side, dir plan.Pt) plan.Pt {
	if side == trace.Left {
		return dir.Normal().Scale(-1)
	}
	return dir.Normal()
}

// offset moves every vertex of a path to its right.
func offset(path []plan.Pt, mm float64) []plan.Pt {
	out := make([]plan.Pt, len(path))
	for i := range path {
		a, b := path[max(0, i-1)], path[min(len(path)-1, i+1)]
		out[i] = path[i].Add(b.Sub(a).Unit().Normal().Scale(mm))
	}
	return out
}

// recordRuns are the pieces of the record, not of the trace, that lie elsewhere.
func (p *suspectLayer) recordRuns(f finding.RecordDifference) [][]plan.Pt {
	for _, r := range p.s.Records {
		if r.Name != f.Record || len(r.Path) < 2 || len(f.Path) < 2 {
			continue
		}
		pl := geo.NewPolyline(r.Path)
		a, b := pl.Nearest(f.Path[0]).StationM, pl.Nearest(f.Path[len(f.Path)-1]).StationM
		return p.runs(pl.Slice(math.Min(a, b), math.Max(a, b)))
	}
	return nil
}

// labels writes what is to be known of the stretches that show.
func (p *suspectLayer) labels() {
	for _, n := range p.findings {
		k := p.kinds(&p.lines[n.line]).Of(n.Finding)
		if k.label == nil {
			continue
		}
		run := longestRun(k.runs(), p.Window.Inset(3))
		if len(run) < 2 {
			continue
		}
		w := plan.NewWalk(run)
		at, _ := w.At(w.Length() / 2)
		p.finding(n, at, k.label(), 3)
	}
}

// stretchLabel tells a stretch of a line, or sends people to the notes where it
// is about places beside it.
func (p *suspectLayer) stretchLabel(title string, f trace.Finding) []string {
	if from, to := f.Span(); trace.Known(from) {
		return []string{title, words.Range(p.u, from, to) + " of " + f.OnLine()}
	}
	return []string{title, "see note"}
}

func (p *suspectLayer) recordLabel(f finding.RecordDifference) []string {
	return []string{"Record lies elsewhere", p.c.Fit(f.Record+", "+
		p.u.Short(math.Abs(f.LargestOffsetM))+" at most", p.font(paper.Regular, 0.9), 50)}
}

func (p *suspectLayer) bleedLabel(f finding.BleedOver) []string {
	title := words.Capital(words.Grade(f.Grade))
	if f.Jump {
		title = "Trace may have jumped lines"
	}
	where := words.Range(p.u, f.FromM, f.ToM)
	if f.Neighbor != "" && f.Neighbor != trace.UnknownNeighbor {
		where += ", perhaps from " + words.InText(f.Neighbor)
	}
	lines := []string{title, p.c.Fit(where, p.font(paper.Regular, 0.9), 54)}
	if trace.Known(f.LikelyShiftM) && f.LikelySide != "" {
		lines = append(lines, "line likely "+words.Shift(p.u, f.LikelyShiftM, f.Shift95M)+" "+string(f.LikelySide)+" of the paint")
	} else if f.Grade != trace.GradeWatch || f.Jump {
		lines = append(lines, "how far off is not known")
	}
	return lines
}

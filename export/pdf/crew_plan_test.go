package pdf

import (
	"bytes"
	"fmt"
	"image"
	"testing"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/study"
)

// pairInDoubt is two lines side by side that slowly part, each hatched for bleed-over with
// arrows to both sides: little of a low plan is free.
func pairInDoubt(lengthM, apartM float64) *trace.Sheet {
	s := sample.Of(geo.Metric, sample.Straight(lengthM, 0.4, 76), sample.Straight(lengthM, 0.4, 76))
	s.Lines[1].Setup.Name = "line 2"
	for i := range s.Lines {
		l := &s.Lines[i]
		vs := l.Centerline.Parts[0].Vertices
		for k := range vs {
			vs[k].Pos.Y += apartM * float64(i) * vs[k].StationM / lengthM
		}
		path := l.Centerline.Parts[0].Path()
		for n, side := range []trace.Side{trace.Left, trace.Right} {
			from, to := 10+40*float64(n), 40+40*float64(n)
			l.Findings = append(l.Findings, finding.BleedOver{Line: l.Setup.Name, FromM: from, ToM: to, Path: geo.NewPolyline(path).Slice(from, to),
				Grade: trace.GradeStrong, Score: 0.9, LikelyShiftM: 0.5, Shift95M: 0.4, LikelySide: side, WidenLeftM: 2.5, WidenRightM: 2.5})
		}
	}
	return s
}

// crewPlanAlone draws the plan of a crew sheet in a share of the page, and tells how it
// lies on the paper; no scale where there is nothing to draw.
func crewPlanAlone(t *testing.T, s *trace.Sheet, share float64, dpi int) (image.Image, plan.View) {
	t.Helper()
	set, err := newSheetSet(s, Options{Sheets: trace.SheetsCrew})
	if err != nil {
		t.Fatal(err)
	}
	lay := upright(set.crewPaper())
	d := crewPlan{set, newMarker(newPencil(paper.New(lay.page.W, lay.page.H, paper.Info{}), lay, nil, nil))}
	d.page("plan")
	f := d.lay.frame
	r := plan.Rect{X: f.X, Y: f.Y, W: f.W, H: f.H * share}
	view, heightMM := d.view(r)
	r.H = heightMM
	d.draw(view, r)
	var b bytes.Buffer
	if err := d.c.Write(&b); err != nil {
		t.Fatal(err)
	}
	view.Window = r.Inset(coordsMM)
	return render(t, pdfFile(t, b.Bytes()), 1, dpi), view
}

// Nothing on a crew sheet's plan hides a line, however low the plan is: where none is
// seen, none seems to be.
func TestCrewPlanHidesNoLine(t *testing.T) {
	const dpi = 72
	jobs := crewJobs()
	for _, lengthM := range study.Some(1, 150., 110, 130, 170) {
		for _, apartM := range []float64{3, 6} {
			jobs[fmt.Sprintf("pair of %g m, %g m apart", lengthM, apartM)] = pairInDoubt(lengthM, apartM)
		}
	}
	for name, s := range jobs {
		for _, share := range []float64{crewSmallShares[0], crewFairShares[2]} {
			img, view := crewPlanAlone(t, s, share, dpi)
			for i := range s.Lines {
				if c := s.Lines[i].Centerline; c != nil && view.Scale > 0 {
					for _, part := range c.Parts {
						unseen(t, fmt.Sprintf("%s, %g of the page: line %q", name, share, s.Lines[i].Setup.Name), img, view, part.Path(), dpi)
					}
				}
			}
		}
	}
}

// unseen tells of a path that is white over more than a letter code with its clear rim.
func unseen(t *testing.T, what string, img image.Image, view plan.View, path []geo.XY, dpi int) {
	t.Helper()
	const mostMM, stepMM = 7.0, 0.25
	w := plan.NewWalk(view.Path(path))
	white := 0.0
	for mm := 0.0; mm < w.Length(); mm += stepMM {
		at, _ := w.At(mm)
		if white += stepMM; !view.Window.Contains(at) || inkAt(img, at, 0.5, dpi) {
			white = 0
		}
		if white > mostMM {
			t.Errorf("%s is not to be seen at %.0f, %.0f mm", what, at.X, at.Y)
			return
		}
	}
}

// inkAt reports whether anything is drawn near a place on paper.
func inkAt(img image.Image, at plan.Pt, nearMM float64, dpi int) bool {
	px := func(mm float64) int { return int(mm / 25.4 * float64(dpi)) }
	for y := px(at.Y - nearMM); y <= px(at.Y+nearMM); y++ {
		for x := px(at.X - nearMM); x <= px(at.X+nearMM); x++ {
			if r, g, b, _ := img.At(x, y).RGBA(); r+g+b < 3*0xf000 {
				return true
			}
		}
	}
	return false
}

package pdf

import (
	"math"
	"strings"
	"testing"

	"loamline.example/export/internal/plan"
	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/study"
)

// edgeSheets are jobs at the rim of what happens.
func edgeSheets() map[string]*trace.Sheet {
	few := sample.Of(geo.Metric, sample.Straight(3, 0.2, 2))
	trench := sample.Of(geo.US, sample.Straight(60, 0.8, 31), sample.Straight(60, 0.8, 31), sample.Straight(60, 0.8, 31))
	for i := range trench.Lines {
		for k := range trench.Lines[i].Centerline.Parts[0].Vertices {
			trench.Lines[i].Centerline.Parts[0].Vertices[k].Pos.X += 0.4 * float64(i)
		}
	}
	bare := sample.Of(geo.Metric, sample.Straight(10, 0, 6))
	bare.Job.Ticket, bare.Job.Date, bare.Job.ValidUntil, bare.Job.Area, bare.Job.Locator = "", "", "", "", ""
	bare.Frame, bare.Inputs, bare.Cautions, bare.Name, bare.Version = geo.Told{}, nil, nil, "", ""
	hostile := sample.Of(geo.Metric, sample.Straight(10, 0, 6))
	hostile.Lines[0].Setup.Name = "W \U0001F6B0\u202e\x00水道\n1"
	hostile.Lines[0].Findings = finding.All()
	nan := sample.Of(geo.Metric, sample.Straight(10, 0, 6))
	for k := range nan.Lines[0].Centerline.Parts[0].Vertices {
		v := &nan.Lines[0].Centerline.Parts[0].Vertices[k]
		v.DepthM, v.Depth95M, v.Horizontal95M = trace.Unknown, trace.Unknown, trace.Unknown
	}
	nan.Lines[0].Tolerance.HalfWidthM = trace.Unknown
	return map[string]*trace.Sheet{
		"few readings": few, "two kilometres": sample.Of(geo.Metric, sample.Winding(2000)), "one trench": trench,
		"closed loop": sample.Of(geo.Metric, sample.Loop(14)), "nothing usable": sample.NothingUsable(), "long names": sample.LongNames(),
		"nothing stated": bare, "hostile letters": hostile, "no figures": nan, "empty": {Plane: geo.NewPlane(geo.LonLat{})},
		"point": sample.Of(geo.Metric, []geo.XY{{X: 1, Y: 1}, {X: 1, Y: 1}}), "hill": hill(),
	}
}

// crossedAnywhere is a line that others cross at depths with bands beyond all measure.
func crossedAnywhere() *trace.Sheet {
	s := sample.Sheet()
	for i := range s.Lines {
		if c := s.Lines[i].Centerline; c != nil && i > 0 {
			for k := range c.Parts {
				for n := range c.Parts[k].Vertices {
					v := &c.Parts[k].Vertices[n]
					v.DepthM, v.Depth95M = 0.6, 60
				}
			}
		}
	}
	return s
}

// hill is a line under sloping ground of known elevation.
func hill() *trace.Sheet {
	s := sample.Of(geo.Metric, sample.Straight(80, 2.6, 41))
	for k := range s.Lines[0].Centerline.Parts[0].Vertices {
		v := &s.Lines[0].Centerline.Parts[0].Vertices[k]
		v.ElevM = 212 + 0.08*v.StationM + 0.4*math.Sin(v.StationM/9)
		v.DepthM = 1.2 + 0.3*math.Sin(v.StationM/11)
	}
	return s
}

func TestPDFEdgeCasesStayInTheFrame(t *testing.T) {
	for name, s := range edgeSheets() {
		for _, size := range study.Some[Paper](1, "", A4, Letter) {
			b := pdfBytes(t, s, Options{Paper: size, Sheets: trace.SheetsFull})
			lay := layoutOf(size)
			if size == "" {
				set, err := newSheetSet(s, Options{})
				if err != nil {
					t.Fatal(err)
				}
				lay = set.ruler.lay
			}
			for no, page := range ofTheSet(pdfWords(t, pdfFile(t, b))) {
				for _, w := range page {
					f := lay.frame
					if w.x0 < f.X || w.x1 > f.Right()+0.1 || w.y0 < f.Y-0.3 || w.y1 > f.Bottom()+0.3 {
						t.Errorf("%s, %q, sheet %d: %q at %.1f,%.1f to %.1f,%.1f mm lies outside the frame", name, size, no+1, w.text, w.x0, w.y0, w.x1, w.y1)
					}
				}
			}
		}
	}
}

func TestPDFNothingUsableSaysSo(t *testing.T) {
	text := poppler(t, "pdftotext", pdfFile(t, pdfBytes(t, sample.NothingUsable(), Options{Sheets: trace.SheetsFull})), "-")
	text = strings.Join(strings.Fields(text), " ")
	for _, want := range []string{"NO LINE COULD BE DRAWN", "12 rows in: 0 used, 11 set aside", "11 × dead reckoning: no position fix", "a.csv:4:3"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
}

// Nothing is drawn outside the frame, not even part of a line.
func TestPDFMarginStaysWhite(t *testing.T) {
	jobs := map[string]*trace.Sheet{"sample": sample.Sheet(), "long names": sample.LongNames(), "two kilometres": sample.Of(geo.Metric, sample.Winding(2000)),
		"crossed at any depth": crossedAnywhere()}
	for name, s := range jobs {
		const dpi = 50
		img := render(t, pdfFile(t, pdfBytes(t, s, Options{Paper: A4, Sheets: trace.SheetsFull})), 2, dpi)
		f := layoutOf(A4).frame.Inset(-1)
		dark := 0
		for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
			for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
				at := plan.Pt{X: float64(x) / dpi * 25.4, Y: float64(y) / dpi * 25.4}
				if !f.Contains(at) && gray(img.At(x, y)) < 250 {
					dark++
				}
			}
		}
		if dark > 0 {
			t.Errorf("%s: %d dots of ink outside the frame", name, dark)
		}
	}
}

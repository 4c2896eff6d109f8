package pdf

import (
	"strconv"
	"strings"
	"testing"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/internal/sample"
	"loamline.example/export/style"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// firstProfile is that of the first sheet that has one.
func firstProfile(t *testing.T, s *trace.Sheet) (*profileView, *drawnSheet) {
	t.Helper()
	set, err := newSheetSet(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	strip := 0
	for set.sheets[strip].kind != stripSheet {
		strip++
	}
	sh := &set.sheets[strip]
	rooms := &stripRooms{set, newCautionBand(set.ruler, s)}
	return rooms.profileOf(rooms.profileRect(sh), rooms.viewOf(sh), sh), sh
}

// Where a doubt leaves open how deep a line is, its profile has no line with a band as it
// has elsewhere: the table below says not to trust it, and the legend what is drawn there.
func TestProfileDoesNotTrustWhatTheTableDoesNot(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Straight(30, 0, 16))
	l := &s.Lines[0]
	l.Findings = []trace.Finding{finding.Doubt{Line: l.Setup.Name, FromM: 10, ToM: 20, Path: l.Centerline.Parts[0].Path()[5:11], Why: trace.Verbatim("Two passes lie apart.")}}
	p, _ := firstProfile(t, s)
	trusted := func(m float64) bool {
		for _, run := range p.heldRuns(p.knownRuns(true), false) {
			if m >= run[0].stationM && m <= run[len(run)-1].stationM {
				return true
			}
		}
		return false
	}
	for m, want := range map[float64]bool{3: true, 7: true, 11: false, 15: false, 19: false, 23: true} {
		if got := trusted(m); got != want {
			t.Errorf("at %g m the line is drawn with its band: %v", m, got)
		}
		if cell := p.cells(m)[1]; (cell == "do not trust") == want {
			t.Errorf("at %g m the table says %q", m, cell)
		}
	}
	if runs := p.heldRuns(p.knownRuns(false), true); len(runs) != 1 || runs[0][0].stationM > 10 || runs[0][len(runs[0])-1].stationM < 20 {
		t.Errorf("%+v", runs)
	}
}

// A profile is about as high as what it shows, whatever scale another sheet of its line
// needs, and its plan has the room.
func TestProfileIsNoHigherThanWhatItShows(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Winding(300))
	vs := s.Lines[0].Centerline.Parts[0].Vertices
	for i := range vs {
		vs[i].DepthM, vs[i].Depth95M = 1.2, 0.1
		if vs[i].StationM < 30 {
			vs[i].Depth95M = 6
		}
	}
	set, err := newSheetSet(s, Options{Paper: A4})
	if err != nil {
		t.Fatal(err)
	}
	rooms, whole := &stripRooms{set, newCautionBand(set.ruler, s)}, 0
	for i := range set.sheets {
		sh := &set.sheets[i]
		if sh.kind != stripSheet || sh.panel != wholePage {
			continue
		}
		whole++
		scale := rooms.heightsOf(sh)
		p := rooms.profileOf(rooms.profileRect(sh), rooms.viewOf(sh), sh)
		lo, hi := p.heightSpan()
		if most := max(leastPlotMM, (hi-lo)*scale.MMPerM()*emptyBelow+headroomMM+footMM); p.plot.H > most+1e-6 {
			t.Errorf("sheet %d: %.0f mm for %.1f m at 1:%g", sh.no, p.plot.H, hi-lo, float64(scale))
		}
		if below := rooms.viewOf(sh).Window.Bottom() + coordsMM + set.bandMM(); below > rooms.profileRect(sh).Y+1e-6 {
			t.Errorf("sheet %d: plan and cautions reach into the profile", sh.no)
		}
	}
	if whole < 2 {
		t.Fatalf("%d sheets", whole)
	}
}

// Letter codes of lines that touch on paper do not run over each other, and no line is
// drawn over them.
func TestCodesOfLinesThatTouchAreRead(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Straight(80, 0, 41), sample.Straight(80, 0, 41))
	for i := range s.Lines {
		l := &s.Lines[i]
		l.Setup.Name, l.Setup.Utility = []string{"A", "B"}[i], trace.UnknownKind
		for k := range l.Centerline.Parts[0].Vertices {
			l.Centerline.Parts[0].Vertices[k].Pos.Y += 0.1 * float64(i)
		}
	}
	codes := 0
	for _, page := range pdfWords(t, pdfFile(t, pdfBytes(t, s, full(A4)))) {
		var found []word
		for _, w := range page {
			if w.text == "UNK" {
				found = append(found, w)
			}
		}
		codes += len(found)
		for i, a := range found {
			for _, b := range found[i+1:] {
				if a.over(b) {
					t.Errorf("two codes at %.0f, %.0f mm", a.x0, a.y0)
				}
			}
		}
	}
	if codes < 6 {
		t.Errorf("%d codes", codes)
	}
	m := newMarker(newPencil(paper.New(100, 100, paper.Info{}), sheetLayout{}, nil, nil))
	if w, _ := m.codeSize(plan.Pt{X: 1}, style.Of(trace.UnknownKind)); w < 6 {
		t.Errorf("a code of three letters has %.1f mm", w)
	}
}

// A stretch that the table says not to trust is no line in the profile either, whether or not
// the suspected error is known; and where a stretch that is only watched overlaps it, its own
// hatching stays.
func TestProfileDrawsASuspectedStretchAsOne(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Straight(30, 0, 16))
	l := &s.Lines[0]
	l.Tolerance.HalfWidthM = 0.5
	strong := finding.BleedOver{Line: l.Setup.Name, FromM: 10, ToM: 20, Path: l.Centerline.Parts[0].Path()[5:11], Grade: trace.GradeStrong,
		LikelyShiftM: 0.3, Shift95M: 0.2, LnDepth95: 0.2, LikelySide: trace.Left, WidenLeftM: 0.5}
	watch := finding.BleedOver{Line: l.Setup.Name, FromM: 0, ToM: 15, Path: l.Centerline.Parts[0].Path()[:9], Grade: trace.GradeWatch, WidenLeftM: 0.1, LikelyShiftM: trace.Unknown}
	dark := map[int]int{}
	for k, findings := range [][]trace.Finding{{strong}, {strong, watch}} {
		l.Findings = findings
		p, sh := firstProfile(t, s)
		distrusted := parted(p.knownRuns(false), true, func(q profilePoint) bool { return q.distrusted })
		if len(distrusted) != 1 || distrusted[0][0].stationM > 10 || distrusted[0][len(distrusted[0])-1].stationM < 20 {
			t.Errorf("not to be trusted: %+v", distrusted)
		}
		if cell := p.cells(15)[1]; cell != "do not trust" {
			t.Errorf("the table says %q", cell)
		}
		file := pdfFile(t, pdfBytes(t, s, Options{Sheets: trace.SheetsFull}))
		no := strconv.Itoa(sh.no)
		if text := poppler(t, "pdftotext", "-f", no, "-l", no, file, "-"); !strings.Contains(text, "DO NOT TRUST") {
			t.Error("the profile does not say so")
		}
		img := render(t, file, sh.no, 200)
		foot, scale := p.plot.Bottom()-1.5, 200/25.4
		for x := p.x(10.5); x < p.x(14.5); x += 0.05 {
			if gray(img.At(int(x*scale), int(foot*scale))) < 100 {
				dark[k]++
			}
		}
	}
	if dark[0] == 0 || dark[1] < dark[0] {
		t.Errorf("the hatching of the strong stretch: %d dark places by itself, %d under a watched one", dark[0], dark[1])
	}
}

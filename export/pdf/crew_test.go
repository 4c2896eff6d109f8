package pdf

import (
	"fmt"
	"image"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"loamline.example/export/internal/sample"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/study"
)

// crewJobs are the sample at both units, and jobs at the rim of what happens.
func crewJobs() map[string]*trace.Sheet {
	us := sample.Sheet()
	us.Job.Units = geo.US
	us.Job.PageURL = "https://maps.example/lantern-row.html"
	grid := sample.Sheet()
	grid.Job.CRS = "EPSG:26919"
	jobs := edgeSheets()
	jobs["sample"], jobs["sample in feet"], jobs["sample on a grid"] = sample.Sheet(), us, grid
	jobs["datum not stated"] = noDatum(geo.US)
	return jobs
}

// noDatum is a job whose widths are told from this map too, beside those from the paint.
func noDatum(u geo.Units) *trace.Sheet {
	s := sample.Sheet()
	s.Job.Units = u
	for i := range s.Lines {
		s.Lines[i].Caution.DoubtM, s.Lines[i].Caution.DoubtDatum = 1.4, "NAD83(2011)"
	}
	return s
}

// crewMade are the crew sheets that were drawn already, for several tests read the same.
var crewMade = map[crewSheetOf][]byte{}

type crewSheetOf struct {
	job, language string
	size          Paper
}

func crewPDF(t *testing.T, of crewSheetOf, s *trace.Sheet) []byte {
	t.Helper()
	if _, made := crewMade[of]; !made {
		crewMade[of] = pdfBytes(t, in(of.language, s), Options{Paper: of.size, Sheets: trace.SheetsCrew})
	}
	return crewMade[of]
}

func crewText(t *testing.T, s *trace.Sheet, opt Options) []string {
	t.Helper()
	opt.Sheets = trace.SheetsCrew
	return pagesOf(t, pdfBytes(t, s, opt))
}

// pagesOf is the text of each page, a blank between words.
func pagesOf(t *testing.T, pdf []byte) []string {
	t.Helper()
	pages := strings.Split(poppler(t, "pdftotext", pdfFile(t, pdf), "-"), "\f")
	for i := range pages {
		pages[i] = strings.Join(strings.Fields(pages[i]), " ")
	}
	return pages[:len(pages)-1]
}

// The sheet for the glove box is one page, and all that it must say is on it.
func TestCrewSheetIsOnePage(t *testing.T) {
	s := sample.Sheet()
	s.Job.PageURL = "https://maps.example/lantern-row.html"
	pages := crewText(t, s, Options{})
	wants := []string{
		"CREW SHEET", "Ticket T-2041", "2026-05-12; valid until 2026-06-11", "CHECK BEFORE DIGGING", "CROSSINGS", "DEPTHS TO CENTRE, every 10.0 m",
		"crosses C <7>", "do not trust", "not traced", "NOT TRACED", "Bleed-over strongly suspected", "W-1 (W)", "G-1 (G)", "Plan 1:", "CAUTION",
		"the place, in a phone's map", "the page of this map", "Crew sheet, sheet 1 of 3", "NO MACHINE WITHIN", " left right ", "1.19 m ± 0.12 ?", "'main 12' is on record, not located, 1.40 m beside it at 14.0 m: no machine between them or in either zone.",
	}
	for _, a := range append(words.Advice(s), s.Cautions...) {
		wants = append(wants, strings.Join(strings.Fields(a), " "))
	}
	for _, want := range wants {
		if !strings.Contains(pages[0], want) {
			t.Errorf("the crew sheet does not say %q", want)
		}
	}
	if !strings.Contains(pages[1], "STAKE-OUT TABLE") {
		t.Error("the stake-out table does not follow")
	}
}

// No figure stands beside a doubt as if nothing were the matter.
func TestCrewSheetNoSureFigureInADoubt(t *testing.T) {
	s := sample.Sheet()
	s.Lines[0].Findings = append(s.Lines[0].Findings, finding.Doubt{Line: "W-1", FromM: 4, ToM: 11, Path: s.Lines[0].Centerline.Parts[0].Path()[2:6], Why: trace.Verbatim("Two passes lie apart.")})
	page := crewText(t, s, Options{})[0]
	if !strings.Contains(page, "10.0 m do not trust not known") {
		t.Error("a depth in doubt is told as if it were sure")
	}
}

// What has no room goes onto further pages, in words and never cut; each page
// carries the cautions in full.
func TestCrewSheetGoesOnInWords(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Winding(2000))
	for i := range 120 {
		s.Advice = append(s.Advice, trace.Advice{Line: s.Lines[0].Setup.Name, FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseAccuracy,
			Remark: trace.Verbatim(fmt.Sprintf("Item %d of a long list of what to check before anybody digs along this line, told in full.", i))})
	}
	pages := crewText(t, s, Options{})
	all := strings.Join(pages, " ")
	if len(pages) < 3 || !strings.Contains(pages[0], "These lists continue: see sheet 2 of") {
		t.Errorf("%d pages, and the first does not say that it goes on", len(pages))
	}
	for _, a := range words.Advice(s) {
		if !strings.Contains(all, a) {
			t.Errorf("lost: %q", a)
		}
	}
	if strings.Contains(all, "…") {
		t.Error("something was cut")
	}
	for i, p := range pages {
		if !strings.Contains(p, "Positions are approximate.") || !strings.Contains(p, "Expose to verify.") || !strings.Contains(p, "T-1") {
			t.Errorf("page %d lacks cautions or ticket", i+1)
		}
	}
}

// Where the lists go on, the first page tells how far machines keep off all the same.
func TestCrewSheetThatGoesOnTellsFirstWhereNotToDig(t *testing.T) {
	s := sample.Sheet()
	for i := range 120 {
		s.Advice = append(s.Advice, trace.Advice{Line: "W-1", FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseAccuracy,
			Remark: trace.Verbatim(fmt.Sprintf("Item %d of a long list of what to check before anybody digs along this line, told in full.", i))})
	}
	first := crewText(t, s, Options{})[0]
	if !strings.Contains(first, "NO MACHINE WITHIN: from the paint") || !strings.Contains(first, "These lists continue") {
		t.Errorf("the first page of several does not tell how far machines keep off: %q", first)
	}
}

// A fact that the head has no room for stands in full in the lists.
func TestCrewSheetCutsNoFact(t *testing.T) {
	s := sample.Sheet()
	s.Job.PageURL = "https://maps.example/lantern-row.html"
	s.Job.Area = strings.Repeat("between the mill and the pond, ", 8) + "as far as the last gate"
	s.Job.Tolerance.Rule = strings.Repeat("a rule of many words and clauses, ", 6) + "and its last word"
	for i := range s.Lines {
		s.Lines[i].Tolerance.Rule = s.Job.Tolerance.Rule
	}
	all := strings.Join(crewText(t, s, Options{}), " ")
	for _, want := range []string{s.Job.Area, s.Job.Tolerance.Rule} {
		if !strings.Contains(all, want) {
			t.Errorf("the sheets do not say %q", want)
		}
	}
}

// codes reads the two codes at the right of a crew sheet's head.
func codes(t *testing.T, img image.Image, lay sheetLayout) []string {
	t.Helper()
	px := float64(img.Bounds().Dx()) / lay.page.W
	head := crewHead{pencil: &pencil{lay: lay}}
	mm := head.codesHeadMM()
	var out []string
	for k := range 2 {
		right := lay.frame.Right() - float64(k)*(mm-1.2)
		r := image.Rect(int((right-mm+1)*px), int(lay.frame.Y*px), int(right*px), int((lay.frame.Y+mm-3)*px))
		bmp, err := gozxing.NewBinaryBitmapFromImage(img.(interface {
			SubImage(image.Rectangle) image.Image
		}).SubImage(r))
		if err != nil {
			t.Fatal(err)
		}
		res, err := qrcode.NewQRCodeReader().Decode(bmp, nil)
		if err != nil {
			t.Errorf("code %d: %v", k+1, err)
			continue
		}
		out = append(out, res.GetText())
	}
	return out
}

// The codes on the rendered sheet are read by a decoder of another project, a
// port of ZXing.
func TestCrewSheetCodesAreRead(t *testing.T) {
	for _, size := range study.Some(1, A4, Letter) {
		s := sample.Sheet()
		s.Job.PageURL = "https://maps.example/lantern-row.html?ticket=T-2041"
		img := render(t, pdfFile(t, pdfBytes(t, s, Options{Paper: size, Sheets: trace.SheetsCrew})), 1, 200)
		texts := codes(t, img, upright(size))
		place := false
		for _, text := range texts {
			var at geo.LonLat
			if n, _ := fmt.Sscanf(text, "geo:%f,%f", &at.LatDeg, &at.LonDeg); n == 2 {
				q := s.Plane.XY(at)
				for _, l := range s.Lines {
					place = place || math.Abs(l.Centerline.Polyline().Nearest(q).OffsetM) < 0.2
				}
			}
		}
		if len(texts) != 2 || !place || !strings.Contains(strings.Join(texts, " "), s.Job.PageURL) {
			t.Errorf("%s: read %q", size, texts)
		}
	}
}

// Words of crew sheet and stake-out table do not run over each other, at any
// paper and in any units, and stay in the frame.
func TestCrewSheetWordsDoNotOverlap(t *testing.T) {
	for name, s := range crewJobs() {
		for _, size := range study.Some(1, A4, Letter, A3) {
			if size == A3 && name != "sample" {
				continue
			}
			f := upright(size).frame
			for no, page := range pdfWords(t, pdfFile(t, crewPDF(t, crewSheetOf{name, trace.English, size}, s))) {
				for i, a := range page {
					if a.x0 < f.X || a.x1 > f.Right()+0.1 || a.y0 < f.Y-0.3 || a.y1 > f.Bottom()+0.3 {
						t.Errorf("%s on %s, page %d: %q lies outside the frame", name, size, no+1, a.text)
					}
					for _, b := range page[i+1:] {
						if a.over(b) {
							t.Errorf("%s on %s, page %d: %q runs over %q at %.0f,%.0f mm", name, size, no+1, a.text, b.text, a.x0, a.y0)
						}
					}
				}
			}
		}
	}
}

// The choice of sheets: each is what it says, and both together are all.
func TestSheetsAreChosen(t *testing.T) {
	count := func(opt Options, job string) int {
		s := sample.Sheet()
		s.Job.Sheets = job
		return len(pdfWords(t, pdfFile(t, pdfBytes(t, s, opt))))
	}
	crew, full, both := count(Options{Sheets: trace.SheetsCrew}, ""), count(Options{Sheets: trace.SheetsFull}, ""), count(Options{}, "")
	stake := both - 1 // without the crew sheet: the full set, which has the table too
	if crew < 2 || full != stake || both <= full {
		t.Errorf("crew %d, full %d, both %d pages", crew, full, both)
	}
	if got := count(Options{}, trace.SheetsCrew); got != crew {
		t.Errorf("the job's own choice gives %d pages, not %d", got, crew)
	}
	if got := count(Options{Sheets: trace.SheetsFull}, trace.SheetsCrew); got != full {
		t.Errorf("the flag does not go before the job: %d pages", got)
	}
	if err := Write(&strings.Builder{}, sample.Sheet(), Options{Sheets: "some"}); err == nil {
		t.Error("unknown sheets were printed")
	}
}

// The stake-out table tells every point with coordinates, and what to tape it
// from.
func TestStakeOutTable(t *testing.T) {
	s := crewJobs()["sample on a grid"]
	var all string
	for _, p := range crewText(t, s, Options{})[1:] {
		all += p + " "
	}
	for _, want := range []string{"W-1.1", "start of the line as traced", "44.103 -71.502", "EPSG:26919", "10.12 m from hydrant 12", "31.89 m from pole 4",
		"60.0 m: bend", "crosses W-1", "bleed-over strongly suspected from here", "end of the line as traced"} {
		if !strings.Contains(all, want) {
			t.Errorf("the table does not say %q", want)
		}
	}
	s.Features = nil
	if p := crewText(t, s, Options{})[1]; !strings.Contains(p, "to tape these places from: use the paint") {
		t.Error("a job without fixed features does not say so")
	}
}

// All pages of a print have one numbering, whatever they are, and what refers to a
// sheet means that number.
func TestPagesHaveOneNumbering(t *testing.T) {
	for _, sheets := range []string{trace.SheetsBoth, trace.SheetsCrew, trace.SheetsFull} {
		pages := strings.Split(poppler(t, "pdftotext", "-layout", pdfFile(t, pdfBytes(t, sample.Sheet(), Options{Sheets: sheets})), "-"), "\f")
		pages = pages[:len(pages)-1]
		for i, p := range pages {
			p = strings.Join(strings.Fields(p), " ")
			if want := fmt.Sprintf("%d of %d", i+1, len(pages)); !strings.Contains(p, want) {
				t.Errorf("%s: page %d does not say %q", sheets, i+1, want)
			}
			for _, ref := range regexp.MustCompile(`see sheet (\d+)`).FindAllStringSubmatch(p, -1) {
				no, err := strconv.Atoi(ref[1])
				if err != nil || no < 1 || no > len(pages) {
					t.Errorf("%s: page %d sends to sheet %s of %d", sheets, i+1, ref[1], len(pages))
				}
			}
		}
	}
}

// What is one item of the check list has one number on the plan, and what asks
// nothing of anybody has none.
func TestNumbersAreThoseOfTheList(t *testing.T) {
	s := sample.Sheet()
	l := &s.Lines[0]
	jump := l.Findings[0].(finding.BleedOver)
	jump.FromM, jump.ToM, jump.Jump = 14, 18, true
	l.Findings = append(l.Findings, jump)
	set, err := newSheetSet(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	last := 0
	for _, n := range set.findings {
		if b, ok := n.Finding.(finding.BleedOver); ok && (b.FromM == 12 || b.Jump) && n.no != 1 {
			t.Errorf("%v to %v m has the number %d", b.FromM, b.ToM, n.no)
		}
		if (n.no > 0) != n.NeedsEyes() {
			t.Errorf("%T, which needs eyes: %v, has the number %d", n.Finding, n.NeedsEyes(), n.no)
		}
		if n.no > last+1 {
			t.Errorf("no finding has the number %d", last+1)
		}
		last = max(last, n.no)
	}
}

// How far a zone reaches is told for all of a line, and what lies between two traced
// stretches is told as not traced.
func TestCrewSheetTellsTheWidths(t *testing.T) {
	page := crewText(t, sample.Sheet(), Options{})[0]
	for _, want := range []string{"line, from and to", " right ", "W-1, 39.5 to 52.5 m: not traced or in doubt. No machine anywhere there until the line is found.", "W-1, 11.0 to 22.0 m"} {
		if !strings.Contains(page, want) {
			t.Errorf("the crew sheet does not say %q", want)
		}
	}
}

// A width that bounds nothing does not stand as if it did: what is only possible there, and
// nothing bounds, is marked beside every figure and said in words; and nowhere else.
func TestWidthsThatAreNoBoundSaySo(t *testing.T) {
	for _, widen := range []float64{0, 0.3} {
		s := sample.Of(geo.Metric, sample.Straight(30, 0, 16))
		l := &s.Lines[0]
		l.Tolerance.HalfWidthM = 0.5
		for _, v := range l.Centerline.Parts[0].Vertices {
			l.Reach = append(l.Reach, trace.ZoneReach{StationM: v.StationM, LeftM: 1.15, RightM: 1.15})
		}
		l.Findings = []trace.Finding{finding.BleedOver{Line: l.Setup.Name, FromM: 10, ToM: 30, Path: l.Centerline.Parts[0].Path()[5:], Grade: trace.GradeWatch, Jump: true, LikelyShiftM: trace.Unknown, WidenLeftM: widen}}
		page := crewText(t, s, Options{})[0]
		for want, times := range map[string]int{"≥ 1.15 m": 2, "nothing says how far. Find it before a machine works there.": 1} {
			if widen > 0 {
				times = 0
			}
			if n := strings.Count(page, want); n != times {
				t.Errorf("widened by %g m: %q stands %d times, not %d, in %q", widen, want, n, times, page)
			}
		}
	}
}

// The table of widths stands in the column that its heading stands in, whatever is said
// between them.
func TestWidthsStandUnderTheirHeading(t *testing.T) {
	for no := 0; no < 12; no += study.Of(3, 1) {
		s := sample.Sheet()
		for i := range s.Lines {
			s.Lines[i].Caution.DoubtM, s.Lines[i].Caution.DoubtDatum = 1.4, "NAD83(2011)"
		}
		for k := range no { // the more to check, the farther down the heading
			s.Advice = append(s.Advice, trace.Advice{Line: "W-1", FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseAccuracy, Remark: trace.Verbatim(fmt.Sprintf("Item %d of what to check, told in a line or two of the column that it stands in, and no more.", k))})
		}
		for _, page := range pdfWords(t, pdfFile(t, pdfBytes(t, s, Options{Sheets: trace.SheetsCrew}))) {
			var head, table *word
			for i := range page {
				if page[i].text == "MACHINE" && head == nil {
					head = &page[i]
				}
				if page[i].text == "line," && i+1 < len(page) && page[i+1].text == "from" && table == nil {
					table = &page[i]
				}
			}
			if head != nil && table != nil && (table.x0-head.x0 > 20 || table.y0 < head.y0) {
				t.Errorf("%d more items: the heading at %.0f, %.0f mm, the table at %.0f, %.0f mm", no, head.x0, head.y0, table.x0, table.y0)
			}
		}
	}
}

// An item has the number that it has in every list, whatever it is about: one about the
// whole map has one as well, and a check that is to be made again comes after all.
func TestItemsAreNumberedByTheirPlace(t *testing.T) {
	s := sample.Sheet()
	whole := trace.Advice{FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseExposed, Remark: trace.Verbatim("Exposed elsewhere than traced.")}
	s.Advice = append(s.Advice, whole)
	again := finding.FieldCheck{Line: "W-1", StationM: 3, At: s.Lines[0].Centerline.Parts[0].Vertices[1].Pos, Kind: trace.CheckLift, Outcome: trace.OutcomeInconclusive, Remark: trace.Verbatim("It could not tell.")}
	s.Lines[0].Findings = append(s.Lines[0].Findings, again)
	set, err := newSheetSet(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range set.findings {
		for k, a := range advice.MostImportantFirst(s) {
			if advice.IsAbout(a, n.Finding) && n.no != k+1 {
				t.Errorf("item %d, %s, has %d on the plan", k+1, words.Item(geo.Metric, a), n.no)
			}
		}
		if n.Finding == trace.Finding(again) && n.no <= len(s.Advice) {
			t.Errorf("a check to be made again has the number %d of %d items", n.no, len(s.Advice))
		}
	}
	text := strings.Join(strings.Fields(poppler(t, "pdftotext", "-layout", pdfFile(t, pdfBytes(t, s, Options{Sheets: trace.SheetsCrew})), "-")), " ")
	if !strings.Contains(text, "1 Exposed elsewhere than traced.") {
		t.Errorf("the first item has no number: %q", text)
	}
}

// Whom to call stands in the head of the crew sheet, once; where it is cut there, in the
// lists and in the cautions as before.
func TestCrewSheetSaysWhomToCall(t *testing.T) {
	s := sample.Sheet()
	s.Job.Contact = trace.Contact{}
	if page := crewText(t, s, Options{})[0]; strings.Contains(page, "about any damage") || !strings.Contains(page, "not stated: write the numbers of the owners here") {
		t.Errorf("without a contact: %.300s", page)
	}
	s.Job.Contact = trace.Contact{Owner: "Tern Lane Water", OwnerPhone: "555-0134", Emergency: "555-0100"}
	page := crewText(t, s, Options{})[0]
	if n := strings.Count(page, "555-0100"); n != 1 || !strings.Contains(page, "555-0100 where a line is hit or gas is smelled; Tern Lane Water, 555-0134 about any damage") {
		t.Errorf("stands %d times: %q", n, page)
	}
	s.Job.Contact.Owner = strings.Repeat("The Waterworks of the Tern Lane ", 6)
	page = crewText(t, s, Options{})[0]
	for _, want := range []string{"Call: 555-0100 where", "555-0134 about any damage.", "call 555-0100 from a safe place."} {
		if !strings.Contains(page, want) {
			t.Errorf("cut: %q lacks %q", page, want)
		}
	}
}

// What points are taped from stands on the plan under its name, and the legend explains it.
func TestFixedFeaturesStandOnThePlan(t *testing.T) {
	s := sample.Sheet()
	page := crewText(t, s, Options{})[0]
	for _, want := range []string{"pole 4", "fixed feature to tape from"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q lacks %q", page, want)
		}
	}
	s.Features = nil
	if page := crewText(t, s, Options{})[0]; strings.Contains(page, "fixed feature") {
		t.Error("the legend explains a sign that is not there")
	}
}

// Widths that reach past the ends of the stretches that the lists give say so: 2.39 m from
// 11.7 m stood beside a stretch from 14.2 m.
func TestWidthsPastTheEndsOfAStretch(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Straight(30, 0, 16))
	l := &s.Lines[0]
	for _, v := range l.Centerline.Parts[0].Vertices {
		l.Reach = append(l.Reach, trace.ZoneReach{StationM: v.StationM, LeftM: 1.15, RightM: 1.15})
	}
	const said = "Widths go on past the ends of the stretches listed."
	if page := crewText(t, s, Options{})[0]; strings.Contains(page, said) {
		t.Error("said where there is no stretch")
	}
	l.Findings = []trace.Finding{finding.BleedOver{Line: l.Setup.Name, FromM: 10, ToM: 20, Path: l.Centerline.Parts[0].Path()[5:], Grade: trace.GradeWatch, LikelyShiftM: trace.Unknown}}
	if page := crewText(t, s, Options{})[0]; !strings.Contains(page, said) {
		t.Errorf("not said: %q", page)
	}
}

package page

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// makePage returns a page and, for people who want to look at it, leaves it in
// the folder that LOAMLINE_LOOK names.
func makePage(t *testing.T, name string, s *trace.Sheet, opt Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, opt); err != nil {
		t.Fatal(err)
	}
	if dir := os.Getenv("LOAMLINE_LOOK"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name+".html"), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return b.Bytes()
}

func TestPageIsDeterministic(t *testing.T) {
	a, b := makePage(t, "sample", sample.Sheet(), Options{}), makePage(t, "sample", sample.Sheet(), Options{})
	if !bytes.Equal(a, b) {
		t.Error("two pages of the same sheet differ")
	}
}

// Names that try to end the script, open a comment, or add an element: the
// HTML standard's "Restrictions for contents of script elements" names the
// first two. None may reach the file as markup.
func TestPageHoldsHostileNames(t *testing.T) {
	const hostile = "</script><!--<script>alert(1)</script><img src=x onerror=alert(2)>\u2028"
	s := sample.EveryKind()
	s.Name, s.Job.Ticket, s.Job.Area, s.Job.Locator = hostile, hostile, hostile, hostile
	s.Inputs[0].Name, s.Records[0].Name, s.Records[0].Source, s.Frame = hostile, hostile, hostile, geo.Plain(hostile)
	s.Advice, s.Cautions = []trace.Advice{{Remark: trace.Verbatim(hostile)}}, []string{hostile}
	s.Problems[0].Value = hostile
	remarks := []trace.Remark{trace.Verbatim(hostile)}
	for i := range s.Lines {
		l := &s.Lines[i]
		l.Setup.Name, l.Setup.Material, l.Tolerance.Rule = hostile, hostile, hostile
		l.Checked, l.Centerline.Notes, l.TryNext = remarks, remarks, remarks
		l.Readings[0].Status, l.Readings[0].Reason, l.Readings[0].Point = trace.StatusSetAside, trace.Verbatim(hostile), hostile
	}
	s.Lines[0].Findings[0] = finding.BleedOver{Line: hostile, Neighbor: hostile, Grade: trace.GradeStrong, Evidence: remarks}
	page := string(makePage(t, "hostile", s, Options{}))
	for _, bad := range []string{"<img src=x", "alert(1)</script>", "<!--<script"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if n := strings.Count(page, "</script>"); n != 2 {
		t.Errorf("%d script elements end, want the data's and the script's", n)
	}
}

func TestPageDataIsJSON(t *testing.T) {
	page := string(makePage(t, "every", sample.EveryKind(), Options{}))
	m := regexp.MustCompile(`(?s)<script type="application/json" id="data">(.*?)</script>`).FindStringSubmatch(page)
	if m == nil {
		t.Fatal("the data's script is missing")
	}
	var d map[string]any
	if err := json.Unmarshal([]byte(m[1]), &d); err != nil {
		t.Fatal(err)
	}
	if n := len(d["lines"].([]any)); n != 3 {
		t.Errorf("%d lines, want 3", n)
	}
}

// A page without a tile source names no address that a browser would fetch.
func TestPageAsksNobody(t *testing.T) {
	page := string(makePage(t, "sample", sample.Sheet(), Options{}))
	for _, bad := range []string{` src="`, `<link`, `@import`, `sourceMappingURL`} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if !strings.Contains(page, "img-src data:;") {
		t.Error("the page's policy opens pictures to more than data")
	}
}

func TestTileSource(t *testing.T) {
	tests := []struct {
		source TileSource
		ok     bool
	}{
		{TileSource{}, true},
		{TileSource{URL: "https://tiles.example/{z}/{x}/{y}.png"}, true},
		{TileSource{URL: "http://127.0.0.1:8080/t/{z}/{x}/{y}.png", MaxZoom: 22}, true},
		{TileSource{URL: "https://tiles.example/{z}/{x}.png"}, false},
		{TileSource{URL: "https://{s}.tiles.example/{z}/{x}/{y}.png"}, false},
		{TileSource{URL: "https://*/{z}/{x}/{y}.png"}, false},
		{TileSource{URL: "https://a.example;script-src *//{z}/{x}/{y}.png"}, false},
		{TileSource{URL: "javascript:alert(1)//{z}/{x}/{y}"}, false},
		{TileSource{URL: "file:///tiles/{z}/{x}/{y}.png"}, false},
		{TileSource{URL: "https://u:p@tiles.example/{z}/{x}/{y}.png"}, false},
		{TileSource{URL: "https://tiles.example/{z}/{x}/{y}.png", MaxZoom: 40}, false},
	}
	for _, tt := range tests {
		if _, err := tt.source.Check(); (err == nil) != tt.ok {
			t.Errorf("%+v: %v", tt.source, err)
		}
	}
	page := string(makePage(t, "tiles", sample.Sheet(), Options{Tiles: tests[1].source}))
	if !strings.Contains(page, "img-src data: https://tiles.example;") || !strings.Contains(page, "fetched from tiles.example") {
		t.Error("the policy or the page does not name the tile source's host")
	}
}

// The lists say in plain HTML what the plan shows, for every kind of finding.
func TestPageListsEverything(t *testing.T) {
	s := sample.EveryKind()
	page := string(makePage(t, "every", s, Options{}))
	want := []string{"Check before digging (2)", "CAUTION", "read depth to centre", "expose to verify",
		"position outlier", "not a number", words.Ledger(s.Counts)[3:], "SHA-256", "Null lies 0.14 m right of peak"}
	for _, l := range s.Lines {
		for _, f := range l.Findings {
			want = append(want, words.FindingTitle(geo.Metric, f)[:8])
		}
	}
	for _, w := range want {
		if !strings.Contains(page, w) {
			t.Errorf("the page does not say %q", w)
		}
	}
}

// Contrast by WCAG 2.1: black on white is 21, and the two published sample
// pairs of Understanding SC 1.4.3 for grey on white, #767676 (4.54) and #777777
// (4.48).
func TestContrast(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want float64
	}{{"#000000", "#FFFFFF", 21}, {"#767676", "#FFFFFF", 4.54}, {"#777777", "#FFFFFF", 4.48}} {
		if got := contrast(tt.a, tt.b); got < tt.want-0.005 || got > tt.want+0.005 {
			t.Errorf("%s on %s: %.3f, want %.2f", tt.a, tt.b, got, tt.want)
		}
	}
	for _, st := range style.All() {
		if c := contrast(st.Hex, baseUnder(st.Hex)); c < 3 {
			t.Errorf("%s on its ground: %.2f, below 3:1 (WCAG 2.1, 1.4.11)", st.Utility, c)
		}
	}
}

// A crossing is a finding of one line; who looks at the other line is told too.
func TestPageTellsACrossingUnderBothLines(t *testing.T) {
	s := sample.Sheet()
	for i, want := range map[int]string{0: `Crosses C <7> & "spare", at 24.0 m`, 2: "Crosses W-1, at 6.2 m"} {
		titles := ""
		for _, f := range listFindings(s, i) {
			titles += f.Title.Metric + "\n"
		}
		if strings.Count(titles, want) != 1 {
			t.Errorf("line %d does not tell once %q:\n%s", i, want, titles)
		}
		if n, drawn := len(listFindings(s, i)), len(pageLine(s, &s.Lines[i], voice{}).Findings); n != drawn {
			t.Errorf("line %d: %d findings listed, %d drawn", i, n, drawn)
		}
	}
}

// A row whose position is impossible is in the lists and not on the plan.
func TestPageDrawsNoReadingWithoutAPlace(t *testing.T) {
	s := sample.Sheet()
	r := trace.NewReading()
	r.Row, r.Status, r.Reason = 99, trace.StatusSetAside, trace.Verbatim("latitude and longitude are swapped in this row")
	r.Geographic = geo.LonLat{LonDeg: 44.1, LatDeg: -71.5}
	s.Lines[0].Readings = append(s.Lines[0].Readings, r)
	if got := pageReadings(s.Job.Units, s.Lines[0].Readings); len(got.X) != len(s.Lines[0].Readings)-1 || len(got.Status) != len(got.X) {
		t.Errorf("%d of %d readings are drawn", len(got.X), len(s.Lines[0].Readings))
	}
	if page := string(makePage(t, "unplaced", s, Options{})); !strings.Contains(page, "latitude and longitude are swapped") {
		t.Error("the page does not list the row")
	}
}

// What is promised reaches the page's words no smaller than it is: they round it up to the
// figure that the evidence, worded from the figure itself, tells.
func TestLimitsAreRoundedUp(t *testing.T) {
	got, err := json.Marshal(struct {
		Off  limits
		Band series
	}{limits{0.010004, 0.0127, 0.3048, trace.Unknown}, series{0.010004, trace.Unknown}})
	if want := `{"Off":[0.0101,0.0127,0.3048,null],"Band":[0.01,null]}`; err != nil || string(got) != want {
		t.Errorf("%s, %v", got, err)
	}
	s := sample.Sheet()
	b := s.Lines[0].Findings[1].(finding.BleedOver)
	b.WidenLeftM, b.WidenRightM = 0.010004, 0.010004
	b.Evidence = append(b.Evidence, remark.CoupledUnseen{Share: 0.2, ShiftM: 0.010004})
	s.Lines[0].Findings[1] = b
	if page := string(makePage(t, "off", s, Options{})); !strings.Contains(page, `"off":[0.0101]`) || !strings.Contains(page, "up to 0.02 m from the paint") {
		t.Error("the card's figure is below that of its evidence")
	}
}

// A depth that was left out, and one read with the receiver lifted, are no points
// of the profile.
func TestPageProfileHasTheDepthsThatCount(t *testing.T) {
	r := trace.NewReading()
	r.DepthM, r.Status = 1.2, trace.StatusUsed
	dropped, lifted := r, r
	dropped.DepthDropped = true
	lifted.Status = trace.StatusCheck
	if readDepth(&r) != 1.2 || trace.Known(readDepth(&dropped)) || trace.Known(readDepth(&lifted)) {
		t.Errorf("depths %v, %v, %v", readDepth(&r), readDepth(&dropped), readDepth(&lifted))
	}
}

// The page's scripts draw by role: each that they are given must be one that
// they know. Exposures are drawn as the readings that they are.
func TestPageDrawsEveryKindOfFinding(t *testing.T) {
	for _, f := range finding.All() {
		drawn := pageFinding(geo.Metric, f)
		if _, ok := f.(finding.ExposedCheck); !ok && !strings.Contains(pageScript(), "f.role === '"+drawn.Role+"'") {
			t.Errorf("%T goes to the scripts as %s, which they do not draw: see drawnOwn in export/page/data.go", f, drawn.Role)
		}
		if len(drawn.FromM) == 0 || len(drawn.Path) == 0 || drawn.Title.Metric == "" || len(drawn.Words) == 0 {
			t.Errorf("%T: %+v", f, drawn)
		}
	}
}

// The licence of the embedded map library asks to go with every copy of it.
func TestPageCarriesTheLicenceOfLeaflet(t *testing.T) {
	for _, want := range []string{"Leaflet 1.9.4", "Volodymyr Agafonkin", "Redistributions in binary form must reproduce"} {
		if !strings.Contains(pageScript(), want) {
			t.Errorf("no %q", want)
		}
	}
}

// A kerb is drawn under the lines and explained; without a background the page
// speaks of none. A meeting with a known line is in the lists and in the data.
func TestPageOfBackgroundAndKnownLines(t *testing.T) {
	s := sample.Sheet()
	if plain := makePage(t, "plain", s, Options{}); bytes.Contains(plain, []byte(`<path class="ground"`)) || bytes.Contains(plain, []byte(`"ground":[`)) {
		t.Error("a page without a background speaks of one")
	}
	s.Background = []trace.Background{{Name: "kerb north", Source: "kerbs.shp", Path: []geo.XY{{X: 0, Y: 3}, {X: 40, Y: 3}}}}
	s.Lines[0].Findings = append(s.Lines[0].Findings, finding.Crossing{Line: "W-1", Other: "duct 7", Source: "ducts.gpkg", At: geo.XY{X: 10}, StationM: 10,
		OtherDepthM: 0.62, DepthDifferenceM: -0.4})
	page := string(makePage(t, "background", s, Options{}))
	for _, want := range []string{`"ground":[{"name":"kerb north","path":[0,3,40,3]}]`, `<path class="ground"`, "kerbs.shp (1 outlines and lines near the job)",
		"Crosses &#39;duct 7&#39;, on record, at 10.0 m", "it was not located on this job", `"role":"crossing"`, `"other":"duct 7"`} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
}

// What was found stands in the order of what is to be checked: what is strongly suspected
// before what is only possible, wherever along the line each lies.
func TestFindingsStandInTheOrderOfTheChecks(t *testing.T) {
	bleed := func(from float64, g trace.Grade) finding.BleedOver {
		return finding.BleedOver{Line: "W-1", FromM: from, ToM: from + 5, Grade: g, LikelyShiftM: trace.Unknown}
	}
	s := sample.Sheet()
	s.Lines[0].Findings = []trace.Finding{bleed(0, trace.GradeWatch), bleed(10, trace.GradeSuspect), bleed(20, trace.GradeStrong)}
	s.Lines[1].Findings, s.Lines[2].Findings = nil, nil
	s.Advice = nil
	for _, f := range s.Lines[0].Findings {
		from, to := f.Span()
		s.Advice = append(s.Advice, trace.Advice{Line: "W-1", FromM: from, ToM: to, Kind: trace.AdviseBleed, Remark: trace.Verbatim("Expose.")})
	}
	p, err := newPageLists(s, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	var marks []string
	for i, f := range p.Findings {
		marks = append(marks, f.Mark)
		if p.Advice[i].Finding != f.Index {
			t.Errorf("check %d is about finding %d, the list has %d there", i, p.Advice[i].Finding, f.Index)
		}
	}
	if want := []string{"bleed_over strong", "bleed_over suspect", "bleed_over watch"}; !slices.Equal(marks, want) {
		t.Errorf("%q, want %q", marks, want)
	}
}

// A check that is to be made again stands in the list of what to check, after all else,
// under the number that it has on the printed sheet.
func TestChecksToBeMadeAgainAreListed(t *testing.T) {
	s := sample.Sheet()
	again := finding.FieldCheck{Line: "W-1", StationM: 3, Kind: trace.CheckLift, Outcome: trace.OutcomeInconclusive, Remark: trace.Verbatim("It could not tell.")}
	s.Lines[0].Findings = append(s.Lines[0].Findings, again)
	p, err := newPageLists(s, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	last := p.Advice[len(p.Advice)-1]
	if len(p.Advice) != len(s.Advice)+1 || last.No != len(p.Advice) || last.Words.Metric != "W-1: Lift check is inconclusive, at 3.0 m. It could not tell." || !last.Shown || last.Finding != len(s.Lines[0].Findings)-1 {
		t.Errorf("%+v", p.Advice)
	}
	for _, f := range p.Findings {
		if f.finding == trace.Finding(again) && !f.Asks {
			t.Error("a check that could tell nothing stands among those without a sign of trouble")
		}
	}
}

// Without a ticket the page says so before all, and not the name of a file as if it were
// one.
func TestPageSaysThatNoTicketIsStated(t *testing.T) {
	s := sample.Sheet()
	s.Name, s.Job.Ticket = "trace", ""
	page := string(makePage(t, "ticketless", s, Options{}))
	for _, want := range []string{"<h1>No ticket stated</h1>", "<title>trace: traced lines</title>", "<div><dt>Map</dt><dd>trace</dd></div>"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	s.Job.Language = trace.Spanish
	if page := string(makePage(t, "ticketless-es", s, Options{})); !strings.Contains(page, "<h1>Ticket no indicado</h1>") {
		t.Error("it does not say so in Spanish")
	}
}

// Where there is nothing to tape from, the points to stake out say so, once a line.
func TestPointsWithoutTiesSaySo(t *testing.T) {
	const said = "there is nothing to tape these points from"
	s := sample.Sheet()
	var with, without bytes.Buffer
	if err := Write(&with, s, Options{}); err != nil {
		t.Fatal(err)
	}
	s.Features, s.Background = nil, nil
	if err := Write(&without, s, Options{}); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(with.String(), said) {
		t.Error("said where there are features to tape from")
	}
	lines := 0
	for i := range s.Lines {
		if s.Lines[i].Centerline != nil {
			lines++
		}
	}
	if n := strings.Count(without.String(), said); n != lines {
		t.Errorf("said %d times over %d lines that are drawn", n, lines)
	}
}

// A width of the list that bounds nothing is marked, and the mark is told.
func TestWidthsThatAreNoBoundSaySo(t *testing.T) {
	for _, widen := range []float64{0, 0.3} {
		s := sample.Of(geo.Metric, sample.Straight(30, 0, 16))
		l := &s.Lines[0]
		for _, v := range l.Centerline.Parts[0].Vertices {
			l.Reach = append(l.Reach, trace.ZoneReach{StationM: v.StationM, LeftM: 1.15, RightM: 1.15})
		}
		l.Findings = []trace.Finding{finding.BleedOver{Line: l.Setup.Name, FromM: 10, ToM: 30, Path: l.Centerline.Parts[0].Path()[5:], Grade: trace.GradeWatch, Jump: true, LikelyShiftM: trace.Unknown, WidenLeftM: widen}}
		page := string(makePage(t, "no-bound", s, Options{}))
		if farther := strings.Contains(page, `1.15,1.15,1]`); farther != (widen == 0) {
			t.Errorf("widened by %g m: the figures at a place say that it is no bound: %v", widen, farther)
		}
		if marked, told := strings.Contains(page, ">≥ 1.15 m<"), strings.Contains(page, "and nothing says how far. Find it before a machine works there."); marked != (widen == 0) || told != marked {
			t.Errorf("widened by %g m: marked %v, told %v", widen, marked, told)
		}
	}
}

// What could not be checked stands with what is to be checked, as on the sheet and in the
// terminal: who reads that list alone must not think that all was.
func TestPageSaysWhatCouldNotBeChecked(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Straight(30, 0, 16))
	const said = "Not checked: current direction (no phase column). Another line&#39;s signal may have gone unseen."
	if page := string(makePage(t, "all-checked", s, Options{})); strings.Contains(page, "Not checked") {
		t.Error("said where all was checked")
	}
	s.Lines[0].Checked = []trace.Remark{remark.NotChecked{Check: remark.CheckDirection}}
	page := string(makePage(t, "not-checked", s, Options{}))
	if at, lines := strings.Index(page, said), strings.Index(page, `id="lines"`); at < strings.Index(page, `id="before"`) || at > lines {
		t.Errorf("it stands at %d, the lines at %d", at, lines)
	}
	s.Job.Language = trace.Spanish
	if page := string(makePage(t, "not-checked-es", s, Options{})); !strings.Contains(page, "No se comprobó: ") || strings.Contains(page, "Not checked") {
		t.Error("not in Spanish")
	}
}

// What points are taped from stands on the plan and is explained; only what a tie names.
func TestTapedFromStandsOnThePlan(t *testing.T) {
	s := sample.Sheet()
	s.Features = append(s.Features, trace.Feature{Name: "far pole", Path: []geo.XY{{X: 4000, Y: 4000}}})
	page := string(makePage(t, "taped", s, Options{}))
	if !strings.Contains(page, `{"name":"hydrant 12","path":[8,6.2]}`) || strings.Contains(page, `"far pole"`) || !strings.Contains(page, "Fixed feature to tape from.") {
		t.Error("the hydrant is not on the plan, a pole four kilometres off is, or the sign is not explained")
	}
	s.Features = nil
	if page := string(makePage(t, "not-taped", s, Options{})); strings.Contains(page, "Fixed feature to tape from.") {
		t.Error("a sign is explained that is not there")
	}
}

// The number to call is under the thumb wherever the page is read, and dials.
func TestEmergencyNumberDials(t *testing.T) {
	for number, want := range map[string]string{"555-0100": "tel:5550100", "+1 (555) 0100": "tel:&#43;15550100", "the gate": "", "": ""} {
		s := sample.Sheet()
		s.Job.Contact.Emergency = number
		page := string(makePage(t, "call", s, Options{}))
		_, strip, _ := strings.Cut(page, `<aside class="strip"`)
		if want == "" {
			if strings.Contains(strip, "tel:") {
				t.Errorf("%q dials", number)
			}
			continue
		}
		if !strings.Contains(strip, `href="`+want+`"`) {
			t.Errorf("%q: %.400s", number, strip)
		}
	}
}

package page

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"loamline.example/export/internal/sample"
	"loamline.example/export/stakeout"
	"loamline.example/export/webtest"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/study"
)

// A phone that opens the page, in whichever language, shows the plan and where the
// figures of a place come, without a touch; what is told first of the place that was
// chosen stands in the same screen as the plan.
func TestPlanAndFiguresShareTheFirstScreen(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	for _, lang := range []string{trace.English, trace.Spanish, trace.EnglishAndSpanish} {
		s := sample.Sheet()
		s.Job.Language = lang
		tab := openPage(t, b, "sample", s, 360, 740, false)
		y := func(script string) float64 {
			return webtest.Eval[float64](tab, script)
		}
		strip := y("document.querySelector('.strip').getBoundingClientRect().top")
		if top := y("document.getElementById('plan').getBoundingClientRect().top"); top > 230 {
			t.Errorf("%s: the plan begins at %.0f px", lang, top)
		}
		webtest.Eval[any](tab, "(e => { e.value = 16; e.dispatchEvent(new Event('input')); })(document.getElementById('station')), null")
		if bottom := y("document.querySelector('#figures .place p').getBoundingClientRect().bottom"); bottom > strip {
			t.Errorf("%s: the place that the figures are of ends at %.0f px, below the caution at %.0f", lang, bottom, strip)
		}
		tab.Look("first-screen-" + lang)
		quiet(t, tab)
		tab.Close()
	}
}

// broken lists figures that stand apart from their unit, and those that nothing holds.
const broken = `(() => {
	const out = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	for (let n; (n = walk.nextNode());) {
		const p = n.parentElement;
		if (p.closest('script, style, svg, select, #plan, .unseen, .kept') || !p.checkVisibility()) continue;
		for (const m of n.data.matchAll(/± \d|\d (m|ft|in|mA|%)(?![\wÀ-ÿ])|\d{4}-\d\d-\d\d/g)) out.push('held by nothing: ' + n.data.slice(Math.max(0, m.index - 20), m.index + 20));
	}
	for (const e of document.querySelectorAll('.kept')) if (e.checkVisibility() && e.getClientRects().length !== 1) out.push('on two lines: ' + e.textContent);
	if (!document.querySelector('.kept')) out.push('nothing is held');
	if (document.documentElement.scrollWidth > innerWidth) out.push('wider than the window: ' + document.documentElement.scrollWidth);
	return out;
})()`

// A figure and its unit stand on one line, however often the units, the language and
// the place are changed, and the text is what it was.
func TestFiguresStayWithTheirUnits(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	for _, width := range []int{320, 360, 390, 1440} {
		s := pageJobs["every"]()
		s.Job.Language = trace.EnglishAndSpanish
		tab := openPage(t, b, "every", s, width, 800, false)
		webtest.Eval[any](tab, "document.querySelectorAll('details').forEach(d => { d.open = true; }), null")
		look := func(when string) {
			t.Helper()
			for _, w := range webtest.Eval[[]string](tab, broken) {
				t.Errorf("%d px, %s: %s", width, when, w)
			}
		}
		look("opened")
		for _, station := range []int{3, 16, 34} {
			webtest.Eval[any](tab, fmt.Sprintf("(e => { e.value = %d; e.dispatchEvent(new Event('input')); })(document.getElementById('station')), null", station))
			look("a place chosen")
		}
		for _, id := range []string{"units", "language", "units"} {
			webtest.Eval[any](tab, "document.getElementById('"+id+"').click(), null")
			look(id + " changed")
		}
		if left := webtest.Eval[string](tab, "[...document.querySelectorAll('[data-us]')].filter(e => e.textContent !== (e.dataset.metricEn || e.dataset.metric)).map(e => e.textContent).join('|')"); left != "" {
			t.Errorf("the text is no more what was written: %s", left)
		}
		quiet(t, tab)
		tab.Close()
	}
}

// What lies beside a line has no station: it is told where it is drawn, and puts the
// start of the line in no doubt that nothing there bears out.
func TestWhatLiesBesideTheLineIsNotAtItsStart(t *testing.T) {
	t.Parallel()
	s := sample.Of(geo.Metric, sample.Straight(60, 0.3, 13))
	path := []geo.XY{{X: 0, Y: 8}, {X: 10, Y: 8}}
	line := s.Lines[0].Setup.Name
	s.Lines[0].Findings = append(s.Lines[0].Findings,
		finding.Gap{Line: line, FromM: trace.Unknown, ToM: trace.Unknown, Path: path, Why: trace.Verbatim("readings lie beside it")},
		finding.Doubt{Line: line, FromM: trace.Unknown, ToM: trace.Unknown, Path: path, Why: trace.Verbatim("readings lie beside it")})
	tab := openPage(t, webtest.Open(t), "beside", s, 360, 740, false)
	for station, want := range map[int]string{0: "Read depth to centre", 30: "Read depth to centre"} {
		webtest.Eval[any](tab, fmt.Sprintf("(e => { e.value = %d; e.dispatchEvent(new Event('input')); })(document.getElementById('station')), null", station))
		said := figures(tab)
		expect(t, said, want)
		if spoken := webtest.Eval[string](tab, "document.getElementById('station').getAttribute('aria-valuetext') + document.getElementById('slider-words').textContent"); strings.Contains(strings.ToLower(said+spoken), "do not trust") || strings.Contains(said, "suspected") {
			t.Errorf("at %d m: %q, %q", station, said, spoken)
		}
	}
	quiet(t, tab)
}

// Beside a gap the slider reads out what stands beside it: that the mark is not to be
// trusted.
func TestTheSliderWarnsBesideAGap(t *testing.T) {
	t.Parallel()
	tab := openPage(t, webtest.Open(t), "sample", sample.Sheet(), 360, 740, false)
	for station, want := range map[float64]string{39.8: "not traced beside here, do not trust", 34: "read depth to centre", 46: "not traced"} {
		webtest.Eval[any](tab, fmt.Sprintf("(e => { e.value = %g; e.dispatchEvent(new Event('input')); })(document.getElementById('station')), null", station))
		if spoken := webtest.Eval[string](tab, "document.getElementById('station').getAttribute('aria-valuetext')"); !strings.Contains(spoken, ": "+want) {
			t.Errorf("at %g m it says %q", station, spoken)
		}
	}
	quiet(t, tab)
}

// The units switch reaches the reasons of the readings and what is said of the frame.
func TestUnitsReachReasonsAndFrame(t *testing.T) {
	t.Parallel()
	for _, lang := range []string{trace.English, trace.Spanish} {
		s := sample.Sheet()
		s.Job.Language = lang
		f, err := geo.NewFrame("EPSG:4326", "", 2026)
		if err != nil {
			t.Fatal(err)
		}
		at := geo.LonLat{LonDeg: -74.006, LatDeg: 40.7128}
		s.Frame, s.OutputWords = f.Words(at), geo.Frame{}.OutputWords(at, f)
		r := &s.Lines[0].Readings[0]
		r.Status, r.Reason = trace.StatusSetAside, remark.Outlier{From: remark.FromLine, OffM: 9.8}
		tab := openPage(t, webtest.Open(t), "units", s, 360, 740, false)
		seen := func() string {
			return webtest.Eval[string](tab, "document.querySelectorAll('details').forEach(d => { d.open = true; }), document.querySelector('#rows').innerText + document.querySelector('#origin').innerText")
		}
		expect(t, seen(), "9.8 m", "1.26 m")
		webtest.Eval[any](tab, "document.getElementById('units').click(), null")
		said := seen()
		expect(t, said, "32 ft 2 in", "4 ft 2 in")
		for _, left := range regexp.MustCompile(`.{0,30}\d m\b.{0,10}`).FindAllString(said, -1) {
			t.Errorf("%s: left in metres: %q", lang, left)
		}
		quiet(t, tab)
		tab.Close()
	}
}

// Folded, the page of a busy job is short enough for a thumb: plan and figures, what to
// check, and one line for each thing that has more. A way to a list opens it.
func TestFoldedPageIsShort(t *testing.T) {
	t.Parallel()
	tab := webtest.Open(t).Tab(t, 360, 740, false)
	example, err := filepath.Abs("../../examples/lantern-row/out/lantern-row.html")
	if err != nil {
		t.Fatal(err)
	}
	tab.Go("file://" + example)
	tab.Wait("window.loamline !== undefined")
	if h := webtest.Eval[float64](tab, "document.documentElement.scrollHeight"); h > 4500 {
		t.Errorf("the page is %.0f px high at 360 px", h)
	}
	if at := webtest.Eval[float64](tab, "document.getElementById('before').getBoundingClientRect().top"); at > 2*740 {
		t.Errorf("what to check begins at %.0f px", at)
	}
	webtest.Eval[any](tab, "document.querySelector('.strip a').click(), null")
	if !webtest.Eval[bool](tab, "document.querySelector('#cautions li').checkVisibility()") {
		t.Error("the strip does not open the cautions")
	}
	if dir := os.Getenv("LOAMLINE_LOOK"); dir != "" {
		for _, s := range webtest.Eval[[]string](tab, "[...document.querySelectorAll('body > *, main > *, .lists > *, section')].map(e => (e.id || e.className || e.tagName) + ' ' + Math.round(e.getBoundingClientRect().height))") {
			t.Log(s)
		}
	}
	tab.Look("folded")
	quiet(t, tab)
}

// What a crew must not miss, a check that failed and a crossing, is drawn larger than a
// check that was passed.
func TestHazardsAreLargerThanPassedChecks(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	s := sample.Sheet()
	l := &s.Lines[0]
	l.Findings = append(l.Findings, finding.FieldCheck{Line: "W-1", Kind: trace.CheckLift, At: l.Centerline.Parts[0].Vertices[1].Pos, StationM: 2,
		Outcome: trace.OutcomeFailed, Remark: trace.Verbatim("The signal does not fall as over one line.")})
	tab := openPage(t, b, "hazards", s, 360, 740, false)
	sizes := webtest.Eval[map[string]float64](tab, `(() => {
		const out = {};
		for (const e of document.querySelectorAll('#plan .symbol')) {
			const d = e.querySelector('path').getAttribute('d'), shape = d.startsWith('M11 1L') ? 'crossing' : d.startsWith('M11 2') ? 'check' : 'exposed';
			out[shape + (e.querySelector('.filled') ? ', failed' : '')] = e.querySelector('svg').getBoundingClientRect().width;
		}
		return out;
	})()`)
	if !(sizes["check"] > 0 && sizes["check, failed"] > sizes["check"] && sizes["crossing"] > sizes["check"]) {
		t.Errorf("drawn this wide, in pixels: %v", sizes)
	}
	tab.Look("hazards-360")
	quiet(t, tab)
}

// What a check is about lies beside the line and has no place along it: "Show" tells
// that it was not traced there, and no depth of the line's start; the start, where the
// dashed line begins, says so too.
func TestShowOfAGapBesideTheLineTellsNoDepth(t *testing.T) {
	t.Parallel()
	s := sample.Of(geo.Metric, sample.Straight(60, 0.3, 13))
	name := s.Lines[0].Setup.Name
	start := s.Lines[0].Centerline.Parts[0].Vertices[0].Pos
	path := []geo.XY{start, {X: start.X - 2, Y: start.Y - 3}, {X: start.X - 4, Y: start.Y - 3.5}}
	gap := finding.Gap{Line: name, FromM: trace.Unknown, ToM: trace.Unknown, Path: path, Why: trace.Verbatim("A transmitter's own field was read there.")}
	s.Lines[0].Findings = append(s.Lines[0].Findings, gap)
	s.Advice = []trace.Advice{{Kind: trace.AdviseGap, Line: name, FromM: trace.Unknown, ToM: trace.Unknown, Remark: trace.Verbatim("Find the line there before digging.")}}
	tab := openPage(t, webtest.Open(t), "before", s, 360, 740, false)
	first := func(when string) {
		t.Helper()
		if said := webtest.Eval[string](tab, "document.querySelector('#figures .place p').textContent"); !strings.HasPrefix(said, "NOT TRACED") {
			t.Errorf("%s: first it says %q", when, said)
		}
		if webtest.Eval[bool](tab, "[...document.querySelectorAll('#figures .depth')].some(e => /\\d/.test(e.textContent))") {
			t.Errorf("%s: a depth is told: %q", when, figures(tab))
		}
	}
	webtest.Eval[any](tab, "document.querySelector('.checks .show').click(), null")
	tab.Look("show-before")
	first("shown")
	expect(t, figures(tab), "A transmitter's own field was read there.")
	webtest.Eval[any](tab, "document.getElementById('units').click(), null")
	first("in other units")
	x, y := screenXY(tab, path[2])
	tab.Do(chromedp.TapXY(x, y))
	first("tapped")
	webtest.Eval[any](tab, "(e => { e.value = 0; e.dispatchEvent(new Event('input')); })(document.getElementById('station')), null")
	expect(t, webtest.Eval[string](tab, "document.querySelector('#figures p.stop').textContent"), "NOT TRACED", "DO NOT TRUST")
	quiet(t, tab)
}

// A place to be put back on the ground tells its doubt, in the words of the printed
// table of such places and with how far the line may lie off.
func TestPointsTellTheirDoubt(t *testing.T) {
	s := sample.Sheet()
	doubts := 0
	for i := range s.Lines {
		points := stakeout.LinePoints(s, i, 0)
		for k, p := range listPoints(s, i) {
			told := points[k].Told
			switch {
			case told.Distrusted():
				doubts++
				if !strings.HasPrefix(p.Depth.Metric, "DO NOT TRUST") && !strings.HasPrefix(p.Depth.Metric, "Depth not known") {
					t.Errorf("%s: %q", p.ID, p.Depth.Metric)
				}
			case told.Doubt != nil:
				doubts++
				if !strings.HasPrefix(p.Depth.Metric, "Doubtful: ") || !strings.Contains(p.Position.Metric, "(doubtful") {
					t.Errorf("%s: %q, %q", p.ID, p.Depth.Metric, p.Position.Metric)
				}
			}
			if p.Doubt != (told.Doubt != nil) {
				t.Errorf("%s is not marked as in doubt", p.ID)
			}
		}
	}
	if doubts == 0 {
		t.Error("no place is in doubt")
	}
}

// The largest type tells no figure where none is to be trusted, and a band across the
// line does not stand bare where the line may lie farther off.
func TestTheLargestTypeTellsNoFigureInDoubt(t *testing.T) {
	t.Parallel()
	s := sample.Sheet()
	for i, f := range s.Lines[0].Findings {
		if b, ok := f.(finding.BleedOver); ok && b.Grade == trace.GradeWatch {
			b.WidenLeftM = 0.75
			s.Lines[0].Findings[i] = b
			at := (max(b.FromM, 21.5) + b.ToM) / 2
			tab := openPage(t, webtest.Open(t), "doubt", s, 360, 740, false)
			choose := "(e => { e.step = 0.1; e.value = %g; e.dispatchEvent(new Event('input')); })(document.getElementById('station')), [...document.querySelectorAll('#figures > .place > .depth')].map(e => e.textContent).join('|')"
			if said := webtest.Eval[string](tab, fmt.Sprintf(choose, 16.0)); said != "Depth: do not trust" && said != "Depth: not known" {
				t.Errorf("in a suspected stretch the largest type says %q", said)
			}
			tab.Look("largest-16")
			if said := webtest.Eval[string](tab, fmt.Sprintf(choose, at)); !strings.HasPrefix(said, "Doubtful: read depth") {
				t.Errorf("in a doubtful stretch it says %q", said)
			}
			expect(t, figures(tab), "the line may lie up to 0.75 m off the paint mark")
			expect(t, webtest.Eval[string](tab, "document.getElementById('slider-words').textContent"), "doubtful: perhaps up to 0.75 m off")
			quiet(t, tab)
			tab.Close()
			// Beside the band no figure stands that is less, nor looks it a bound where there is none.
			for widen, want := range map[float64]string{0.001: "may lie farther off the paint mark than that", 0: "nothing says how far off"} {
				b.WidenLeftM, b.WidenRightM, b.LikelyShiftM = widen, 0, trace.Unknown
				s.Lines[0].Findings[i] = b
				tab := openPage(t, webtest.Open(t), "doubt", s, 360, 740, false)
				webtest.Eval[string](tab, fmt.Sprintf(choose, at))
				told := figures(tab)
				expect(t, told, want)
				if strings.Contains(told, "may lie up to") {
					t.Errorf("%g m: %q", widen, told)
				}
				if said := webtest.Eval[string](tab, "document.getElementById('slider-words').textContent"); strings.Contains(said, "nothing says how far off") != (widen == 0) {
					t.Errorf("%g m: %q", widen, said)
				}
				tab.Close()
			}
			return
		}
	}
	t.Error("no possible bleed-over in the sample")
}

// A doubt that the line's own band was widened to hold leaves its figures, as doubtful: the
// page says the same of it as the sheet.
func TestADoubtThatTheBandHoldsLeavesItsFigures(t *testing.T) {
	t.Parallel()
	s := sample.Sheet()
	l := &s.Lines[0]
	l.Findings = []trace.Finding{finding.Doubt{Line: l.Setup.Name, FromM: 0, ToM: 40, Path: l.Centerline.Polyline().Slice(0, 40), Why: remark.RunsAside{FarthestM: 0.31, TimesStated: 2.1}}}
	tab := openPage(t, webtest.Open(t), "held", s, 360, 740, false)
	said := webtest.Eval[string](tab, "(e => { e.step = 0.1; e.value = 5; e.dispatchEvent(new Event('input')); })(document.getElementById('station')), [...document.querySelectorAll('#figures > .place > .depth')].map(e => e.textContent).join('|')")
	if !strings.HasPrefix(said, "Doubtful: read depth") {
		t.Errorf("the largest type says %q", said)
	}
	told := figures(tab) + webtest.Eval[string](tab, "document.getElementById('slider-words').textContent")
	expect(t, told, "doubtful", "Trust the band here, not the line drawn")
	for _, not := range []string{"not known", "do not trust", "DO NOT TRUST", "farther off"} {
		if strings.Contains(told, not) {
			t.Errorf("%q says %q", told, not)
		}
	}
	quiet(t, tab)
}

// A reading set aside far down leaves the scale to what is drawn and used: it is marked at
// the lower edge with how deep it was read. What is not traced and not to be trusted is
// named at every width, and the line there is no whole line.
func TestProfileKeepsItsScaleAndNamesItsDoubts(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	for _, width := range []int{360, 390, 560, 1440} {
		s := sample.Sheet()
		r := s.Lines[0].Readings[0]
		r.Status, r.Reason, r.DepthM, r.StationM = trace.StatusSetAside, trace.Verbatim("a transmitter's own field"), 13.7, 2
		s.Lines[0].Readings = append(s.Lines[0].Readings, r)
		tab := openPage(t, b, "profile", s, width, 800, false)
		if d := webtest.Eval[float64](tab, "Number(document.querySelector('#profile .p-cursor').dataset.deep)"); d > 5 {
			t.Errorf("%d px: the scale goes to %g m", width, d)
		}
		words := webtest.Eval[string](tab, "[...document.querySelectorAll('#profile text')].map(e => e.textContent).join('|')")
		expect(t, words, "do not trust", "not traced", "set aside, below: 13.70 m")
		if !webtest.Eval[bool](tab, "document.querySelector('#profile .p-beyond') !== null && document.querySelector('#profile .p-doubted') !== null") {
			t.Errorf("%d px: what lies beyond, or the line in doubt, is not drawn", width)
		}
		for _, w := range webtest.Eval[[]string](tab, crowded) {
			t.Errorf("%d px: %s", width, w)
		}
		webtest.Eval[any](tab, "document.getElementById('profile').scrollIntoView({block: 'center'}), null")
		tab.Look(fmt.Sprintf("profile-doubts-%d", width))
		quiet(t, tab)
		tab.Close()
	}
}

// Words of the profile that are longer in another language are measured, not guessed: they
// stand whole at the width of a phone.
func TestLongWordsOfTheProfileAreNotCut(t *testing.T) {
	t.Parallel()
	s := sample.Of(geo.US, sample.Straight(110, 0, 41))
	s.Job.Language = trace.Spanish
	for _, station := range []float64{0, 2} {
		r := trace.NewReading()
		r.Line, r.Status, r.Reason, r.DepthM, r.StationM, r.Pos = s.Lines[0].Setup.Name, trace.StatusSetAside, trace.Verbatim("a transmitter's own field"), 13.7, station, geo.XY{X: station}
		r.Geographic = s.Plane.LonLat(r.Pos)
		s.Lines[0].Readings = append(s.Lines[0].Readings, r)
	}
	tab := openPage(t, webtest.Open(t), "long-words", s, 360, 800, false)
	expect(t, webtest.Eval[string](tab, "[...document.querySelectorAll('#profile text')].map(e => e.textContent).join('|')"), "apartadas, más abajo: 2, hasta 44 ft 11 in")
	for _, w := range webtest.Eval[[]string](tab, crowded) {
		t.Error(w)
	}
	quiet(t, tab)
}

// A tap on the plan shows what it is for: depth or warning in the largest type stands above
// the caution at the foot, and the place keeps its place where the plan is zoomed.
func TestATapShowsItsFigures(t *testing.T) {
	t.Parallel()
	s := sample.Sheet()
	s.Job.Contact.Emergency = "555-0100"
	tab := openPage(t, webtest.Open(t), "sample", s, 360, 740, true)
	x, y := screenXY(tab, geo.XY{X: 6, Y: 0.1})
	tab.Do(chromedp.TapXY(x, y))
	tab.Wait("document.querySelector('#figures .depth')")
	if bottom, strip := webtest.Eval[float64](tab, "document.querySelector('#figures .depth').getBoundingClientRect().bottom"), webtest.Eval[float64](tab, "document.querySelector('.strip').getBoundingClientRect().top"); bottom > strip {
		t.Errorf("the depth ends at %.0f px, below the caution at %.0f", bottom, strip)
	}
	const mark = `(() => { const r = document.querySelector('.here').getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()`
	before := webtest.Eval[[]float64](tab, mark)
	webtest.Eval[any](tab, "loamline.plan.map.options.zoomAnimation = false, document.getElementById('in').click(), null")
	tab.Wait("!document.querySelector('.leaflet-zoom-anim')")
	after := webtest.Eval[[]float64](tab, mark)
	if math.Hypot(after[0]-before[0], after[1]-before[1]) > 3 {
		t.Errorf("zooming moved the place from %.0f to %.0f", before, after)
	}
	quiet(t, tab)
}

package page

import (
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// screenXY brings a place of the plane into the middle of the plan, at 24
// pixels a metre, and returns where in the window it lies.
func screenXY(tab *webtest.Tab, at geo.XY) (x, y float64) {
	tab.Do(chromedp.Sleep(600 * time.Millisecond)) // two quick taps are a double tap, which zooms
	webtest.Eval[any](tab, fmt.Sprintf("loamline.plan.map.setView([%g, %g], Math.log2(24), {animate: false}); null", at.Y, at.X))
	webtest.Eval[any](tab, "document.getElementById('plan').scrollIntoView({block: 'center'}); null")
	p := webtest.Eval[[]float64](tab, fmt.Sprintf(`(() => { const m = loamline.plan.map, r = m.getContainer().getBoundingClientRect(),
		p = m.latLngToContainerPoint([%g, %g]); return [r.left + p.x, r.top + p.y]; })()`, at.Y, at.X))
	return p[0], p[1]
}

func figures(tab *webtest.Tab) string {
	return webtest.Eval[string](tab, "document.getElementById('figures').innerText")
}

func expect(t *testing.T, text string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if !strings.Contains(text, w) {
			t.Errorf("%q is not said in %q", w, text)
		}
	}
}

func TestPageTap(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	tab := openPage(t, b, "sample", sample.Sheet(), 360, 740, false)

	// On the water line, where nothing is suspected: its own figures, and the
	// gas line beside it.
	x, y := screenXY(tab, geo.XY{X: 34, Y: 0.15 * math.Sin(34.0/8)})
	tab.Do(chromedp.TapXY(x, y))
	tab.Wait("document.querySelector('#figures .depth')")
	said := figures(tab)
	expect(t, said, "W-1, potable water (W)", "Read depth to centre, 1.21 m ± 0.12, on 2026-05-12; expose to verify.",
		"Position across the line: ±", "No machine within 0.", "Also here", "G-1, gas, oil, steam (G)", "WGS 84")
	if strings.Contains(said, "DO NOT TRUST") {
		t.Errorf("no doubt is known there: %q", said)
	}
	tab.Look("tap-360")

	// In the suspected stretch the doubt comes first, and the evidence with it.
	x, y = screenXY(tab, geo.XY{X: 16, Y: 0.15 * math.Sin(2)})
	tab.Do(chromedp.TapXY(x, y))
	tab.Wait("document.querySelector('#figures .stop')")
	said = figures(tab)
	expect(t, said, "DO NOT TRUST", "Null lies 0.14 m right of peak", "to the left of the paint", "No machine within 0.", "to the right of the paint and")
	if strings.Index(said, "DO NOT TRUST") > strings.Index(said, "Read depth") {
		t.Error("the depth is told before the doubt")
	}

	// In the gap nothing is known.
	x, y = screenXY(tab, geo.XY{X: 46, Y: -0.1})
	tab.Do(chromedp.TapXY(x, y))
	tab.Wait("figures.innerText.includes('NOT TRACED')")
	if said := webtest.Eval[string](tab, "document.querySelector('#figures .place').innerText"); strings.Contains(said, "Read depth") {
		t.Errorf("a depth is told in a gap: %q", said)
	}

	// Away from every line: no proof of anything.
	x, y = screenXY(tab, geo.XY{X: 20, Y: 14})
	tab.Do(chromedp.TapXY(x, y))
	tab.Wait("document.querySelector('#figures .care') && figures.innerText.includes('nearest traced line')")
	expect(t, figures(tab), "no proof that nothing is there", "nearest traced line")
	quiet(t, tab)
}

// The profile and the plan point at the same place, from either side.
func TestPageProfileLink(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	tab := openPage(t, b, "sample", sample.Sheet(), 1440, 900, false)
	webtest.Eval[any](tab, "document.getElementById('profile').scrollIntoView({block: 'center'}); null")
	r := webtest.Eval[[]float64](tab, `(() => { const r = document.getElementById('profile').getBoundingClientRect(); return [r.left, r.top, r.width, r.height]; })()`)
	tab.Do(chromedp.MouseClickXY(r[0]+62+(r[2]-78)*0.25, r[1]+120))
	tab.Wait("loamline.state.station !== null")
	end := sampleEnd()
	if s := webtest.Eval[float64](tab, "loamline.state.station"); math.Abs(s-end/4) > 0.3 {
		t.Errorf("a touch at a quarter of the profile chose %.2f m of %.2f", s, end)
	}
	here := webtest.Eval[[]float64](tab, `(() => { const r = document.querySelector('.here').getBoundingClientRect(), m = loamline.plan.map, f = m.getContainer().getBoundingClientRect(),
		p = m.containerPointToLatLng([r.left + r.width / 2 - f.left, r.top + r.height / 2 - f.top]); return [p.lng, p.lat]; })()`)
	if d := math.Abs(here[0] - end/4); d > 0.5 {
		t.Errorf("the plan's mark is at x = %.2f m, the line there at %.2f", here[0], end/4)
	}
	tab.Look("profile-1440")

	x, y := screenXY(tab, geo.XY{X: 60, Y: 8})
	tab.Do(chromedp.MouseClickXY(x, y))
	tab.Wait("loamline.state.station > 60")
	cursor := webtest.Eval[float64](tab, "document.querySelector('.p-cursor').getBoundingClientRect().left + document.querySelector('.p-cursor').getBoundingClientRect().width / 2 - document.getElementById('profile').getBoundingClientRect().left")
	s := webtest.Eval[float64](tab, "loamline.state.station")
	if want := 62 + (r[2]-78)*s/end; math.Abs(cursor-want) > 2 {
		t.Errorf("the profile's cursor is at %.1f px, station %.2f m at %.1f", cursor, s, want)
	}
	quiet(t, tab)
}

func sampleEnd() float64 {
	parts := sample.Sheet().Lines[0].Centerline.Parts
	return parts[len(parts)-1].ToM()
}

func TestPageUnits(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	tab := openPage(t, b, "sample", sample.Sheet(), 360, 740, false)
	x, y := screenXY(tab, geo.XY{X: 34, Y: 0})
	tab.Do(chromedp.TapXY(x, y))
	tab.Wait("document.querySelector('#figures .depth')")
	webtest.Eval[any](tab, "document.getElementById('units').click(); null")
	expect(t, figures(tab), "Read depth to centre, 4 ft ± 5 in, on 2026-05-12; expose to verify.")
	lists := webtest.Eval[string](tab, "document.querySelectorAll('.fold').forEach(d => { d.open = true; }), document.querySelector('.lists').innerText")
	expect(t, lists, "Read depth to centre outside stretches not to be trusted, 3 ft 5 in to 4 ft ± 5 in", "3 ft 7 in ± 5 in", "131 to 171 ft")
	if left := webtest.Eval[string](tab, "[...document.querySelectorAll('[data-us]')].filter(e => e.textContent !== e.dataset.us).map(e => e.textContent).join('|')"); left != "" {
		t.Errorf("left in metres: %s", left)
	}
	webtest.Eval[any](tab, "document.getElementById('units').click(); null")
	expect(t, figures(tab), "Read depth to centre, 1.21 m ± 0.12")
	quiet(t, tab)
}

// The page's own words and plane against those of the program.
func TestPageWordsAndPlaneAgree(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	s := sample.Sheet()
	tab := openPage(t, b, "sample", s, 1440, 900, false)
	values := []float64{0, 0.004, 0.0127, 0.1, 0.253, 0.3048, 0.31, 0.99, 1.04, 1.2192, 2.5401, 7.77, 123.456, 1999.96}
	bands := []float64{trace.Unknown, 0, 0.001, 0.05, 0.1234, 0.3, 0.95, 1.01, 3.3, 12}
	for key, u := range map[string]geo.Units{"metric": geo.Metric, "us": geo.US} {
		for _, v := range values {
			got := webtest.Eval[[]string](tab, fmt.Sprintf("[loamline.words.%[1]s.short(%[2]v), loamline.words.%[1]s.long(%[2]v), loamline.words.%[1]s.shortUp(%[2]v)]", key, v))
			for i, want := range []string{u.Short(v), u.Long(v), words.ShortUp(u, v)} {
				if got[i] != want {
					t.Errorf("%s, %v m: the page says %q, the program %q", key, v, got[i], want)
				}
			}
			for _, band := range bands {
				js := "null"
				if trace.Known(band) {
					js = fmt.Sprint(band)
				}
				got := webtest.Eval[[]string](tab, fmt.Sprintf("[loamline.words.depth(loamline.words.%[1]s, %[2]v, %[3]s, '2026-05-12'), loamline.words.position(loamline.words.%[1]s, %[3]s)]", key, v, js))
				if want := words.Depth(u, v, band, "2026-05-12"); got[0] != want {
					t.Errorf("the page says %q, the program %q", got[0], want)
				}
				if want := words.Position(u, band); got[1] != want {
					t.Errorf("the page says %q, the program %q", got[1], want)
				}
			}
		}
	}
	for _, xy := range []geo.XY{{}, {X: 100, Y: -50}, {X: -5000, Y: 3000}, {X: 9000, Y: 9000}} {
		ll := s.Plane.LonLat(xy)
		got := webtest.Eval[[]float64](tab, fmt.Sprintf("(() => { const p = loamline.plane.xy(%.12f, %.12f), g = loamline.plane.lonLat(%g, %g); return [p.x, p.y, g.lon, g.lat]; })()", ll.LonDeg, ll.LatDeg, xy.X, xy.Y))
		if d := math.Hypot(got[0]-xy.X, got[1]-xy.Y); d > 1e-3 {
			t.Errorf("%v: the page's plane is off by %g m", xy, d)
		}
		if math.Abs(got[2]-ll.LonDeg) > 1e-8 || math.Abs(got[3]-ll.LatDeg) > 1e-8 {
			t.Errorf("%v: the page says %.9f, %.9f, the program %.9f, %.9f", xy, got[2], got[3], ll.LonDeg, ll.LatDeg)
		}
	}
}

// Everything can be reached and used with the keyboard alone.
func TestPageKeyboard(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	tab := openPage(t, b, "sample", sample.Sheet(), 1440, 900, false)
	reached := map[string]bool{}
	for range 80 {
		tab.Do(chromedp.KeyEvent(kb.Tab))
		id := webtest.Eval[string](tab, "(e => e.id || (e.className + ' ' + e.textContent).trim().slice(0, 40))(document.activeElement)")
		reached[id] = true
		if webtest.Eval[bool](tab, "document.activeElement.matches('a, button, select, input, summary, [tabindex=\"0\"]') && getComputedStyle(document.activeElement).outlineStyle === 'none'") {
			t.Errorf("%s shows no focus", id)
		}
	}
	for _, id := range []string{"units", "theme", "print", "plan", "in", "out", "all", "line", "station", "back", "exact", "on", "profile-frame", "wider", "narrower", "skip Skip the plan, go to the lists"} {
		if !reached[id] {
			t.Errorf("the Tab key does not reach %s", id)
		}
	}
	tab.Do(chromedp.Focus(chromedp.ID("station")), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight))
	if s := webtest.Eval[float64](tab, "loamline.state.station"); s <= 0 || s > 1 {
		t.Errorf("two arrow keys on the slider chose %v m", s)
	}
	expect(t, webtest.Eval[string](tab, "document.getElementById('station').getAttribute('aria-valuetext')"), "read depth to centre", "expose to verify")
	tab.Do(chromedp.Focus(chromedp.ID("plan")))
	before := webtest.Eval[float64](tab, "loamline.plan.map.getCenter().lng")
	tab.Do(chromedp.KeyEvent(kb.ArrowRight))
	tab.Wait(fmt.Sprintf("loamline.plan.map.getCenter().lng > %g", before))
	tab.Do(chromedp.Focus("#findings summary"), chromedp.KeyEvent(kb.Enter))
	tab.Wait("document.querySelector('#findings details').open")
	tab.Do(chromedp.Click(".finding button.show"))
	tab.Wait("document.querySelector('#figures .stop')")
	tab.Wait("document.getElementById('said').textContent.includes('DO NOT TRUST')")
	quiet(t, tab)
}

// Targets are at least 44 px in both directions where they stand alone (WCAG
// 2.1, 2.5.5).
func TestPageTargets(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	tab := openPage(t, b, "sample", sample.Sheet(), 360, 740, false)
	small := webtest.Eval[string](tab, `[...document.querySelectorAll('button, select, summary, nav a, input, .strip a')].map(e => [e.id || e.textContent.trim().slice(0, 30), e.getBoundingClientRect()])
		.filter(([, r]) => r.width > 0 && (r.width < 44 || r.height < 44)).map(([n, r]) => n + ' ' + r.width + '×' + r.height).join('; ')`)
	if small != "" {
		t.Errorf("too small for a glove: %s", small)
	}
}

// The dot needs the browser's leave. With it there are dot, circle and a word
// of warning; without it, plain words and another way.
func TestPageWhere(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	s := sample.Sheet()
	tab := openPage(t, b, "sample", s, 360, 740, false)
	if webtest.Eval[bool](tab, "document.getElementById('where').checkVisibility()") {
		t.Error("a page opened as a file offers a button that is dead there")
	}
	expect(t, figures(tab), "Your own place is not shown from a file.")
	quiet(t, tab)

	page := makePage(t, "where", s, Options{})
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.Write(page) }))
	defer server.Close()
	tab = b.Tab(t, 360, 740, false)
	tab.Go(server.URL)
	tab.Wait("window.loamline !== undefined")
	webtest.Eval[any](tab, "navigator.geolocation.watchPosition = (ok, no) => { setTimeout(() => no({code: 1})); return 1; }; document.getElementById('where').click(); null")
	tab.Wait("document.getElementById('where-words').textContent.includes('The browser does not tell this page where you are')")
	tab.Look("where-refused")

	ll := s.Plane.LonLat(geo.XY{X: 20, Y: 3})
	webtest.Eval[any](tab, fmt.Sprintf(`navigator.geolocation.watchPosition = (ok) => { ok({coords: {longitude: %.10f, latitude: %.10f, accuracy: 6.5}}); return 1; }; document.getElementById('where').click(); null`, ll.LonDeg, ll.LatDeg))
	tab.Wait("document.querySelector('.me') && document.querySelector('path.accuracy')")
	expect(t, webtest.Eval[string](tab, "document.getElementById('where-words').textContent"), "± 6.50 m according to the device", "Never dig by the dot", "W-1")
	screenXY(tab, geo.XY{X: 20, Y: 3})
	px := webtest.Eval[float64](tab, "document.querySelector('path.accuracy').getBBox().width / loamline.plan.pixelsPerMetre()")
	if math.Abs(px-13) > 0.2 {
		t.Errorf("the accuracy circle is %.2f m wide, want 13", px)
	}
	tab.Look("where-dot")
	for _, trouble := range tab.Troubles() {
		t.Error(trouble)
	}
}

// The theme follows the system until the switch is used.
func TestPageTheme(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	tab := openPage(t, b, "sample", sample.Sheet(), 1440, 900, true)
	if got := webtest.Eval[string](tab, "document.documentElement.dataset.theme"); got != "dark" {
		t.Errorf("the system asks for dark, the page is %s", got)
	}
	tab.Do(chromedp.Click("#theme"))
	if got := webtest.Eval[string](tab, "document.documentElement.dataset.theme"); got != "light" {
		t.Errorf("the switch left it %s", got)
	}
}

// A station is typed or stepped to exactly, in either unit, and what is told of it stands
// beside the box.
func TestPageExactStation(t *testing.T) {
	t.Parallel()
	tab := openPage(t, webtest.Open(t), "sample", sample.Sheet(), 360, 740, false)
	told := func(want string, m float64) {
		t.Helper()
		if s := webtest.Eval[float64](tab, "loamline.state.station"); math.Abs(s-m) > 1e-9 {
			t.Errorf("%g m is chosen, want %g", s, m)
		}
		expect(t, webtest.Eval[string](tab, "document.getElementById('slider-words').checkVisibility() && document.getElementById('slider-words').textContent"), want)
		expect(t, figures(tab), want)
	}
	tab.Do(chromedp.SendKeys("#exact", "60"))
	told("60.0 m", 60)
	tab.Look("exact-360")
	tab.Do(chromedp.Click("#on"))
	told("61.0 m", 61)
	webtest.Eval[any](tab, "(e => { e.value = 33.4; e.dispatchEvent(new Event('input')); })(document.getElementById('station')), null")
	tab.Do(chromedp.Click("#back"))
	told("33.0 m", 33)
	webtest.Eval[any](tab, "document.getElementById('units').click(); null")
	tab.Do(chromedp.Click("#on"))
	told("109 ft", 109*0.3048)
	webtest.Eval[any](tab, "(e => { e.value = '99999'; e.dispatchEvent(new Event('input')); e.dispatchEvent(new Event('change')); })(document.getElementById('exact')), null")
	if s := webtest.Eval[float64](tab, "loamline.state.station"); math.Abs(s-sampleEnd()) > 1e-3 {
		t.Errorf("beyond the end %g m is chosen, want %g", s, sampleEnd())
	}
	quiet(t, tab)
}

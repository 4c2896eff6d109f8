package serve

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/export/webtest"
	"loamline.example/trace/tracetest/study"
)

// onDisk writes files for a file chooser.
func onDisk(t *testing.T, files ...file) []string {
	t.Helper()
	var out []string
	dir := t.TempDir()
	for _, f := range files {
		path := filepath.Join(dir, f.name)
		if err := os.WriteFile(path, []byte(f.text), 0o600); err != nil {
			t.Fatal(err)
		}
		out = append(out, path)
	}
	return out
}

// screen looks at a page as a person would: it fits its width, axe-core finds
// nothing serious, nothing that can be tapped is too small, and the page itself
// complains of nothing.
func screen(t *testing.T, tab *webtest.Tab, name string, width int) {
	t.Helper()
	look(t, tab, name, width, true)
}

// look is that, with axe-core or without.
func look(t *testing.T, tab *webtest.Tab, name string, width int, audited bool) {
	t.Helper()
	tab.Wait("document.readyState === 'complete'") // with its style
	if w := webtest.Eval[int](tab, "document.documentElement.scrollWidth"); w > width {
		t.Errorf("%s: %d px wide at %d", name, w, width)
	}
	small := webtest.Eval[[]string](tab, `[...document.querySelectorAll('button, .button, input:not([type=hidden]), select, summary, nav a')]
		.filter(e => e.checkVisibility()).map(e => [e, e.getBoundingClientRect()]).filter(([e, r]) => r.height < 43.5 || r.width < 43.5).map(([e, r]) => e.outerHTML.slice(0, 80) + ' ' + r.width + 'x' + r.height)`)
	if len(small) > 0 {
		t.Errorf("%s: too small to tap: %q", name, small)
	}
	tab.Look(fmt.Sprintf("%s-%d", name, width))
	if audited {
		tab.Audit(name)
	}
	for _, trouble := range tab.Troubles() {
		t.Errorf("%s: %s", name, trouble)
	}
}

// screens looks at a page on a phone and on a desk, and leaves it on the phone: a way
// is gone once, and each of its screens seen in both sizes. axe-core, which takes longer
// than all else, looks at each on the phone; on the desk it looks at every one in full
// studies, at those of TestBrowserCompare and some of TestBrowserWay always.
func screens(t *testing.T, tab *webtest.Tab, name string) {
	t.Helper()
	screen(t, tab, name, 360)
	tab.Resize(1440, 800)
	look(t, tab, name, 1440, study.Full())
	tab.Resize(360, 800)
}

// darkParts are the screens of the way that are made of what no other has. The list of
// jobs is seen in the dark by TestBrowserCompare.
var darkParts = []string{"home-files", "settings", "result", "ledger", "changes", "delete"}

const onMade = "location.pathname.includes('/runs/') && document.querySelector('#files')"

// The whole way, and every screen on it, by day on a phone and by night on a desk.
func TestBrowserWay(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b, s := webtest.Open(t), newSite(t, nil)
	tab := b.Tab(t, 360, 800, false)
	both := func(name string) {
		t.Helper()
		screen(t, tab, name, 360)
		tab.Resize(1440, 800)
		tab.Dark(true)
		look(t, tab, name, 1440, study.Full() || slices.Contains(darkParts, name))
		tab.Dark(false)
		tab.Resize(360, 800)
	}
	tab.Go(s.url)
	both("home-empty")
	webtest.Eval[any](tab, "document.querySelector('details').open = true; null")
	paths := onDisk(t, lanternRow(t)...)
	for i, id := range []string{"#trace", "#job", "#reference"} {
		tab.Do(chromedp.SetUploadFiles(id, []string{paths[i]}))
	}
	both("home-files")
	tab.Leave(chromedp.Click("button.main"))
	tab.Wait("location.pathname.endsWith('/settings')")
	both("settings")
	tab.Leave(chromedp.Click("button.main"))
	tab.Wait(onMade)
	tab.Wait("document.querySelector('iframe').contentWindow.loamline !== undefined")
	both("result")
	at := webtest.Eval[string](tab, "location.pathname")
	tab.Go(s.url + at) // a reload is no second run
	tab.Wait(onMade)
	tab.Go(s.url + at + "/ledger")
	both("ledger")
	tab.Go(s.url + strings.Split(at, "/runs/")[0] + "/settings")
	tab.Leave(chromedp.SetValue("#half", "30 in"), chromedp.Click("button.main"))
	tab.Wait(onMade)
	tab.Go(s.url + strings.Split(at, "/runs/")[0] + "/changes")
	both("changes")
	tab.Go(s.url + "/overlay")
	both("overlay-choose")
	tab.Go(s.url + strings.Split(at, "/runs/")[0] + "/delete")
	both("delete")
	tab.Go(s.url)
	both("home")
}

// Headers that nobody knows are asked about; a broken file is told by line and
// column, and nothing of it is kept.
func TestBrowserAsks(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b, s := webtest.Open(t), newSite(t, nil)
	tab := b.Tab(t, 360, 740, false)
	tab.Go(s.url)
	tab.Do(chromedp.SetUploadFiles("#trace", onDisk(t, file{"", "broken.csv", "lat,lon,depth_m\n44.l,-71,1\nx,y,z\n"})), chromedp.Click("button.main"))
	tab.Wait("document.querySelector('#upload-trouble')")
	contains(t, webtest.Eval[string](tab, "document.activeElement.innerText"), "Nothing was stored", "broken.csv, line 2", "not a number")
	tab.Troubles() // the browser itself notes the refusal
	screen(t, tab, "broken", 360)
	if kept, left := s.stored(); len(kept)+len(left) > 0 {
		t.Errorf("left behind: %q %q", kept, left)
	}

	tab.Leave(chromedp.SetUploadFiles("#trace", onDisk(t, file{"", "walk.csv", strangeTrace})), chromedp.Click("button.main"))
	tab.Wait("location.pathname.endsWith('/columns')")
	screen(t, tab, "columns", 360)
	for label, value := range map[string]string{"Depth": "depth_ft", "Latitude": "lat", "Longitude": "lon", "Pt": "-", "Cable": "line"} {
		webtest.Eval[any](tab, fmt.Sprintf("[...document.querySelectorAll('label')].filter(l => l.textContent === %q).forEach(l => { l.control.value = %q; }); null", label, value))
	}
	tab.Leave(chromedp.SetValue("#datum", "NAD83(2011)"), chromedp.Click("button.main"))
	tab.Wait("location.pathname.endsWith('/settings')")
	screen(t, tab, "settings-asked", 360)
	tab.Leave(chromedp.Click("button.main"))
	tab.Wait(onMade)
	screen(t, tab, "result-few", 360)
}

// Everything can be done by keyboard alone, in the order in which it is read.
func TestBrowserKeyboard(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b, s := webtest.Open(t), newSite(t, nil)
	tab := b.Tab(t, 1440, 900, false)
	job := s.upload(lanternRow(t), "")
	tab.Go(s.url)
	press := func(key string) { tab.Do(chromedp.KeyEvent(key)) }
	to := func(what string) {
		t.Helper()
		for range 80 {
			press(kb.Tab)
			if webtest.Eval[bool](tab, "document.activeElement.matches("+what+")") {
				if webtest.Eval[string](tab, "getComputedStyle(document.activeElement).outlineStyle") == "none" {
					t.Errorf("the focus on %s cannot be seen", what)
				}
				return
			}
		}
		t.Fatalf("%s is not reached by the keyboard", what)
	}
	press(kb.Tab)
	if first := webtest.Eval[string](tab, "document.activeElement.className"); first != "skip" {
		t.Errorf("the first stop is %q", first)
	}
	press(kb.Enter)
	to("'.job h3 a'")
	press(kb.Enter)
	tab.Wait("location.pathname.endsWith('/settings')")
	to("'#ticket'")
	press("X-77")
	to("'button.main'")
	press(kb.Enter)
	tab.Wait(onMade)
	contains(t, webtest.Eval[string](tab, "document.querySelector('h1').innerText"), "X-77")
	tab.Go(s.url + "/jobs/" + job.ID + "/delete")
	to("'button.danger'")
	press(kb.Enter)
	tab.Wait("location.pathname === '/'")
	if kept, _ := s.stored(); len(kept) > 0 {
		t.Errorf("%q is still there", kept)
	}
}

// A long fit shows that it goes on, outlives a reload, and can be cancelled.
func TestBrowserProgress(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b, s := webtest.Open(t), newSite(t, nil)
	tab := b.Tab(t, 360, 740, false)
	tab.Go(s.url)
	tab.Do(chromedp.SetUploadFiles("#trace", onDisk(t, file{"", "many.csv", manyRows(200_000)})), chromedp.Click("button.main"))
	tab.Wait("document.querySelector('#upload-bar')")
	tab.Wait("location.pathname.endsWith('/columns')")
	tab.Leave(chromedp.SetValue("#datum", "unknown"), chromedp.Click("button.main"))
	tab.Wait("location.pathname.endsWith('/settings')")
	tab.Leave(chromedp.Click("button.main"))
	tab.Wait("document.querySelector('[data-progress]')")
	tab.Wait("document.querySelector('[data-stage]')?.innerText.includes('the')")
	tab.Look("progress-360")
	at := webtest.Eval[string](tab, "location.pathname")
	tab.Go(s.url + at)
	tab.Wait("document.querySelector('[data-progress]')")
	tab.Leave(chromedp.Click("form button"))
	tab.Wait("document.querySelector('h1')?.innerText === 'Cancelled'")
	screen(t, tab, "cancelled", 360)
	if _, left := s.stored(); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
}

// manyRows is a table of so many readings on lines of a thousand each.
func manyRows(n int) string {
	var b strings.Builder
	b.WriteString("line,lat,lon,depth_m,fix\n")
	for i := range n {
		fmt.Fprintf(&b, "L-%d,%.8f,%.8f,%.2f,4\n", i/1000, 44.1+float64(i/1000)*1e-4, -30.5+float64(i%1000)*1e-5, 1.1+float64(i%7)*0.01)
	}
	return b.String()
}

// Files dropped all at once find their fields by their endings.
func TestBrowserDrop(t *testing.T) {
	t.Parallel()
	b, s := webtest.Open(t), newSite(t, nil)
	tab := b.Tab(t, 1440, 900, false)
	tab.Go(s.url)
	webtest.Eval[any](tab, `(() => { const d = new DataTransfer();
		for (const n of ['a.csv', 'b.CSV', 'j.toml', 'r.geojson', 'w.gpx']) d.items.add(new File(['x'], n));
		for (const kind of ['dragenter', 'dragover', 'drop']) document.body.dispatchEvent(new DragEvent(kind, {dataTransfer: d, bubbles: true, cancelable: true})); })(); null`)
	got := webtest.Eval[string](tab, `['trace', 'job', 'reference', 'gnss_log'].map(k => [...document.querySelector('form[data-upload]').elements[k].files].map(f => f.name).join('+')).join(' ')`)
	if got != "a.csv+b.CSV j.toml r.geojson w.gpx" {
		t.Errorf("dropped into the fields: %s", got)
	}
	screen(t, tab, "home-dropped", 1440)
}

// Who must sign in can, on a phone, and comes to where they wanted to go.
func TestBrowserSignIn(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	hash, err := door.MakeHash("a long password")
	if err != nil {
		t.Fatal(err)
	}
	s := newSite(t, func(o *Options) { o.Users = map[string]string{"crew4": hash} })
	tab := b.Tab(t, 360, 740, true)
	tab.Go(s.url + "/overlay")
	tab.Wait("document.querySelector('#secret')")
	screen(t, tab, "sign-in", 360)
	tab.Leave(chromedp.SendKeys("#name", "crew4"), chromedp.SendKeys("#secret", "a wrong password"), chromedp.Click("button.main"))
	tab.Wait("document.querySelector('[role=alert]')")
	tab.Troubles() // the browser itself notes the refusal
	screen(t, tab, "sign-in-wrong", 360)
	tab.Leave(chromedp.SendKeys("#name", "crew4"), chromedp.SendKeys("#secret", "a long password"), chromedp.Click("button.main"))
	tab.Wait("location.pathname === '/overlay'")
}

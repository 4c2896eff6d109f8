package page

import (
	"os"
	"path/filepath"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/tracetest/study"
)

// openPage writes a page to a file and opens it as a phone would.
func openPage(t *testing.T, b *webtest.Browser, name string, s *trace.Sheet, width, height int, dark bool) *webtest.Tab {
	t.Helper()
	path := filepath.Join(t.TempDir(), name+".html")
	if err := os.WriteFile(path, makePage(t, name, s, Options{}), 0o644); err != nil {
		t.Fatal(err)
	}
	tab := b.Tab(t, width, height, dark)
	tab.Go("file://" + path)
	tab.Wait("window.loamline !== undefined")
	return tab
}

// quiet ends a visit: nothing fetched, nothing complained of.
func quiet(t *testing.T, tab *webtest.Tab) {
	t.Helper()
	if asked := tab.Asked("file://", "data:"); len(asked) > 0 {
		t.Errorf("the page asked the network for %q", asked)
	}
	for _, trouble := range tab.Troubles() {
		t.Error(trouble)
	}
}

var pageJobs = map[string]func() *trace.Sheet{
	"sample":  sample.Sheet,
	"every":   sample.EveryKind,
	"few":     func() *trace.Sheet { return sample.Of(geo.Metric, sample.Straight(6, 0.3, 3)) },
	"long":    func() *trace.Sheet { return sample.Of(geo.US, sample.Winding(2000)) },
	"trench":  trench,
	"loop":    func() *trace.Sheet { return sample.Of(geo.Metric, sample.Loop(14)) },
	"nothing": sample.NothingUsable,
	"names":   sample.LongNames,
	"tongues": func() *trace.Sheet { s := sample.Sheet(); s.Job.Language = trace.EnglishAndSpanish; return s },
}

// trench is three lines side by side, 30 cm apart.
func trench() *trace.Sheet {
	lay := func(y float64) []geo.XY {
		return []geo.XY{{X: 0, Y: y}, {X: 10, Y: y + 0.4}, {X: 20, Y: y + 0.2}, {X: 30, Y: y}}
	}
	return sample.Of(geo.US, lay(0), lay(0.3), lay(0.6))
}

// Every kind of job is a page without complaint, in both sizes and themes, that
// fits its width and that axe-core finds nothing serious in. What axe-core looks at is
// the same on a desk as on a phone but for the layout, which one job shows it in both.
func TestPageOpens(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	for _, name := range []string{"sample", "every", "few", "long", "trench", "loop", "nothing", "names", "tongues"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for _, at := range []struct {
				size          string
				width, height int
				dark          bool
			}{{"360", 360, 740, false}, {"1440", 1440, 900, false}, {"360-dark", 360, 740, true}, {"1440-dark", 1440, 900, true}} {
				if name != "sample" && at.dark {
					continue
				}
				tab := openPage(t, b, name, pageJobs[name](), at.width, at.height, at.dark)
				if w := webtest.Eval[int](tab, "document.documentElement.scrollWidth"); w > at.width {
					t.Errorf("%s: %d px wide at %d", name, w, at.width)
				}
				tab.Look(name + "-" + at.size)
				if name == "sample" || at.width == 360 || study.Full() {
					tab.Audit(name + " " + at.size)
				}
				quiet(t, tab)
				tab.Close()
			}
		})
	}
}

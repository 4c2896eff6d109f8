package page

import (
	"regexp"
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
	"loamline.example/trace"
	"loamline.example/trace/tracetest/study"
)

// seen is all that the page shows, folded lists included, at a place of a line, with
// the tape out, and in the other units.
const seen = `(() => {
	const out = [], all = () => {
		document.querySelectorAll('details').forEach(d => { d.open = true; });
		if (document.getElementById('language')) document.getElementById('language').hidden = true;
		out.push(document.body.innerText, [...document.querySelectorAll('[aria-label]')].map(e => e.getAttribute('aria-label')).join('\n'),
			[...document.querySelectorAll('#profile text, #line option')].map(e => e.textContent).join('\n'));
		if (document.getElementById('language')) document.getElementById('language').hidden = false;
	}, slider = document.getElementById('station'), at = s => { slider.value = s; slider.dispatchEvent(new Event('input')); all(); };
	all();
	[2, 15, 40, 62].forEach(at);
	document.getElementById('tape').click();
	all();
	const plan = document.getElementById('plan'), r = plan.getBoundingClientRect();
	window.loamline.plan.map.fire('click', { latlng: window.loamline.plan.map.getCenter() });
	all();
	window.loamline.plan.map.fire('click', { latlng: window.loamline.plan.map.getBounds().getNorthWest() });
	all();
	document.getElementById('units').click();
	all();
	document.getElementById('units').click();
	document.getElementById('tape').click();
	return out;
})()`

// A page in two languages shows in each of them what a page in that language alone
// shows: the button reaches every sentence.
func TestLanguageSwitchReachesEverySentence(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	open := func(language string) *webtest.Tab {
		s := sample.EveryKind()
		s.Job.Language = language
		return openPage(t, b, "tongue", s, 1000, 800, false)
	}
	english, spanish, both := open(""), open(trace.Spanish), open(trace.EnglishAndSpanish)
	same := func(what string, got, want []string, from int) {
		t.Helper()
		for i := from; i < len(want); i++ {
			g, w := strings.Split(got[i], "\n"), strings.Split(want[i], "\n")
			for k := range max(len(g), len(w)) {
				if k >= len(g) || k >= len(w) || strings.TrimSpace(g[k]) != strings.TrimSpace(w[k]) {
					t.Errorf("%s, view %d, line %d: %q, want %q", what, i, k, at(g, k), at(w, k))
					break
				}
			}
		}
	}
	wantES, wantEN := webtest.Eval[[]string](spanish, seen), webtest.Eval[[]string](english, seen)
	same("Spanish first", webtest.Eval[[]string](both, seen), wantES, 0)
	click := "(document.getElementById('language').click(), document.documentElement.lang)"
	if lang := webtest.Eval[string](both, click); lang != "en" {
		t.Errorf("the page says that it is in %q", lang)
	}
	// What was chosen before the switch still is: the first view differs.
	same("switched to English", webtest.Eval[[]string](both, seen), wantEN, 3)
	webtest.Eval[string](both, click)
	same("and back", webtest.Eval[[]string](both, seen), wantES, 3)
	quiet(t, both)
}

func at(lines []string, k int) string {
	if k < len(lines) {
		return lines[k]
	}
	return ""
}

// The scripts say nothing past tell: each sentence is in the table of a page in
// another language.
func TestScriptsSayNothingPastTheirTable(t *testing.T) {
	literal := regexp.MustCompile(`'((?:[^'\\\n]|\\.)*)'`)
	words := regexp.MustCompile(`^[A-Za-z(]?[a-z’]+,? [a-zA-Z{]`)
	markup := regexp.MustCompile(`^(ladder|label|p-|code|edge|mark-shape|place|job plane|0 0|use strict|moveend|script, style)`)
	for _, name := range pageScripts {
		for i, line := range strings.Split(asset(name), "\n") {
			if strings.HasPrefix(strings.TrimSpace(line), "//") {
				continue
			}
			rest := told.ReplaceAllString(line, "")
			for _, m := range literal.FindAllStringSubmatch(rest, -1) {
				if words.MatchString(m[1]) && !markup.MatchString(m[1]) {
					t.Errorf("%s:%d says %q past tell", name, i+1, m[1])
				}
			}
		}
	}
}

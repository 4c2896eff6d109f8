package page

import (
	"fmt"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/study"
)

// crowded lists what is laid out wrongly: buttons whose letters are stacked or
// whose words stick out, labels cut at the plan's frame, labels that lie on each
// other, and lines in sight without their name.
const crowded = `(() => {
	const out = [], box = e => e.getBoundingClientRect(), frame = box(document.getElementById('plan'));
	for (const e of document.querySelectorAll('.tools button, .under button, .zoom button')) {
		const r = box(e);
		if (e.id !== 'all' && r.width === 0) continue;
		if (r.height > 60) out.push('letters are stacked: ' + e.textContent);
		if (e.scrollWidth > e.clientWidth + 1) out.push('words stick out: ' + e.textContent);
		if (r.left < 0 || r.right > innerWidth) out.push('outside the window: ' + e.textContent);
	}
	const labels = [...document.querySelectorAll('#plan .label span')];
	for (const e of labels) {
		const r = box(e);
		if (r.left < frame.left || r.right > frame.right || r.top < frame.top || r.bottom > frame.bottom) out.push('cut: ' + e.textContent);
		for (const g of labels) {
			if (g === e) continue;
			const q = box(g);
			if (r.left < q.right && q.left < r.right && r.top < q.bottom && q.top < r.bottom) out.push(e.textContent + ' lies on ' + g.textContent);
		}
	}
	const profile = document.getElementById('profile').getBoundingClientRect();
	for (const e of document.querySelectorAll('#profile text')) {
		const r = box(e);
		if (r.left < profile.left || r.right > profile.right || r.bottom > profile.bottom) out.push('cut in the profile: ' + e.textContent);
	}
	const names = new Set(labels.filter(e => e.parentNode.className.indexOf('code') >= 0).map(e => e.textContent));
	for (const o of document.querySelectorAll('#line option')) {
		const name = o.textContent.split(',')[0].slice(0, 15);
		if (![...names].some(n => n === name || n.endsWith(' ' + name) || n.indexOf(name) >= 0)) out.push('no name on the plan: ' + name);
	}
	return out;
})()`

func TestNothingOverlapsOrIsCut(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	for _, width := range study.Some(2, 360, 1440, 400, 560) {
		for _, name := range []string{"sample", "every"} {
			tab := openPage(t, b, name, pageJobs[name](), width, 800, false)
			for _, s := range webtest.Eval[[]string](tab, crowded) {
				t.Errorf("%s at %d px: %s", name, width, s)
			}
			tab.Look(name + "-crowded")
			if width >= 1000 {
				tab.Close()
				continue
			}
			if w := webtest.Eval[float64](tab, "document.getElementById('plan').getBoundingClientRect().width"); w != float64(width) {
				t.Errorf("%s: the plan is %g px wide of %d", name, w, width)
			}
			order := webtest.Eval[bool](tab, `(() => { const y = s => document.querySelector(s).getBoundingClientRect().top;
				return y('#plan') < y('#figures') && y('#figures') < y('#before') && y('#before') < y('#profile-frame') && y('#profile-frame') < y('#lines'); })()`)
			if !order {
				t.Errorf("%s at %d px: plan, figures, check list, profile and lists do not follow each other", name, width)
			}
			tab.Close()
		}
	}
}

// A line that ends a little past a round station has that station's whole label.
func TestLastStationOfTheProfileIsNotCut(t *testing.T) {
	t.Parallel()
	tab := openPage(t, webtest.Open(t), "round", sample.Of(geo.Metric, sample.Straight(202, 0.3, 41)), 360, 800, false)
	if !webtest.Eval[bool](tab, "[...document.querySelectorAll('#profile text')].some(e => e.textContent === '200 m')") {
		t.Error("no label at 200 m")
	}
	for _, s := range webtest.Eval[[]string](tab, crowded) {
		t.Error(s)
	}
}

// The page in Spanish, and in two languages with either shown, is laid out as the
// English one: nothing overlaps, is cut or stacks its letters.
func TestNothingOverlapsInSpanish(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	for _, width := range []int{360, 560, 1440} {
		s := pageJobs["every"]()
		s.Job.Language = trace.EnglishAndSpanish // opens in Spanish, with a button more than a page in Spanish alone
		tab := openPage(t, b, "spanish", s, width, 800, false)
		look := func(what string) {
			for _, w := range webtest.Eval[[]string](tab, crowded) {
				t.Errorf("%s at %d px: %s", what, width, w)
			}
			tab.Look("spanish-" + what)
		}
		look("es of en+es")
		webtest.Eval[bool](tab, "(document.getElementById('language').click(), true)")
		look("en of en+es")
		tab.Close()
	}
}

// stacked lists words in the page's tables that are broken over two lines where no
// hyphen or slash parts them: a column too narrow stacks its letters.
const stacked = `(() => {
	const out = [];
	document.querySelectorAll('details').forEach(d => { d.open = true; });
	for (const table of document.querySelectorAll('table')) {
		const box = table.closest('.wide') || table;
		if (box.getBoundingClientRect().right > innerWidth + 1) out.push('a table sticks out: ' + table.textContent.slice(0, 30));
		const walk = document.createTreeWalker(table, NodeFilter.SHOW_TEXT);
		for (let n; (n = walk.nextNode());) {
			if (!n.parentElement.checkVisibility()) continue;
			for (const m of n.data.matchAll(/[^\s\-\/]{2,16}/g)) {
				const r = document.createRange();
				r.setStart(n, m.index);
				r.setEnd(n, m.index + m[0].length);
				if (new Set([...r.getClientRects()].map(q => Math.round(q.top))).size > 1) out.push('broken: ' + m[0]);
			}
		}
	}
	return out;
})()`

func TestTablesStackNoLetters(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	for _, lang := range study.Some(1, trace.Spanish, trace.English) {
		s := pageJobs["every"]()
		s.Job.Language = lang
		for i := range s.Lines {
			r := &s.Lines[i].Readings[0]
			r.Status, r.Point, r.Reason = trace.StatusSetAside, "W-19", trace.Verbatim("position outlier: it lies far off the walk")
		}
		tab := openPage(t, b, "tables", s, 320, 800, false)
		for _, width := range []int{320, 360, 390, 560, 1440} { // its style alone lays a table out
			tab.Resize(width, 800)
			for _, w := range webtest.Eval[[]string](tab, stacked) {
				t.Errorf("%s, %d px: %s", lang, width, w)
			}
			webtest.Eval[any](tab, "document.getElementById('rows').scrollIntoView(), null")
			tab.Look(fmt.Sprintf("tables-%s-%d", lang, width))
		}
		quiet(t, tab)
		tab.Close()
	}
}

// covered lists marks of danger that words lie on, starts of lines under words, and
// "not traced" on a line that was traced.
const covered = `(() => {
	const out = [], box = e => e.getBoundingClientRect(), frame = box(document.getElementById('plan')), map = loamline.plan.map;
	const meet = (r, q) => r.left < q.right - 1 && q.left < r.right - 1 && r.top < q.bottom - 1 && q.top < r.bottom - 1;
	const labels = [...document.querySelectorAll('#plan .label span')];
	for (const e of document.querySelectorAll('#plan .symbol svg')) {
		const d = e.querySelector('path').getAttribute('d');
		if (!d.startsWith('M11 1L') && !e.querySelector('.filled')) continue;
		for (const l of labels) if (meet(box(e), box(l))) out.push(l.textContent + ' lies on a mark of danger');
	}
	const traced = [];
	for (const l of loamline.data.lines) {
		for (const p of l.parts) p.x.forEach((x, i) => {
			const q = map.latLngToContainerPoint([p.y[i], x]);
			traced.push([frame.left + q.x, frame.top + q.y]);
		});
		if (!l.parts.length) continue;
		const q = map.latLngToContainerPoint([l.parts[0].y[0], l.parts[0].x[0]]), s = { left: frame.left + q.x - 3, right: frame.left + q.x + 3, top: frame.top + q.y - 3, bottom: frame.top + q.y + 3 };
		for (const e of labels) if (meet(s, box(e))) out.push(e.textContent + ' lies on the start of ' + l.name);
	}
	for (const e of document.querySelectorAll('#plan .label.gap span')) {
		const r = box(e);
		if (traced.some(([x, y]) => r.left < x && x < r.right && r.top < y && y < r.bottom)) out.push('not traced lies on a traced line');
	}
	if (!document.querySelector('#plan .label.gap span')) out.push('no gap is named');
	return out;
})()`

// A mark of danger wins over any words: names and "not traced" move, or are left out.
func TestWordsCoverNoDanger(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	s := sample.Sheet()
	l := &s.Lines[0]
	for _, f := range s.Lines[0].Findings {
		if g, ok := f.(finding.Gap); ok {
			n := len(g.Path)
			l.Findings = append(l.Findings,
				finding.FieldCheck{Line: "W-1", Kind: trace.CheckLift, At: g.Path[n-1], StationM: g.ToM, Outcome: trace.OutcomeFailed, Remark: trace.Verbatim("The signal does not fall as over one line.")},
				finding.Crossing{Line: "W-1", Other: "G-1", At: g.Path[0], StationM: g.FromM})
			break
		}
	}
	for _, width := range study.Some(2, 360, 1440, 390, 560) {
		tab := openPage(t, b, "danger", s, width, 800, false)
		for _, when := range []string{"opened", "zoomed in", "zoomed further"} {
			for _, w := range webtest.Eval[[]string](tab, covered) {
				if when != "opened" && w == "no gap is named" {
					continue // it may have left the plan
				}
				t.Errorf("%d px, %s: %s", width, when, w)
			}
			webtest.Eval[any](tab, "loamline.plan.map.setZoom(loamline.plan.map.getZoom() + 1, {animate: false}), null")
		}
		tab.Look(fmt.Sprintf("danger-%d", width))
		quiet(t, tab)
		tab.Close()
	}
}

package page

import (
	"testing"

	"loamline.example/export/webtest"
	"loamline.example/trace/tracetest/study"
)

// distinct counts the lines whose name stands on the plan.
const distinct = "new Set([].map.call(document.querySelectorAll('.label.code'), function (l) { return l.textContent; })).size"

// A name or a station of the plan lies over no chosen place, wherever on a line that is,
// and each line keeps its name.
func TestNoNameOverTheChosenPlace(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	for _, name := range []string{"sample", "trench", "long"} {
		for _, width := range []int{360, 1440} {
			tab := openPage(t, b, name, pageJobs[name](), width, 800, false)
			names := webtest.Eval[int](tab, distinct)
			for i := range 20 {
				got := webtest.Eval[[]string](tab, `(function (share) {
					var e = document.getElementById('station');
					e.value = e.max * share;
					e.dispatchEvent(new Event('input'));
					var r = document.querySelector('.here').getBoundingClientRect();
					return [].filter.call(document.querySelectorAll('.label.code span, .label.station span'), function (l) {
						var b = l.getBoundingClientRect();
						return b.left < r.right && r.left < b.right && b.top < r.bottom && r.top < b.bottom;
					}).map(function (l) { return l.textContent; });
				})(`+string(rune('0'+i/10))+`.`+string(rune('0'+i%10))+` / 2)`)
				if len(got) > 0 {
					t.Errorf("%s at %d px, place %d of 20: %q over the chosen place", name, width, i, got)
				}
				if n := webtest.Eval[int](tab, distinct); n < names {
					t.Errorf("%s at %d px, place %d of 20: %d names, %d before", name, width, i, n, names)
				}
			}
			quiet(t, tab)
			tab.Close()
		}
	}
}

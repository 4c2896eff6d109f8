package page

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
	"loamline.example/geo"
	"loamline.example/trace/finding"
)

// The tape tells the distance between two taps, and how far the second lies from
// the nearest line and from the edge of its zone, in the units of the switch.
func TestPageTape(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	s := sample.Sheet()
	tab := openPage(t, b, "sample", s, 360, 740, false)
	webtest.Eval[any](tab, "document.getElementById('tape').click(); null")
	note := func() string { return webtest.Eval[string](tab, "document.getElementById('tape-words').innerText") }
	expect(t, note(), "tap the first place")
	touch := func(at geo.XY) geo.XY {
		x, y := screenXY(tab, at)
		tab.Do(chromedp.TapXY(x, y))
		return at
	}
	a := touch(geo.XY{X: 33, Y: 4})
	tab.Wait("document.querySelectorAll('.tape-end').length === 1")
	to := touch(geo.XY{X: 36, Y: 1.2})
	tab.Wait("document.querySelectorAll('.tape-end').length === 2")
	said := note()
	var distance float64
	fmt.Sscanf(said, "Distance %f m.", &distance)
	if want := a.Dist(to); math.Abs(distance-want) > 0.1 { // two taps of whole pixels at 24 a metre
		t.Errorf("%q, want %.2f m", said, want)
	}
	foot := s.Lines[0].Centerline.Polyline().Nearest(to)
	var off, at float64
	fmt.Sscanf(said[len(fmt.Sprintf("Distance %.2f m. ", distance)):], "The second place is %f m from W-1 as drawn, at its %f m.", &off, &at)
	if math.Abs(off-math.Abs(foot.OffsetM)) > 0.1 || math.Abs(at-foot.StationM) > 0.11 {
		t.Errorf("%q, want %.2f m from the line at %.1f m", said, math.Abs(foot.OffsetM), foot.StationM)
	}
	const outside = "outside the tolerance zone of W-1, "
	expect(t, said, outside, "Expose to verify")
	var edge float64
	fmt.Sscanf(said[strings.Index(said, outside)+len(outside):], "%f m", &edge)
	if want := math.Abs(foot.OffsetM) - s.Lines[0].Tolerance.HalfWidthM; math.Abs(edge-want) > 0.12 {
		t.Errorf("%q, want %.2f m from the edge", said, want)
	}
	if webtest.Eval[bool](tab, "loamline.state.station !== null") {
		t.Error("a tap that measures chose a place of the line as well")
	}
	tab.Look("tape-360")
	webtest.Eval[any](tab, "document.getElementById('units').click(); null")
	expect(t, note(), "Distance 13 ft ")

	// In the suspected stretch the tape repeats the doubt.
	touch(geo.XY{X: 16, Y: 0.4})
	tab.Wait("document.getElementById('tape-words').innerText.includes('Do not trust')")
	expect(t, note(), "Do not trust the paint mark there", "inside the tolerance zone")
	webtest.Eval[any](tab, "document.getElementById('tape').click(); null")
	if n := webtest.Eval[int](tab, "document.querySelectorAll('.tape-end').length"); n != 0 {
		t.Errorf("%d ends are left", n)
	}
	quiet(t, tab)
}

func crossingAt(at geo.XY, stationM float64, other string) finding.Crossing {
	return finding.Crossing{Line: "W-1", Other: other, At: at, StationM: stationM, OtherStationM: 1, DepthDifferenceM: 0.2}
}

// The arrow stands on the side that the finding names, seen in the direction of
// travel.
func TestPageArrowToTheLikelySide(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	tab := openPage(t, b, "sample", sample.Sheet(), 1440, 900, false)
	screenXY(tab, geo.XY{X: 16, Y: 0})
	ys := webtest.Eval[[]float64](tab, `(() => { const m = loamline.plan.map, f = m.getContainer().getBoundingClientRect();
		return [...document.querySelectorAll('.side')].map(e => { const r = e.getBoundingClientRect(); return m.containerPointToLatLng([r.left + r.width / 2 - f.left, r.top + r.height / 2 - f.top]).lat; }); })()`)
	if len(ys) == 0 {
		t.Fatal("no arrow is drawn")
	}
	for _, y := range ys { // travel runs east, the true line lies to the left: north
		if y < 0.5 {
			t.Errorf("an arrow stands at y = %.2f m, right of the line", y)
		}
	}
}

// No name in the profile stands on another: neither on "ground" nor on that of
// another line.
func TestPageProfileNamesDoNotMeet(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	s := sample.Sheet()
	l := &s.Lines[0]
	for i, at := range []float64{1, 3, 25, 26} {
		l.Findings = append(l.Findings, crossingAt(l.Centerline.Polyline().At(at), at, fmt.Sprintf("G-%d", i)))
	}
	for _, width := range []int{360, 1440} {
		tab := openPage(t, b, "names", s, width, 800, false)
		for _, pair := range webtest.Eval[[]string](tab, `(() => { const e = [...document.querySelectorAll('#profile text')].map(t => [t.textContent, t.getBoundingClientRect()]), out = [];
			e.forEach(([a, r], i) => e.slice(i + 1).forEach(([b, q]) => { if (r.left < q.right && q.left < r.right && r.top + 3 < q.bottom && q.top + 3 < r.bottom) out.push(a + ' on ' + b); })); return out; })()`) {
			t.Errorf("%d px: %s", width, pair)
		}
		if n := webtest.Eval[int](tab, "document.querySelectorAll('#profile .p-name').length"); n < map[int]int{360: 1, 1440: 3}[width] {
			t.Errorf("%d px: %d names are left", width, n)
		}
		tab.Close()
	}
}

// The units switch reaches the list of what to check, and the evidence.
func TestPageUnitsReachEverySentence(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	tab := openPage(t, b, "sample", sample.Sheet(), 360, 740, false)
	webtest.Eval[any](tab, "document.getElementById('units').click(); document.querySelectorAll('details').forEach(d => d.open = true); null")
	checks := webtest.Eval[string](tab, "document.querySelector('.checks').innerText")
	expect(t, checks, "Expose before digging within 4 ft", "131 ft")
	expect(t, webtest.Eval[string](tab, "document.getElementById('findings').innerText"), "Null lies 6 in right of peak")
	if left := webtest.Eval[string](tab, `['before', 'findings', 'lines'].map(id => document.getElementById(id).innerText).join('\n').split('\n').filter(l => /\d m\b/.test(l)).join('; ')`); left != "" {
		t.Errorf("left in metres: %s", left)
	}
}

package serve

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/export/webtest"
	"loamline.example/trace/tracetest/study"
)

// eastward is a job of lines that run east, so many metres north of the first.
func (s *site) eastward(northM map[string]float64) jobs.Job {
	s.t.Helper()
	text := "line,lat,lon,depth_m,h_acc_m,fix\n"
	for _, name := range []string{"A", "B", "main", "other"} {
		north, ok := northM[name]
		for i := range 40 {
			if ok {
				text += fmt.Sprintf("%s,%.8f,%.8f,1.1,0.015,4\n", name, 44.1+north/111_100, -30.5+float64(i)*1.25e-5)
			}
		}
	}
	job := s.upload([]file{{"trace", "walk.csv", text}, {"job", "j.toml", "datum = \"WGS84\"\n"}}, "?run=yes")
	if run := s.wait(job.ID, 1); run.State != jobs.StateDone {
		s.t.Fatalf("%+v", run.Problem)
	}
	return job
}

// Lines are paired by where they lie; names that differ are told, and a person
// pairs and calls them otherwise. Both maps are on one plan, with what differs.
func TestPairsByPlaceAndByHand(t *testing.T) {
	s := newSite(t, nil)
	first := s.eastward(map[string]float64{"A": 0, "B": 8})
	second := s.eastward(map[string]float64{"main": 0.02, "B": 9.2})
	at := "/overlay?first=" + first.ID + "&second=" + second.ID
	page := s.get(at, 200)
	contains(t, page, "A and main", "different names", "as found: main", `class="o-first" d="M`, `class="o-second" d="M`, `class="o-apart" d="M`, "They disagree beyond both bands")
	// B lies 1.2 m to the left of eastward travel, which is drawn as a tick up.
	contains(t, s.get("/api/v1"+at, 200), `"second_line":"main","paired":"place"`, `"line":"B","paired":"name"`)

	byHand := at + "&line=A&with=&call=&line=B&with=main&call=the+main"
	contains(t, s.get("/api/v1"+byHand, 200), `"line":"the main","second_line":"main","paired":"hand"`, `"line":"A","paired":"hand","first_only":true`, `"line":"B","second_only":true`,
		"the first map calls it B, the second main")
	contains(t, s.get(at+"&line=A&with=%20&call=Row+main", 200), "<h3>Row main and main</h3>", "the first map calls it A, the second main", `value="Row main"`)
	contains(t, s.get(at+"&line=A&with=main&line=B&with=main", http.StatusUnprocessableEntity), "this line is paired twice", "A and main")
	contains(t, s.get("/api/v1"+at+"&line=Z&with=main", http.StatusUnprocessableEntity), "has no line of this name")
	same := s.get("/overlay?first="+first.ID+"&second="+first.ID, 200)
	contains(t, same, `class="o-apart" d=""`, "with no disagreement in position")
	if strings.Contains(same, "different names") {
		t.Error("a map is paired with itself by place")
	}
}

// The second map is chosen among those at the place of the first.
func TestBrowserCompare(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	for _, width := range []int{360, 1440} {
		s := newSite(t, nil)
		s.eastward(map[string]float64{"A": 0, "B": 8})
		s.eastward(map[string]float64{"main": 0.02, "B": 9.2})
		tab := b.Tab(t, width, 800, width == 1440)
		tab.Go(s.url + "/overlay")
		screen(t, tab, "compare-first", width)
		tab.Leave(chromedp.Click(".jobs .button"))
		tab.Wait("location.search.includes('first=')")
		screen(t, tab, "compare-second", width)
		tab.Leave(chromedp.Click(".jobs .button"))
		tab.Wait("document.querySelector('.o-apart')")
		screen(t, tab, "compared", width)
		webtest.Eval[any](tab, "document.querySelector('details').open = true; document.querySelector('#w1').value = ''; null")
		screen(t, tab, "compared-pair", width)
		tab.Leave(chromedp.Click("details button"))
		tab.Wait("document.body.innerText.includes('Only the first map has this line')")
	}
}

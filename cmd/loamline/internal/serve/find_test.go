package serve

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"loamline.example/export/webtest"
	"loamline.example/trace/tracetest/study"
)

// smallWalk is a short trace at a place on a day.
func smallWalk(latDeg, lonDeg float64, day string) string {
	text := "line,lat,lon,depth_m,time\n"
	for i := range 4 {
		text += fmt.Sprintf("W-7,%.6f,%.6f,1.1,%sT10:00:0%dZ\n", latDeg, lonDeg+float64(i)*1e-5, day, i)
	}
	return text
}

// Jobs are found and listed by the day of the readings as well as of the upload,
// by place, by line and by utility.
func TestFindsByDayPlaceLineUtility(t *testing.T) {
	s := newSite(t, nil)
	water := "area = \"Tern Lane\"\ndatum = \"WGS84\"\n[[line]]\nname = \"W-7\"\nutility = \"water\"\n"
	s.upload([]file{{"trace", "a.csv", smallWalk(44.1, -30.5, "2026-03-04")}, {"job", "a.toml", "ticket = \"A\"\n" + water}}, "")
	s.upload([]file{{"trace", "b.csv", smallWalk(44.2, -30.4, "2026-01-02")}, {"job", "b.toml", "ticket = \"B\"\ndatum = \"WGS84\"\n"}}, "")
	for _, c := range []struct{ query, want string }{
		{"?days=trace&from=2026-03-04&to=2026-03-04", "A"}, {"?days=trace&to=2026-02-01", "B"}, {"?days=upload&to=2026-02-01", ""}, {"?to=2026-02-01", "B"},
		{"?utility=water", "A"}, {"?utility=unknown", "B"}, {"?line=w-7", "AB"}, {"?line=w-8", ""}, {"?q=44.2,+-30.4", "B"}, {"?q=tern+lane", "A"}, {"?bbox=-30.6,44,-30.45,44.15", "A"},
	} {
		page := s.get("/"+c.query, 200)
		for _, name := range []string{"A", "B"} {
			if got := strings.Contains(page, ">"+name+"</a></h3>"); got != strings.Contains(c.want, name) {
				t.Errorf("%s: %s found is %v", c.query, name, got)
			}
		}
	}
	newest, traced := s.get("/", 200), s.get("/?order=trace", 200)
	if strings.Index(newest, ">B</a>") > strings.Index(newest, ">A</a>") || strings.Index(traced, ">A</a>") > strings.Index(traced, ">B</a>") {
		t.Error("the orders are not those of the upload and of the trace")
	}
	contains(t, newest, "traced 2026-03-04, handed in ")
	for _, bad := range []string{"?days=sundays", "?order=up", "?utility=tea", "?bbox=1,2", "?from=soon"} {
		s.get("/api/v1/jobs"+bad, http.StatusBadRequest)
	}
}

// The plan shows every job that has a place: alone as itself, several as one
// mark that leads closer until they are told apart.
func TestPlanOfJobs(t *testing.T) {
	s := newSite(t, nil)
	contains(t, s.get("/plan", 200), "No job that matches has a place")
	far := s.upload([]file{{"trace", "far.csv", smallWalk(44.9, -30.9, "2026-03-04")}}, "")
	near := s.upload([]file{{"trace", "near.csv", smallWalk(44.1, -30.5, "2026-03-04")}}, "")
	s.upload([]file{{"trace", "next.csv", smallWalk(44.102, -30.5, "2026-03-04")}}, "")
	page := s.get("/plan", 200)
	contains(t, page, `<a href="/jobs/`+far.ID+`"`, "2 jobs here", "3 jobs in this view")
	_, rest, _ := strings.Cut(page, `<a href="/plan?bbox=`)
	box, _, _ := strings.Cut(rest, `"`)
	closer := s.get("/plan?bbox="+strings.ReplaceAll(box, "%2c", ","), 200)
	contains(t, closer, `<a href="/jobs/`+near.ID+`"`, "2 jobs in this view", "Farther away")
	contains(t, s.get("/plan?q=far.csv", 200), "1 job in this view")
}

// The plan on a phone and on a desk, by finger and by name.
func TestBrowserPlan(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	for _, width := range []int{360, 1440} {
		s := newSite(t, nil)
		for i := range 12 {
			s.upload([]file{{"trace", fmt.Sprintf("walk-%d.csv", i), smallWalk(44.1+float64(i%4)*0.01, -30.5+float64(i%3)*0.02, "2026-03-04")}}, "")
		}
		tab := b.Tab(t, width, 800, width == 1440)
		tab.Go(s.url + "/plan")
		screen(t, tab, "plan", width)
		small := webtest.Eval[int](tab, "[...document.querySelectorAll('.p-reach')].filter(e => e.getBoundingClientRect().width < 43.5).length")
		if small > 0 {
			t.Errorf("%d marks are too small to tap at %d", small, width)
		}
		tab.Leave(chromedp.SetValue("#q", "walk-7"), chromedp.Click("form.search button"))
		tab.Wait("location.search.includes('walk-7')")
		tab.Leave(chromedp.Click(".plan svg a"))
		tab.Wait("location.pathname.startsWith('/jobs/')")
	}
}

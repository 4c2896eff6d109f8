package serve

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"
)

// A job of hundreds of lines has a settings page that stays small, can be turned
// and searched without losing what was typed, and takes one setting for all.
func TestManyLines(t *testing.T) {
	s := newSite(t, nil)
	var b strings.Builder
	b.WriteString("line,lat,lon,depth_m\n")
	for l := range 300 {
		for i := range 2 {
			fmt.Fprintf(&b, "L-%03d,%.5f,%.5f,1\n", l, 44.1+float64(l)*1e-4, -30.5+float64(i)*1e-5)
		}
	}
	job := s.upload([]file{{"trace", "many.csv", b.String()}, {"job", "j.toml", "datum = \"WGS84\"\n"}}, "")
	path := "/jobs/" + job.ID
	page := s.get(path+"/settings", 200)
	if n := strings.Count(page, "<legend>"); n != linesOnPage || len(page) > 100<<10 {
		t.Errorf("%d lines on a page of %d bytes", n, len(page))
	}
	// Turned: what was typed is kept, and the next page begins where this one ended.
	to, _ := s.post(path+"/settings?lines=40", url.Values{"revision": {"1"}, "line.3.material": {"clay"}, "find": {""}}, http.StatusSeeOther)
	page = s.get(strings.TrimSuffix(to, "#lines"), 200)
	contains(t, page, "<legend>L-040</legend>", `name="line.40.material"`)
	to, _ = s.post(path+"/settings?lines=0", url.Values{"revision": {"2"}, "find": {"l-299"}}, http.StatusSeeOther)
	page = s.get(strings.TrimSuffix(to, "#lines"), 200)
	if contains(t, page, "<legend>L-299</legend>", `name="line.299.material"`); strings.Count(page, "<legend>") != 1 {
		t.Errorf("%d lines are found", strings.Count(page, "<legend>"))
	}
	s.post(path+"/runs", url.Values{"revision": {"3"}, "all.utility": {"sewer"}, "all.diameter": {"8 in"}}, http.StatusSeeOther)
	now, _ := s.srv.store.Job(job.ID)
	if len(now.Settings.Lines) != 300 {
		t.Fatalf("%d lines", len(now.Settings.Lines))
	}
	for i, l := range now.Settings.Lines {
		if want := map[bool]string{true: "clay"}[i == 3]; l.Utility != "sewer" || l.Diameter != "8 in" || l.Material != want {
			t.Fatalf("%+v", l)
		}
	}
	s.api("POST", "/api/v1"+path+"/runs/1/cancel", "", 204)
}

package serve

import (
	"net/http"
	"net/url"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// routesOf lists what the server answers, "METHOD /path" with {id} and the like, as
// its source registers it.
func routesOf(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, name := range []string{"page_routes.go", "api_routes.go"} {
		src, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`mux\.HandleFunc\("([A-Z]+ /[^"]*)"`).FindAllStringSubmatch(string(src), -1) {
			out = append(out, m[1])
		}
	}
	return out
}

// By no way whatever does somebody see a job that is hidden from them, or change one
// that they may only look at: every route is tried, those that come later as well.
func TestNoWayToOthersJobs(t *testing.T) {
	for _, hide := range []bool{false, true} {
		s := crowdOfThree(t, hide)
		job := s.uploadAs("ada", lanternRow(t))
		s.wait(job.ID, 1)
		before, told := s.everything(), 0
		for _, route := range routesOf(t) {
			method, path, _ := strings.Cut(route, " ")
			if !strings.Contains(path, "{id}") {
				continue
			}
			told++
			path = strings.NewReplacer("{id}", job.ID, "{run}", "1", "{key}", "geojson", "{input}", "1").Replace(path)
			var form url.Values
			if method != http.MethodGet {
				form = url.Values{"revision": {"2"}, "days": {"3"}}
			}
			resp, text := s.as("cleo", method, path, form)
			switch {
			case hide && (resp.StatusCode != http.StatusNotFound || strings.Contains(text, "T-2041")):
				t.Errorf("hidden: %s: %s", route, resp.Status)
			case !hide && method != http.MethodGet && resp.StatusCode != http.StatusForbidden:
				t.Errorf("to be looked at: %s: %s", route, resp.Status)
			case resp.StatusCode >= 500:
				t.Errorf("%s: %s", route, resp.Status)
			}
		}
		if told < 20 {
			t.Errorf("only %d routes were tried", told)
		}
		now := s.everything()
		for path, sum := range before {
			looks := !hide && strings.HasPrefix(path, "/jobs/"+job.ID+"/runs/1/") // a file that is taken is made, and kept
			if now[path] != sum && !looks {
				t.Errorf("hide %v: %s was changed", hide, path)
			}
		}
	}
}

// A method that a path does not have is refused with 405 and those that it has, by
// the pages as by the API.
func TestWrongMethod(t *testing.T) {
	s := newSite(t, nil)
	has := map[string][]string{}
	for _, route := range routesOf(t) {
		method, path, _ := strings.Cut(route, " ")
		path = strings.NewReplacer("{$}", "", "{id}", strings.Repeat("a", 26), "{run}", "1", "{key}", "x", "{input}", "1", "{link}", "x").Replace(path)
		has[path] = append(has[path], method)
	}
	for path, methods := range has {
		for _, method := range []string{"GET", "POST", "PUT", "DELETE", "PATCH"} {
			if slices.Contains(methods, method) || path == "/stop" {
				continue
			}
			resp, _ := s.do(method, path, "", nil)
			allowed := strings.Split(resp.Header.Get("Allow"), ", ")
			slices.Sort(allowed)
			slices.Sort(methods)
			if resp.StatusCode != http.StatusMethodNotAllowed || !slices.Equal(allowed, methods) {
				t.Errorf("%s %s: %s, Allow %q, not %q", method, path, resp.Status, allowed, methods)
			}
		}
	}
}

// A run is deleted from its page, and the job leads to what is left.
func TestDeleteRunOnThePage(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "?run=yes")
	s.wait(job.ID, 1)
	path := "/jobs/" + job.ID
	s.api("POST", "/api/v1"+path+"/runs", `{"ticket":"SECOND"}`, 202)
	s.wait(job.ID, 2)
	contains(t, s.get(path+"/runs/2", 200), `action="`+path+`/runs/2/delete"`, "Delete run 2")
	to, _ := s.post(path+"/runs/2/delete", nil, http.StatusSeeOther)
	resp, _ := s.do("GET", to, "", nil)
	if at := resp.Header.Get("Location"); at != path+"/runs/1" {
		t.Errorf("it leads to %s", at)
	}
	s.get(path+"/runs/2", http.StatusNotFound)
	s.get(path+"/runs/1", 200)
}

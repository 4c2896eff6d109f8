package serve

import (
	"encoding/json"
	"log/slog"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/crypto/bcrypt"

	"loamline.example/cmd/loamline/internal/serve/audit"
	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// crowdOfThree is a server with three people, two of whom share a group.
func crowdOfThree(t *testing.T, hide bool) *site {
	t.Helper()
	return crowdAt(t, t.TempDir(), hide)
}

// crowdAt is crowdOfThree over a folder of jobs.
func crowdAt(t *testing.T, dir string, hide bool) *site {
	t.Helper()
	hash, err := bcrypt.GenerateFromPassword([]byte("a long password"), bcrypt.MinCost)
	if err != nil {
		t.Fatal(err)
	}
	return newSite(t, func(o *Options) {
		o.Users = map[string]string{"ada": string(hash), "ben": string(hash), "cleo": string(hash)}
		o.Groups = map[string]string{"ada": "north", "ben": "north"}
		o.HideOthers, o.DataDir = hide, dir
	})
}

// as sends a request as somebody who is signed in by name and password.
func (s *site) as(who, method, path string, form url.Values) (*http.Response, string) {
	s.t.Helper()
	r, err := http.NewRequest(method, s.url+path, strings.NewReader(form.Encode()))
	if err != nil {
		s.t.Fatal(err)
	}
	if form != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	if who != "" {
		r.SetBasicAuth(who, "a long password")
	}
	return s.send(r)
}

func (s *site) uploadAs(who string, files []file) jobs.Job {
	s.t.Helper()
	kind, body := formBody(s.t, files)
	r, _ := http.NewRequest("POST", s.url+"/api/v1/jobs?run=yes", strings.NewReader(string(body)))
	r.Header.Set("Content-Type", kind)
	r.SetBasicAuth(who, "a long password")
	resp, text := s.send(r)
	var j jobs.Job
	if err := json.Unmarshal([]byte(text), &j); err != nil || resp.StatusCode != 201 {
		s.t.Fatalf("%s: %s", resp.Status, text)
	}
	return j
}

// A job is its owner's and their group's; others look at it, or do not see it.
func TestOwners(t *testing.T) {
	for _, hide := range []bool{false, true} {
		s := crowdOfThree(t, hide)
		job := s.uploadAs("ada", lanternRow(t))
		s.wait(job.ID, 1)
		if job.Owner != "ada" || job.Group != "north" {
			t.Fatalf("owner %q, group %q", job.Owner, job.Group)
		}
		path := "/jobs/" + job.ID
		theirs := map[bool]int{false: 200, true: 404}[hide]
		changes := map[bool]int{false: 403, true: 404}[hide]
		for _, c := range []struct {
			who, method, path string
			want              int
		}{
			{"ada", "GET", path + "/runs/1", 200}, {"ben", "GET", path + "/settings", 200}, {"cleo", "GET", path + "/runs/1", theirs},
			{"cleo", "GET", "/api/v1" + path, theirs}, {"cleo", "GET", path + "/runs/1/zip", theirs}, {"cleo", "GET", path + "/settings", changes},
			{"cleo", "POST", path + "/runs", changes}, {"cleo", "POST", path + "/delete", changes}, {"cleo", "DELETE", "/api/v1" + path, changes},
			{"cleo", "POST", path + "/crew", changes}, {"cleo", "POST", path + "/runs/1/delete", changes}, {"cleo", "PUT", "/api/v1" + path + "/answers", changes},
			{"cleo", "GET", "/api/v1/overlay?first=" + job.ID + "&second=" + job.ID, theirs},
		} {
			if resp, text := s.as(c.who, c.method, c.path, nil); resp.StatusCode != c.want {
				t.Errorf("hide %v: %s %s %s: %s, not %d: %.200s", hide, c.who, c.method, c.path, resp.Status, c.want, text)
			}
		}
		if _, text := s.as("cleo", "GET", "/", nil); strings.Contains(text, job.ID) == hide {
			t.Errorf("hide %v: the list is wrong", hide)
		}
		if _, text := s.as("cleo", "GET", path+"/runs/1", nil); !hide {
			contains(t, text, "This job belongs to ada")
			if strings.Contains(text, path+"/delete") {
				t.Error("what is not allowed is offered")
			}
		}
		if _, text := s.as("cleo", "GET", "/remembered", nil); strings.Contains(text, "T-2041") {
			t.Error("somebody else's answers are shown")
		}
		if resp, _ := s.as("ben", "POST", path+"/delete", url.Values{}); resp.StatusCode != 303 {
			t.Errorf("the group may not: %s", resp.Status)
		}
	}
}

// A crew link opens the map and files of one job, without an account, until it
// ends; it changes nothing and leads nowhere else.
func TestCrewLink(t *testing.T) {
	s := crowdOfThree(t, true)
	job := s.uploadAs("ada", lanternRow(t))
	s.wait(job.ID, 1)
	_, page := s.as("ada", "POST", "/jobs/"+job.ID+"/crew", url.Values{"days": {"3"}})
	i := strings.Index(page, `value="/crew/`)
	if i < 0 {
		t.Fatalf("no link is shown: %.2000s", page)
	}
	link, _, _ := strings.Cut(page[i+len(`value="`):], `"`)
	text := s.get(link, 200)
	contains(t, text, "Check before digging", "It expires on", "W-1, potable water (W)")
	for _, not := range []string{"/jobs/" + job.ID, `/settings"`, "/delete", "Sign out", `href="/overlay"`} {
		if strings.Contains(text, not) {
			t.Errorf("the crew's page has %s", not)
		}
	}
	s.get(link+"/map", 200)
	s.get(link+"/files/kml", 200)
	s.get(link+"/zip", 200)
	for _, p := range []string{link + "x", link + "/ledger", "/crew/" + strings.Repeat("a", 26)} {
		s.get(p, http.StatusNotFound)
	}
	if resp, _ := s.do("POST", link, "", nil); resp.StatusCode < 400 {
		t.Errorf("something was changed by a link: %s", resp.Status)
	}
	resp, _ := s.do("GET", "/jobs/"+job.ID, "", nil)
	if resp.StatusCode != 303 || !strings.HasPrefix(resp.Header.Get("Location"), "/sign-in") {
		t.Error("the job itself is open")
	}
	if stored, _ := os.ReadFile(filepath.Join(s.dir, "crew.json")); strings.Contains(string(stored), strings.TrimPrefix(link, "/crew/")) {
		t.Error("the secret itself is stored")
	}
	sum := s.srv.store.CrewLinks(job.ID)[0].Sum
	if resp, _ := s.as("ada", "POST", "/jobs/"+job.ID+"/crew/end", url.Values{"sum": {sum}}); resp.StatusCode != 303 {
		t.Error(resp.Status)
	}
	s.get(link, http.StatusNotFound)
}

// Who did what, when and from where is written down, and only added to; signing
// out ends a session; the cookie goes along with a link from a mail.
func TestAuditAndSignOut(t *testing.T) {
	s := crowdOfThree(t, false)
	resp, _ := s.do("POST", "/sign-in", "application/x-www-form-urlencoded", []byte(url.Values{"name": {"ada"}, "secret": {"a long password"}}.Encode()))
	cookie := resp.Cookies()[0]
	if cookie.SameSite != http.SameSiteLaxMode || !cookie.HttpOnly {
		t.Errorf("%+v", cookie)
	}
	with := func(method, path string) *http.Response {
		r, _ := http.NewRequest(method, s.url+path, nil)
		r.AddCookie(cookie)
		resp, _ := s.send(r)
		return resp
	}
	if resp := with("GET", "/"); resp.StatusCode != 200 {
		t.Error(resp.Status)
	}
	job := s.uploadAs("ben", lanternRow(t))
	s.wait(job.ID, 1)
	with("GET", "/jobs/"+job.ID+"/runs/1/zip")
	s.do("POST", "/sign-in", "application/x-www-form-urlencoded", []byte("name=cleo&secret=guess"))
	program, _ := http.NewRequest("GET", s.url+"/api/v1/jobs", nil)
	program.SetBasicAuth("ada", "guess")
	s.send(program)
	program.Header.Set("Authorization", "Bearer guess")
	s.send(program)
	before, err := os.ReadFile(filepath.Join(s.dir, "audit.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	with("POST", "/jobs/"+job.ID+"/delete")
	if resp := with("POST", "/sign-out"); resp.StatusCode != 303 {
		t.Error(resp.Status)
	}
	if resp := with("GET", "/"); resp.StatusCode != 303 {
		t.Error("the session goes on")
	}
	after, _ := os.ReadFile(filepath.Join(s.dir, "audit.jsonl"))
	if !strings.HasPrefix(string(after), string(before)) || len(after) <= len(before) {
		t.Error("the log was not only added to")
	}
	for _, want := range []string{`"who":"ada","from":"127.0.0.1","method":"POST","path":"/sign-in","status":303`, `"who":"ben","from":"127.0.0.1","method":"POST","path":"/api/v1/jobs","status":201`,
		`"who":"ada","from":"127.0.0.1","method":"GET","path":"/jobs/` + job.ID + `/runs/1/zip"`, `"who":"cleo","from":"127.0.0.1","method":"POST","path":"/sign-in","status":401`,
		`"who":"ada","from":"127.0.0.1","method":"GET","path":"/api/v1/jobs","status":401`, `"who":"token","from":"127.0.0.1","method":"GET","path":"/api/v1/jobs","status":401`,
		`"who":"ada","from":"127.0.0.1","method":"POST","path":"/jobs/` + job.ID + `/delete"`} {
		if !strings.Contains(string(after), want) {
			t.Errorf("the log does not say %s:\n%s", want, after)
		}
	}
	// Another start goes on where this one ended.
	again, err := audit.Open(s.dir, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	again.Note(audit.Line{Who: "ben"}, false)
	if err := again.Close(); err != nil {
		t.Fatal(err)
	}
	if later, err := os.ReadFile(filepath.Join(s.dir, "audit.jsonl")); err != nil || !strings.HasPrefix(string(later), string(after)) || len(later) <= len(after) {
		t.Errorf("another start did not add to the log: %v", err)
	}
	if strings.Contains(string(after), "password") || strings.Contains(string(after), "guess") {
		t.Error("a secret stands in the log")
	}
}

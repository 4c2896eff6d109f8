package serve

import (
	"net/http"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"go.yaml.in/yaml/v3"
)

// commandAdvice is advice that only a terminal can follow: a flag, or a command of
// the program.
var commandAdvice = regexp.MustCompile(`(^|[\s"'(>;,])--[a-z][a-z-]+|loamline (map|batch|serve|compare|whatif|template|archive)\b`)

// notForPeople is what of a page nobody reads.
var notForPeople = regexp.MustCompile(`(?s)<style.*?</style>|<script.*?</script>`)

// listed are the statuses that the contract lists, by method and path.
var listed = sync.OnceValue(func() map[string]map[string]bool {
	var doc struct {
		Paths map[string]map[string]any `yaml:"paths"`
	}
	out := map[string]map[string]bool{}
	if err := yaml.Unmarshal(openAPI, &doc); err != nil {
		return out
	}
	for template, methods := range doc.Paths {
		for method, op := range methods {
			if op, ok := op.(map[string]any); ok {
				at := map[string]bool{}
				for status := range op["responses"].(map[string]any) {
					at[status] = true
				}
				out[strings.ToUpper(method)+" "+template] = at
			}
		}
	}
	return out
})

// fits reports whether a request's path is one of a template of the contract.
func fits(template, path string) bool {
	want, is := strings.Split(template, "/"), strings.Split(path, "/")
	return slices.EqualFunc(want, is, func(w, i string) bool { return w == i || strings.HasPrefix(w, "{") && i != "" })
}

// answered holds any answer of any test against what is true of all of them: the
// contract lists the status, a refusal of the API is for machines, and neither a
// place on the server's disk nor advice for a terminal is in a page or in an answer
// of the API.
func (s *site) answered(r *http.Request, resp *http.Response, text string) {
	s.t.Helper()
	for _, wrong := range wrongWith(s.dir, r, resp, text) {
		s.t.Errorf("%s %s: %s", r.Method, r.URL.Path, wrong)
	}
}

func wrongWith(dir string, r *http.Request, resp *http.Response, text string) []string {
	var out []string
	api := strings.HasPrefix(r.URL.Path, "/api/v1/")
	kind, _, _ := strings.Cut(resp.Header.Get("Content-Type"), ";")
	for at, statuses := range listed() {
		method, template, _ := strings.Cut(at, " ")
		if status := resp.Status[:3]; api && method == r.Method && fits(template, r.URL.Path) && !statuses[status] {
			out = append(out, "the contract does not know "+status)
		}
	}
	if api && resp.StatusCode >= 400 && r.Method != http.MethodHead && kind != "application/problem+json" {
		out = append(out, "a refusal as "+kind)
	}
	if resp.Header.Get("Content-Disposition") != "" || kind != "text/html" && !strings.HasSuffix(kind, "json") {
		return out // a file that is saved says what was handed in
	}
	if strings.Contains(text, dir) {
		out = append(out, "the answer tells where things lie on the server's disk")
	}
	if advice := commandAdvice.FindString(notForPeople.ReplaceAllString(text, "")); advice != "" {
		out = append(out, "the answer has advice for a terminal: "+advice)
	}
	return out
}

// What all answers are held against is seen where it is broken.
func TestAnswersAreHeldAgainstTheContract(t *testing.T) {
	answer := func(status, kind string) *http.Response {
		code := map[string]int{"200": 200, "418": 418, "404": 404}[status]
		return &http.Response{Status: status + " x", StatusCode: code, Header: http.Header{"Content-Type": {kind}}}
	}
	id := strings.Repeat("a", 26)
	for name, c := range map[string]struct {
		path, status, kind, text string
		wrong                    int
	}{
		"good":                   {"/api/v1/jobs/" + id, "200", "application/json", `{}`, 0},
		"a status not listed":    {"/api/v1/jobs/" + id, "418", "application/problem+json", `{}`, 1},
		"a refusal as a page":    {"/api/v1/jobs/" + id + "/changes", "404", "text/html", ``, 1},
		"a place on the disk":    {"/jobs/" + id, "200", "text/html; charset=utf-8", `<p>/srv/office/jobs</p>`, 1},
		"a flag":                 {"/jobs/" + id, "200", "text/html", `<p>choose another one with --out</p>`, 1},
		"a command":              {"/jobs/" + id, "200", "text/html", `<p>run loamline map again</p>`, 1},
		"a style":                {"/jobs/" + id, "200", "text/html", `<style>p { color: var( --ink) }</style><p>a</p>`, 0},
		"names with hyphens":     {"/jobs/" + id, "200", "text/html", `<p class="a--b">north--south</p>`, 0},
		"a file with what is in": {"/api/v1/jobs/" + id, "200", "text/csv", `--out`, 0},
	} {
		r, _ := http.NewRequest("GET", "http://127.0.0.1"+c.path, nil)
		if got := wrongWith("/srv/office", r, answer(c.status, c.kind), c.text); len(got) != c.wrong {
			t.Errorf("%s: %q", name, got)
		}
	}
}

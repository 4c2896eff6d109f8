package serve

import (
	"net/http"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/door"
)

// What is refused before any handler sees it is in the contract for each
// operation, and is machine-readable: a strange host, a page of another site,
// nobody signed in, too many guesses. So is the failure that nobody foresaw.
func TestContractNamesEveryRefusal(t *testing.T) {
	c := readContract(t)
	open := newSite(t, nil)
	closed := newSite(t, func(o *Options) { o.Token = "0123456789abcdefghij" })
	send := func(s *site, method, path string, set func(*http.Request)) int {
		t.Helper()
		r, err := http.NewRequest(method, s.url+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		set(r)
		resp, text := s.send(r)
		c.check(method, path, resp, text)
		if kind := resp.Header.Get("Content-Type"); kind != "application/problem+json" {
			t.Errorf("%s %s: a refusal as %s", method, path, kind)
		}
		return resp.StatusCode
	}
	operations := map[string]map[string]any{}
	for template, methods := range c.paths() {
		for method, op := range methods.(map[string]any) {
			if op, ok := op.(map[string]any); ok {
				operations[strings.ToUpper(method)+" "+strings.NewReplacer("{id}", strings.Repeat("a", 26), "{run}", "1", "{key}", "x", "{input}", "1").Replace(template)] = op
			}
		}
	}
	for at, op := range operations {
		method, path, _ := strings.Cut(at, " ")
		if got := send(open, method, path, func(r *http.Request) { r.Host = "elsewhere.example" }); got != http.StatusMisdirectedRequest {
			t.Errorf("%s by a strange name: %d", at, got)
		}
		if method != http.MethodGet {
			if got := send(open, method, path, func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }); got != http.StatusForbidden {
				t.Errorf("%s from another site: %d", at, got)
			}
		}
		if got := send(closed, method, path, func(*http.Request) {}); got != http.StatusUnauthorized {
			t.Errorf("%s by nobody: %d", at, got)
		}
		if responses := op["responses"].(map[string]any); responses["500"] == nil {
			t.Errorf("%s: a failure of the server is not in the contract", at)
		}
	}
	guess := func(r *http.Request) { r.Header.Set("Authorization", "Bearer a guess") }
	for range door.TriesOfOne {
		send(closed, http.MethodGet, "/api/v1/jobs", guess)
	}
	for at := range operations {
		method, path, _ := strings.Cut(at, " ")
		if got := send(closed, method, path, guess); got != http.StatusTooManyRequests {
			t.Errorf("%s by one guess too many: %d", at, got)
		}
	}
}

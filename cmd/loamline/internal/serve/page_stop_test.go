package serve

import (
	"net/http"
	"strings"
	"testing"
)

// Who started the program without a terminal stops it by a button. Nobody else can:
// not where others sign in or reach it, and not from another site.
func TestStopButton(t *testing.T) {
	stopped := 0
	stop := func(o *Options) { o.Stop = func() { stopped++ } }
	post := func(s *site, origin string) int {
		t.Helper()
		req, err := http.NewRequest("POST", s.url+"/stop", nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Origin", origin)
		if origin != s.url {
			req.Header.Set("Sec-Fetch-Site", "cross-site")
		}
		resp, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		return resp.StatusCode
	}
	s := newSite(t, stop)
	contains(t, s.get("/", 200), "until it is stopped", `action="/stop"`)
	if status := post(s, "https://elsewhere.example"); status != http.StatusForbidden || stopped != 0 {
		t.Errorf("from another site: status %d, stopped %d times", status, stopped)
	}
	if status := post(s, s.url); status != http.StatusOK || stopped != 1 {
		t.Errorf("by the button: status %d, stopped %d times", status, stopped)
	}
	for name, change := range map[string]func(*Options){
		"nobody asked for it": func(*Options) {},
		"a token is asked":    func(o *Options) { stop(o); o.Token = strings.Repeat("t", 24) },
		"others reach it": func(o *Options) {
			stop(o)
			o.Listen, o.Token, o.InsecurePlain = "0.0.0.0:0", strings.Repeat("t", 24), true
		},
	} {
		s := newSite(t, change)
		if status := post(s, s.url); stopped != 1 || !s.srv.door.Asks() && status != http.StatusNotFound {
			t.Errorf("%s, and the program can be stopped: %d", name, status)
		}
	}
	if page := newSite(t, nil).get("/", 200); strings.Contains(page, `action="/stop"`) {
		t.Error("a button that does nothing")
	}
}

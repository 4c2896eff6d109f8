package webtest

import (
	"net/http"
	"net/http/httptest"
	"os"
	"testing"
)

func TestMain(m *testing.M) {
	code := m.Run()
	Close()
	os.Exit(code)
}

// A test's browser remembers nothing of the test before it whose windows it has: no
// cookie, nothing stored, nothing fetched, no emulated phone.
func TestNextTestFindsNothing(t *testing.T) {
	fetched := 0
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/kept.js" {
			fetched++
			w.Header().Set("Cache-Control", "max-age=3600")
			return
		}
		w.Header().Set("Content-Type", "text/html")
		w.Write([]byte(`<!doctype html><meta name="viewport" content="width=device-width"><link rel="icon" href="data:,"><script src="/kept.js"></script>`))
	}))
	defer server.Close()
	const remembered = "document.cookie + (localStorage.getItem('who') || '') + (sessionStorage.getItem('who') || '')"
	var first, second *Browser
	t.Run("first", func(t *testing.T) {
		first = Open(t)
		tab := first.Tab(t, 360, 740, true)
		tab.Go(server.URL)
		Eval[any](tab, "document.cookie = 'who=ada; max-age=3600', localStorage.setItem('who', 'ada'), sessionStorage.setItem('who', 'ada'), null")
		if got := Eval[string](tab, remembered); got != "who=adaadaada" {
			t.Fatalf("the page remembers %q", got)
		}
		tab.Go(server.URL + "/again")
		if fetched != 1 {
			t.Fatalf("a script that may be kept was fetched %d times", fetched)
		}
	})
	t.Run("second", func(t *testing.T) {
		second = Open(t)
		tab := second.Tab(t, 1000, 700, false)
		tab.Go(server.URL)
		if got := Eval[string](tab, remembered); got != "" {
			t.Errorf("%q is still remembered", got)
		}
		if fetched != 2 {
			t.Errorf("what the test before fetched is still there: the script was fetched %d times", fetched)
		}
		if got := Eval[string](tab, "[innerWidth, matchMedia('(prefers-color-scheme: dark)').matches, matchMedia('(pointer: coarse)').matches].join()"); got != "1000,false,false" {
			t.Errorf("width, dark, touched: %s", got)
		}
		if asked := tab.Asked(server.URL, "data:"); len(asked) > 0 {
			t.Errorf("it asked for %q of the test before", asked)
		}
	})
	if first != nil && first != second {
		t.Error("the second test has not taken over the windows of the first")
	}
}

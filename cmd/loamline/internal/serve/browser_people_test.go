package serve

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"loamline.example/cmd/loamline/internal/serve/tables"
	"loamline.example/export/webtest"
	"loamline.example/trace/tracetest/study"
)

// choose sets the fields of a form by their labels.
func choose(tab *webtest.Tab, values map[string]string) {
	for label, value := range values {
		webtest.Eval[any](tab, fmt.Sprintf("[...document.querySelectorAll('label')].filter(l => l.textContent === %q).forEach(l => { l.control.value = %q; }); null", label, value))
	}
}

// dayBack makes what is remembered in a folder of jobs a day older, and tells on which
// day it was answered then.
func dayBack(t *testing.T, dir string) string {
	t.Helper()
	path := filepath.Join(dir, "remembered.json")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var all []tables.Remembered
	if err := json.Unmarshal(text, &all); err != nil || len(all) != 1 {
		t.Fatalf("%v: %d are remembered", err, len(all))
	}
	all[0].On = all[0].On.AddDate(0, 0, -1)
	if text, err = json.Marshal(all); err == nil {
		err = os.WriteFile(path, text, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	return all[0].Day()
}

// Two people, two days, two places: what the first said is offered to the second
// on the next day at the same place, with the day on which it was said, who looks at
// it and says that it is right; at another place nobody is led astray by it.
func TestBrowserTwoPeople(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	dir, at := t.TempDir(), ""
	day := func(t *testing.T) (in func(who string) *webtest.Tab, upload func(tab *webtest.Tab, text string), url string) {
		s := crowdAt(t, dir, false)
		in = func(who string) *webtest.Tab {
			tab := b.Tab(t, 360, 800, false)
			tab.Go(s.url + "/sign-in")
			tab.Leave(chromedp.SendKeys("#name", who), chromedp.SendKeys("#secret", "a long password"), chromedp.Click("button.main"))
			tab.Wait("document.querySelector('#trace')")
			return tab
		}
		upload = func(tab *webtest.Tab, text string) {
			tab.Go(s.url)
			tab.Leave(chromedp.SetUploadFiles("#trace", onDisk(t, file{"", "walk.csv", text})), chromedp.Click("form[data-upload] button.main"))
			tab.Wait("location.pathname.endsWith('/columns') && document.querySelector('#datum')")
		}
		return in, upload, s.url
	}
	t.Run("the first day", func(t *testing.T) {
		in, upload, _ := day(t)
		ada := in("ada")
		upload(ada, walkAt(44.1, -71.5))
		choose(ada, map[string]string{"Depth": "depth_ft", "Latitude": "lat", "Longitude": "lon", "Cable": "line", "Pt": "-"})
		ada.Leave(chromedp.SetValue("#datum", "NAD83(2011)"), chromedp.Click("main button.main"))
		ada.Wait("location.pathname.endsWith('/settings') && document.querySelector('#f0')")
		ada.Leave(chromedp.Click("main button.main"))
		ada.Wait(onMade)
		screens(t, ada, "result-own")
		at = webtest.Eval[string](ada, "location.pathname")
	})
	if at == "" {
		return
	}
	said := dayBack(t, dir)
	t.Run("the next day", func(t *testing.T) {
		in, upload, url := day(t)
		ben := in("ben")
		upload(ben, walkAt(44.12, -71.52))
		screens(t, ben, "columns-still-right")
		contains(t, webtest.Eval[string](ben, "document.querySelector('main').innerText"), "Is it still right?", "still right?", "NAD83(2011), as answered on "+said)
		if got := webtest.Eval[string](ben, "[...document.querySelectorAll('label')].find(l => l.textContent === 'Depth').control.value"); got != "depth_ft" {
			t.Errorf("the depth begins as %q", got)
		}
		if got := webtest.Eval[string](ben, "document.querySelector('#datum').value"); got != "" {
			t.Errorf("the datum begins as %q", got)
		}
		ben.Leave(chromedp.SetValue("#datum", "NAD83(2011)"), chromedp.Click("main button.main"))
		ben.Wait("location.pathname.endsWith('/settings')")

		upload(ben, walkAt(50.1, 8.6))
		if text := webtest.Eval[string](ben, "document.querySelector('main').innerText"); strings.Contains(text, "still right") || strings.Contains(text, "as answered") {
			t.Error("what was said in one country is offered in another")
		}

		cleo := in("cleo")
		cleo.Go(url + at)
		cleo.Wait(onMade)
		screens(t, cleo, "result-theirs")
	})
}

// A link for a crew is made, opens the map on a phone without an account, and
// what was remembered can be looked at and forgotten.
func TestBrowserCrew(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	s := newSite(t, nil)
	job := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}}, "")
	s.api("PUT", "/api/v1/jobs/"+job.ID+"/answers", strangeAnswers("depth_ft"), 200)
	s.api("POST", "/api/v1/jobs/"+job.ID+"/runs", "", 202)
	s.wait(job.ID, 1)
	tab := b.Tab(t, 360, 800, false)
	tab.Go(s.url + "/jobs/" + job.ID + "/crew")
	tab.Leave(chromedp.Click("main button.main"))
	tab.Wait("document.querySelector('#link')")
	screens(t, tab, "crew-link")
	tab.Go(webtest.Eval[string](tab, "document.querySelector('#link').value"))
	tab.Wait("document.querySelector('iframe')?.contentWindow.loamline !== undefined")
	screens(t, tab, "crew")
	tab.Go(s.url + "/remembered")
	screens(t, tab, "remembered")
	tab.Leave(chromedp.Click("main form button"))
	tab.Wait("document.querySelector('main')?.innerText.includes('Nothing is remembered')")
}

// A second statement about a column, a depth that no header names, and figures
// that can be read in two ways are asked about where people see it, and what was
// typed stays.
func TestBrowserDoubts(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	s := newSite(t, nil)
	tab := b.Tab(t, 360, 800, false)
	first := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}}, "")
	s.api("PUT", "/api/v1/jobs/"+first.ID+"/answers", strangeAnswers("depth_m"), 200)
	second := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}, {"job", "feet.toml", "ticket = \"F-1\"\n[columns]\ndepth_ft = \"Depth\"\nlat = \"Latitude\"\nlon = \"Longitude\"\n"}}, "")
	tab.Go(s.url + "/jobs/" + second.ID + "/columns")
	contains(t, webtest.Eval[string](tab, "document.querySelector('main').innerText"), "Two statements: the job file says")
	screens(t, tab, "columns-contradiction")

	text := "lat,lon,Tiefe (cm),Bemerkung\n"
	for i := range 8 {
		text += fmt.Sprintf("50.1000%d,8.6,110,x\n", i)
	}
	third := s.upload([]file{{"trace", "gang.csv", text}, {"job", "j.toml", "datum = \"ETRS89\"\n"}}, "")
	tab.Go(s.url + "/jobs/" + third.ID + "/columns")
	screens(t, tab, "columns-depth")
	tab.Leave(chromedp.SetValue("#depth-0", "2 depth_cm"), chromedp.Click("main button.main"))
	tab.Wait("location.pathname.endsWith('/settings') && document.querySelector('#f0')")
	webtest.Eval[any](tab, "document.querySelector('#f0').value = '33,000'; document.querySelector('#ticket').value = 'KEPT'; null")
	tab.Leave(chromedp.Click("main button.main"))
	tab.Wait("document.querySelector('.wrong')")
	tab.Troubles() // the browser itself notes the refusal
	contains(t, webtest.Eval[string](tab, "document.querySelector('.wrong').innerText"), "33000")
	if got := webtest.Eval[string](tab, "document.querySelector('#f0').value + ' ' + document.querySelector('#ticket').value"); got != "33,000 KEPT" {
		t.Errorf("what was typed became %q", got)
	}
	screens(t, tab, "settings-wrong")
	webtest.Eval[any](tab, "document.querySelector('#f0').value = '33000'; null")
	tab.Leave(chromedp.Click("main button.main"))
	tab.Wait(onMade)
	tab.Go(s.url + "/jobs/" + third.ID + "/changes")
	screens(t, tab, "changes-one")
}

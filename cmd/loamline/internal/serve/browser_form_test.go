package serve

import (
	"testing"

	"github.com/chromedp/chromedp"

	"loamline.example/export/webtest"
)

// A surveyor with eastings and northings, on a phone: the system is found by the
// place's name, the rarer settings are folded away until they are wanted, and
// every mistake stands beside its field at once.
func TestBrowserForm(t *testing.T) {
	t.Parallel()
	b, s := webtest.Open(t), newSite(t, nil)
	tab := b.Tab(t, 360, 740, false)
	job := s.upload([]file{{"trace", "grid.csv", "line,east_usft,north_usft,depth_ft,time\nA,980000,200000,3,2026-03-04T10:00:00-05:00\nA,980010,200000,3,2026-03-04T10:01:00-05:00\nA,980020,200000,3,2026-03-04T10:02:00-05:00\n"}}, "")
	tab.Go(s.url + "/jobs/" + job.ID)
	tab.Wait("location.pathname.endsWith('/columns')")
	tab.Do(chromedp.SendKeys("#crs", "new york long island"))
	tab.Wait("[...document.querySelectorAll('datalist option')].some(o => o.value === 'EPSG:2263')")
	tab.Leave(chromedp.Click("button.main"))
	tab.Wait("document.querySelector('select#crs')")
	tab.Troubles() // the browser itself notes the refusal
	screen(t, tab, "systems", 360)
	tab.Leave(chromedp.SetValue("#crs", "EPSG:2263"), chromedp.Click("button.main"))
	tab.Wait("document.querySelector('#date') && document.querySelector('#job_id')")
	if webtest.Eval[string](tab, "document.querySelector('#date').value") != "2026-03-04" {
		t.Error("the day is not filled in from the readings")
	}
	if webtest.Eval[bool](tab, "document.querySelector('#job_id').checkVisibility()") {
		t.Error("the rarer settings are not folded away")
	}
	screen(t, tab, "settings-grid", 360)
	tab.Do(chromedp.SetValue("#half", "18 fathoms"), chromedp.SetValue("#valid_until", "2026-03-01"), chromedp.SetValue("#owner_phone", "ask the office"))
	webtest.Eval[any](tab, "document.querySelector('#fn0').value = 'hydrant 7'; document.querySelector('#fx0').value = 'here'; null")
	tab.Leave(chromedp.Click("button.main"))
	tab.Wait("document.querySelector('#problems-title')")
	tab.Troubles()
	contains(t, webtest.Eval[string](tab, "document.activeElement.innerText"), "Half-width of the tolerance zone", "Valid until", "Phone of the owner", "fixed feature 1")
	if n := webtest.Eval[int](tab, "[...document.querySelectorAll('.field > .wrong')].filter(e => e.checkVisibility()).length"); n != 5 { // the feature has two: no easting, no northing
		t.Errorf("%d mistakes are seen beside their fields, not 5", n)
	}
	screen(t, tab, "settings-wrong", 360)
	tab.Leave(chromedp.SetValue("#half", "18 in"), chromedp.SetValue("#valid_until", "2026-04-01"), chromedp.SetValue("#owner_phone", "+1 555 555 0100"), chromedp.SetValue("#fx0", "980005 usft"), chromedp.SetValue("#fy0", "200010 usft"), chromedp.Click("button.main"))
	tab.Wait("location.pathname.includes('/runs/')")
	s.wait(job.ID, 1)
	now, _ := s.srv.store.Job(job.ID)
	if r := now.Latest(); r.State != "done" || len(r.Settings.Features) != 1 || r.Settings.Date != "2026-03-04" || r.Settings.Contact.OwnerPhone != "+1 555 555 0100" {
		t.Errorf("%s %+v %+v", r.State, r.Problem, r.Settings)
	}
}

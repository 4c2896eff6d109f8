package serve

import (
	"net/http"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
)

// What was chosen of the columns is kept when somebody else was faster.
func TestChosenColumnsAreKept(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload([]file{{"trace", "walk.csv", strangeTrace}}, "")
	path := "/jobs/" + job.ID
	mine := url.Values{"revision": {"1"}, "column.0.0": {"point"}, "column.0.1": {"lat"}, "column.0.2": {"lon"}, "column.0.3": {"depth_ft"}, "column.0.4": {"note"}, "datum": {"NAD83(2011)"}}
	theirs := url.Values{"revision": {"1"}, "column.0.1": {"lat"}, "column.0.2": {"lon"}, "datum": {"unknown"}}
	s.post(path+"/columns", theirs, http.StatusSeeOther)
	_, text := s.post(path+"/columns", mine, http.StatusConflict)
	contains(t, text, "changed in another window", `name="revision" value="2"`, `value="depth_ft" selected`, `value="note" selected`, `value="point" selected`)
	now, _ := s.srv.store.Job(job.ID)
	if now.Revision != 2 || now.Settings.Datum != "" {
		t.Errorf("revision %d, datum %q: what came too late was stored", now.Revision, now.Settings.Datum)
	}
}

// Everything that is wrong in the form is told at once, in words and beside its
// field.
func TestEveryMistakeAtOnce(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "")
	path := "/jobs/" + job.ID
	form := url.Values{"revision": {"1"}, "ticket": {"MINE"}, "tolerance.half_width": {"18 fathoms"}, "epoch": {"twenty"}, "date": {"2026-05-12"}, "valid_until": {"2026-05-01"},
		"contact.owner_phone": {"ask the office"}, "contact.emergency_phone": {"9"}, "line.0.diameter": {"big"}, "output.page_url": {"nowhere"}, "feature.0.name": {"hydrant 7"}, "feature.0.x": {"here"}, "feature.0.y": {"44.1"}}
	for _, at := range []string{"/runs", "/settings"} {
		_, text := s.post(path+at, form, http.StatusUnprocessableEntity)
		if n := strings.Count(text, `class="wrong"`); n != 8 {
			t.Errorf("%s: %d fields say what is wrong with them, not 8", at, n)
		}
		contains(t, text, "<strong>Half-width of the tolerance zone</strong>", "<strong>Epoch</strong>", "<strong>Valid until</strong>", "<strong>W-1, outer diameter</strong>", "<strong>Phone of the owner</strong>", "<strong>Emergency number</strong>",
			"<strong>Address of the page</strong>", "<strong>fixed feature 1, position</strong>", `value="MINE"`, `value="big"`, `value="here"`, `value="twenty"`)
	}
	if now, _ := s.srv.store.Job(job.ID); now.Revision != 1 || len(now.Runs) != 0 {
		t.Errorf("revision %d, %d runs", now.Revision, len(now.Runs))
	}
}

// What a job file can say of outputs, layers and fixed features can be said and
// taken back in the form, and a form without these fields changes nothing of it.
func TestFormSaysWhatAJobFileSays(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload([]file{example(t, "trace", "lantern-row.csv"), {"job", "j.toml", "datum = \"WGS84\"\n"}, example(t, "reference", "town-records.geojson")}, "")
	path := "/jobs/" + job.ID
	if n := len(job.Settings.References); n != 1 {
		t.Fatalf("%d layers", n)
	}
	s.post(path+"/settings", url.Values{"revision": {"1"}, "job_id": {"J-88"}, "output.crs": {"EPSG:32625"}, "output.sheets": {"both"}, "output.page_url": {"https://maps.example/"},
		"contact.owner": {"Town of Lantern"}, "contact.owner_phone": {"+1 555 555 0100"}, "contact.emergency_phone": {"911"},
		"reference.0.role": {"background"}, "reference.0.name_column": {"id"}, "reference.0.datum": {"WGS84"}, "reference.0.crs": {"EPSG:4326"},
		"feature.0.name": {"hydrant 7"}, "feature.0.x": {"-30.5001"}, "feature.0.y": {"44.1001"}, "feature.1.name": {"corner"}, "feature.1.x": {"540000 m"}, "feature.1.y": {"4883000 m"}}, http.StatusSeeOther)
	page := s.get(path+"/settings", 200)
	contains(t, page, `value="Town of Lantern"`, `value="&#43;1 555 555 0100"`, `value="911"`, `value="J-88"`, `value="hydrant 7"`, `value="-30.5001"`, `value="540000 m"`, `name="feature.3.name"`, `value="both" selected`, `value="background" selected`, "WGS 84 / UTM zone 25N")
	s.post(path+"/settings", url.Values{"revision": {"2"}, "ticket": {"T"}}, http.StatusSeeOther)
	now, _ := s.srv.store.Job(job.ID)
	want := []jobfile.FeatureSettings{{Name: "hydrant 7", Position: []any{-30.5001, 44.1001}}, {Name: "corner", Position: []any{"540000 m", "4883000 m"}}}
	if set := now.Settings; set.JobID != "J-88" || set.Output != (jobfile.OutputSettings{CRS: "EPSG:32625", Sheets: "both", PageURL: "https://maps.example/"}) || !reflect.DeepEqual(set.Features, want) {
		t.Errorf("%+v", set)
	}
	if want := (jobfile.ContactSettings{Owner: "Town of Lantern", OwnerPhone: "+1 555 555 0100", Emergency: "911"}); now.Settings.Contact != want {
		t.Errorf("whom to call: %+v", now.Settings.Contact)
	}
	r := now.Settings.References[0]
	if r.Role != "background" || r.NameColumn != "id" || r.Datum != "WGS84" || r.CRS != "EPSG:4326" {
		t.Errorf("%+v", r)
	}
	s.post(path+"/settings", url.Values{"revision": {"3"}, "feature.0.name": {""}, "feature.0.x": {""}, "feature.0.y": {""}}, http.StatusSeeOther)
	now, _ = s.srv.store.Job(job.ID)
	if !reflect.DeepEqual(now.Settings.Features, want[1:]) {
		t.Errorf("%+v", now.Settings.Features)
	}
}

// The day is filled in from the readings, to be looked at; readings of several
// days, or of another day than the one said, are told.
func TestDayFromReadings(t *testing.T) {
	s := newSite(t, nil)
	walk := func(days ...string) file {
		text := "line,lat,lon,depth_m,time\n"
		for i, d := range days {
			text += "A,44.1000" + string(rune('1'+i)) + ",-30.5,1," + d + "T23:30:00-05:00\n"
		}
		return file{"trace", "walk.csv", text}
	}
	one := s.upload([]file{walk("2026-03-04", "2026-03-04")}, "")
	contains(t, s.get("/jobs/"+one.ID+"/settings", 200), `name="date" value="2026-03-04"`, "From the readings")
	two := s.upload([]file{walk("2026-03-04", "2026-03-06")}, "")
	contains(t, s.get("/jobs/"+two.ID+"/settings", 200), `name="date" value=""`, "from 2026-03-04 to 2026-03-06")
	other := s.upload([]file{walk("2026-03-04"), {"job", "j.toml", "date = 2026-03-01\n"}}, "")
	contains(t, s.get("/jobs/"+other.ID+"/settings", 200), `name="date" value="2026-03-01"`, "The readings say 2026-03-04")
}

// A reference system is found by its name and its place, and one of those found
// is chosen: none is taken for anybody. Names and numbers are those of the EPSG
// dataset: 2263 is NAD83 / New York Long Island (ftUS).
func TestSystemsByName(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload([]file{{"trace", "grid.csv", "line,east_usft,north_usft,depth_ft\nA,980000,200000,3\nA,980010,200000,3\nA,980020,200000,3\n"}}, "")
	path := "/jobs/" + job.ID
	_, text := s.post(path+"/columns", url.Values{"revision": {"1"}, "crs": {"new york long island"}}, http.StatusUnprocessableEntity)
	contains(t, text, `<option value="EPSG:2263">NAD83 / New York Long Island (ftUS)`, "choose which one is meant")
	contains(t, text, "choose below which system is meant")
	_, text = s.post(path+"/columns", url.Values{"revision": {"1"}, "crs": {"nowhere at all"}}, http.StatusUnprocessableEntity)
	contains(t, text, "no reference system is known that fits", `value="nowhere at all"`)
	if now, _ := s.srv.store.Job(job.ID); now.Revision != 1 {
		t.Error("a system was taken for somebody")
	}
	s.post(path+"/columns", url.Values{"revision": {"1"}, "crs": {"EPSG:2263"}}, http.StatusSeeOther)
	contains(t, s.get(path+"/settings", 200), "EPSG:2263 is NAD83 / New York Long Island (ftUS)", "US survey feet")

	// A job that is known to lie in the Atlantic is not offered what is used in Norway.
	here := s.upload(lanternRow(t), "")
	text = s.get("/api/v1/systems?q=utm+wgs&job="+here.ID, 200)
	contains(t, text, "EPSG:32625")
	if strings.Contains(text, "EPSG:32633") {
		t.Error("a system of another place is offered")
	}
	contains(t, s.get("/api/v1/systems?q=", 200), `"systems":[]`)
}

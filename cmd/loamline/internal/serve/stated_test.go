package serve

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// walkAt is a walk of ten readings under the header of strangeTrace, from a place on.
func walkAt(latDeg, lonDeg float64) string {
	var b strings.Builder
	b.WriteString("Pt,Latitude,Longitude,Depth,Cable\n")
	for i := range 10 {
		fmt.Fprintf(&b, "%d,%.6f,%.6f,%.1f,A\n", i, latDeg+float64(i)*1e-5, lonDeg-float64(i)*3e-5, 3.1+float64(i%3)*0.1)
	}
	return b.String()
}

// strangeAnswers are what somebody says about that header.
func strangeAnswers(depth string) string {
	return `{"columns":{"walk.csv":{"Latitude":"lat","Longitude":"lon","Depth":"` + depth + `","Cable":"line","Pt":"-"}},"datum":"NAD83(2011)"}`
}

func (s *site) api(method, path, body string, status int) string {
	s.t.Helper()
	kind := ""
	if body != "" {
		kind = "application/json"
	}
	resp, text := s.do(method, path, kind, []byte(body))
	if resp.StatusCode != status {
		s.t.Fatalf("%s %s: %s, not %d\n%s", method, path, resp.Status, status, text)
	}
	return text
}

// depths reads the depths along the first line of a finished run.
func (s *site) depths(id string, run int) (lo, hi float64) {
	s.t.Helper()
	text := s.get(fmt.Sprintf("/api/v1/jobs/%s/runs/%d/files/geojson", id, run), 200)
	var doc struct {
		Features []struct {
			Properties struct {
				Role   string     `json:"role"`
				DepthM []*float64 `json:"depth_m"`
			}
		}
	}
	_ = json.Unmarshal([]byte(roleOnly(text)), &doc)
	lo, hi = 1e9, -1e9
	for _, f := range doc.Features {
		for _, d := range f.Properties.DepthM {
			if d != nil {
				lo, hi = min(lo, *d), max(hi, *d)
			}
		}
	}
	return lo, hi
}

// roleOnly keeps the centerlines of a map, whose depths are lists.
func roleOnly(text string) string {
	var doc struct{ Features []json.RawMessage }
	if err := json.Unmarshal([]byte(text), &doc); err != nil {
		return text
	}
	var keep []string
	for _, f := range doc.Features {
		if strings.Contains(string(f), `"role":"centerline"`) || strings.Contains(string(f), `"role": "centerline"`) {
			keep = append(keep, string(f))
		}
	}
	return `{"features":[` + strings.Join(keep, ",") + `]}`
}

// In feet 3.1 to 3.3 are 0.94 to 1.01 m (the foot is 0.3048 m exactly: NIST
// Special Publication 811, appendix B.6); in metres they would be over 3 m.
func wantFeet(t *testing.T, lo, hi float64) {
	t.Helper()
	if lo < 0.85 || hi > 1.10 {
		t.Errorf("drawn at %.2f to %.2f m: the depths are feet", lo, hi)
	}
}

// What a job file or a request says about a column wins over what was answered
// for an earlier file, and the contradiction is asked about before a map is made.
func TestStatedWinsOverRemembered(t *testing.T) {
	s := newSite(t, nil)
	first := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}}, "")
	s.api("PUT", "/api/v1/jobs/"+first.ID+"/answers", strangeAnswers("depth_m"), 200)

	jobFile := file{"job", "feet.toml", "ticket = \"F-1\"\ndatum = \"NAD83(2011)\"\n[columns]\ndepth_ft = \"depth\"\nlat = \"Latitude\"\nlon = \"Longitude\"\n"}
	second := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}, jobFile}, "?run=yes")
	if len(second.Runs) > 0 {
		s.wait(second.ID, 1)
		lo, hi := s.depths(second.ID, 1)
		t.Fatalf("a map is made at %.2f to %.2f m although two statements contradict each other", lo, hi)
	}
	if q := strings.Join(second.Questions(), "\n"); !strings.Contains(q, "Depth") || !strings.Contains(q, "feet") || !strings.Contains(q, "metres") {
		t.Errorf("the contradiction is not told: %q", q)
	}
	page := s.get("/jobs/"+second.ID+"/columns", 200)
	contains(t, page, "the job file says", "depth to the line&#39;s centre, feet", "answered on", "depth to the line&#39;s centre, metres")
	if !strings.Contains(page, `value="depth_ft" selected`) || strings.Contains(page, `value="depth_m" selected`) {
		t.Error("the page does not begin with what the job file says")
	}
	s.api("PUT", "/api/v1/jobs/"+second.ID+"/answers", `{"columns":{"walk.csv":{"Depth":"depth_ft","Cable":"line","Pt":"-"}}}`, 200)
	s.api("POST", "/api/v1/jobs/"+second.ID+"/runs", "", 202)
	s.wait(second.ID, 1)
	lo, hi := s.depths(second.ID, 1)
	wantFeet(t, lo, hi)

	// A request contradicts what a person said about this very job: it is told,
	// and nothing is made.
	third := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}}, "")
	s.api("PUT", "/api/v1/jobs/"+third.ID+"/answers", strangeAnswers("depth_m"), 200)
	contains(t, s.api("POST", "/api/v1/jobs/"+third.ID+"/runs", `{"columns":{"depth_ft":"Depth"}}`, 422), "Depth", "depth_m", "depth_ft")

	// And over what is only remembered it wins.
	fourth := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}}, "")
	s.api("POST", "/api/v1/jobs/"+fourth.ID+"/runs", `{"datum":"NAD83(2011)","columns":{"depth_ft":"Depth","lat":"Latitude","lon":"Longitude","line":"Cable","point":"Pt"}}`, 202)
	s.wait(fourth.ID, 1)
	lo, hi = s.depths(fourth.ID, 1)
	wantFeet(t, lo, hi)
}

// Remembered answers are shown before they are used, with the day and the job,
// can be confirmed at once, listed and forgotten.
func TestRememberedIsShownFirst(t *testing.T) {
	s := newSite(t, nil)
	first := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}, {"job", "j.toml", "ticket = \"M-7\"\n"}}, "")
	s.api("PUT", "/api/v1/jobs/"+first.ID+"/answers", strangeAnswers("depth_ft"), 200)
	contains(t, s.get("/remembered", 200), "M-7", "Depth", "feet")
	next := s.upload([]file{{"trace", "walk.csv", walkAt(44.11, -71.51)}}, "?run=yes")
	if len(next.Runs) > 0 || next.DatumSaid || next.Settings.Datum != "" {
		t.Fatalf("what was answered for another file is used unseen: %+v", next)
	}
	page := s.get("/jobs/"+next.ID+"/columns", 200)
	contains(t, page, "M-7", "still right", `value="depth_ft" selected`, "NAD83(2011), as answered")
	if strings.Contains(page, `value="NAD83(2011)" selected`) {
		t.Error("the datum is chosen before anybody chose it")
	}
	text := s.api("PUT", "/api/v1/jobs/"+next.ID+"/answers", `{"still_right":true,"datum":"NAD83(2011)"}`, 200)
	contains(t, text, `"questions":[]`)

	var list struct {
		Remembered []struct{ Key string }
	}
	if err := json.Unmarshal([]byte(s.api("GET", "/api/v1/remembered", "", 200)), &list); err != nil || len(list.Remembered) != 1 {
		t.Fatalf("%v: %+v", err, list)
	}
	s.post("/remembered/forget", url.Values{"key": {list.Remembered[0].Key}}, http.StatusSeeOther)
	last := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}}, "")
	if page := s.get("/jobs/"+last.ID+"/columns", 200); strings.Contains(page, "still right") {
		t.Error("what was forgotten is offered")
	}
}

// Answers belong to an instrument, header and place: neither they nor the datum
// go to another country.
func TestRememberedStaysAtItsPlace(t *testing.T) {
	s := newSite(t, nil)
	us := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}}, "")
	s.api("PUT", "/api/v1/jobs/"+us.ID+"/answers", strangeAnswers("depth_ft"), 200)
	eu := s.upload([]file{{"trace", "walk.csv", walkAt(50.1, 8.6)}}, "?run=yes")
	if len(eu.Runs) > 0 || eu.DatumSaid || eu.Settings.Datum != "" {
		t.Fatalf("a datum crossed the sea: %+v", eu.Settings)
	}
	page := s.get("/jobs/"+eu.ID+"/columns", 200)
	if strings.Contains(page, "still right") || strings.Contains(page, `value="depth_ft" selected`) || strings.Contains(page, "as answered") {
		t.Error("answers of another place are offered")
	}
	projected := "East,North,Depth_m\n"
	for i := range 10 {
		projected += fmt.Sprintf("%d,%d,1.1\n", 300000+i, 4885000)
	}
	a := s.upload([]file{{"trace", "p.csv", projected}}, "")
	s.api("PUT", "/api/v1/jobs/"+a.ID+"/answers", `{"columns":{"p.csv":{"East":"east_m","North":"north_m"}},"crs":"EPSG:32619","datum":""}`, 200)
	b := s.upload([]file{{"trace", "p.csv", projected}}, "")
	s.api("PUT", "/api/v1/jobs/"+b.ID+"/answers", `{"columns":{"p.csv":{"East":"east_m","North":"north_m"}}}`, 200)
	job, _ := s.srv.store.Job(b.ID)
	if job.Settings.CRS == "EPSG:32619" || !job.NeedsCRS() {
		t.Errorf("a reference system was taken over unasked: %s", job.Settings.CRS)
	}
}

// Where no column is recognised as the depth somebody is asked, whatever the
// language of the header.
func TestDepthIsAskedFor(t *testing.T) {
	s := newSite(t, nil)
	text := "lat,lon,Tiefe (cm),Bemerkung\n"
	for i := range 8 {
		text += fmt.Sprintf("50.1000%d,8.6,110,x\n", i)
	}
	job := s.upload([]file{{"trace", "walk.csv", text}, {"job", "j.toml", "datum = \"ETRS89\"\n"}}, "?run=yes")
	if len(job.Runs) > 0 {
		t.Fatal("a map without depths is made, and nobody was asked")
	}
	contains(t, strings.Join(job.Questions(), "\n"), "walk.csv", "depth")
	contains(t, s.get("/jobs/"+job.ID+"/columns", 200), "Which column is the depth?", "Tiefe (cm)", "this file has no depth")
	none := s.api("PUT", "/api/v1/jobs/"+job.ID+"/answers", `{"no_depth":["walk.csv"]}`, 200)
	contains(t, none, `"questions":[]`)
	some := s.api("PUT", "/api/v1/jobs/"+job.ID+"/answers", `{"columns":{"walk.csv":{"Tiefe (cm)":"depth_cm"}}}`, 200)
	contains(t, some, `"questions":[]`)
	s.api("POST", "/api/v1/jobs/"+job.ID+"/runs", "", 202)
	s.wait(job.ID, 1)
	if lo, hi := s.depths(job.ID, 1); lo < 1 || hi > 1.2 {
		t.Errorf("drawn at %.2f to %.2f m, read were 1.10 m", lo, hi)
	}
}

// Figures with a separator of thousands are never taken for decimals.
func TestThousands(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "")
	path := "/jobs/" + job.ID
	_, text := s.post(path+"/runs", url.Values{"revision": {"1"}, "line.0.freq_hz": {"33,000"}}, http.StatusUnprocessableEntity)
	contains(t, text, "33,000", "33000", `value="33,000"`)
	s.post(path+"/runs", url.Values{"revision": {"1"}, "line.0.freq_hz": {"8,19"}, "line.0.power_w": {"1,234,567.5"}}, http.StatusSeeOther)
	now, _ := s.srv.store.Job(job.ID)
	if l := now.Settings.Lines[0]; l.FreqHz != 8.19 || l.PowerW != 1234567.5 {
		t.Errorf("%+v", l)
	}

	// In a table as well: 33,000 Hz in a file with semicolons can be either.
	rows := "lat;lon;depth_m;freq_hz\n"
	for i := range 8 {
		rows += fmt.Sprintf("44,1000%d;-71,5;1,1;33,000\n", i)
	}
	asked := s.upload([]file{{"trace", "w.csv", rows}, {"job", "j.toml", "datum = \"WGS84\"\n"}}, "?run=yes")
	if len(asked.Runs) > 0 {
		t.Fatal("33,000 Hz was taken for 33 Hz unasked")
	}
	contains(t, strings.Join(asked.Questions(), "\n"), "33,000")
	s.api("PUT", "/api/v1/jobs/"+asked.ID+"/answers", `{"columns":{"w.csv":{"freq_hz":"freq_khz"}}}`, 200)
	var j jobs.Job
	_ = json.Unmarshal([]byte(s.api("GET", "/api/v1/jobs/"+asked.ID, "", 200)), &j)
	if len(j.Questions()) > 0 {
		t.Error(j.Questions())
	}
}

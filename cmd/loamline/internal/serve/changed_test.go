package serve

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// Everything that changes the map is told: what a column was taken for, its
// unit, the datum, a file, the program.
func TestWhatChangedTellsAll(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}}, "")
	api := "/api/v1/jobs/" + job.ID
	s.api("PUT", api+"/answers", strangeAnswers("depth_m"), 200)
	s.api("POST", api+"/runs", "", 202)
	s.wait(job.ID, 1)
	s.api("PUT", api+"/answers", `{"columns":{"walk.csv":{"Depth":"depth_ft"}},"datum":"WGS84"}`, 200)
	s.api("POST", api+"/runs", "", 202)
	s.wait(job.ID, 2)
	page := s.get("/jobs/"+job.ID+"/changes", 200)
	contains(t, page, "walk.csv: Depth", "depth to the line&#39;s centre, metres", "depth to the line&#39;s centre, feet", "NAD83(2011)", "WGS84")
	contains(t, s.api("GET", api+"/changes", "", 200), `"columns":[{"key":"walk.csv: Depth","from":"depth_m","to":"depth_ft"}]`, `"frame":{`)

	// As another version of the program, from another file, would have left it.
	result := filepath.Join(s.dir, "jobs", job.ID, "runs", "1", "result.json")
	text, err := os.ReadFile(result)
	if err != nil {
		t.Fatal(err)
	}
	older := strings.Replace(string(text), `"version": "test"`, `"version": "0.0.9"`, 1)
	older = strings.Replace(older, job.Files[0].SHA256, strings.Repeat("0", 64), 1)
	if err := os.WriteFile(result, []byte(older), 0o600); err != nil {
		t.Fatal(err)
	}
	contains(t, s.get("/jobs/"+job.ID+"/changes", 200), "Made by loamline 0.0.9 before, test now", "walk.csv: another content")
}

// Settings of the reference layers, the units and the tolerance are told by their keys,
// and a layer by its file's name.
func TestWhatChangedTellsReferencesAndUnits(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "?run=yes")
	s.wait(job.ID, 1)
	api := "/api/v1/jobs/" + job.ID
	s.api("POST", api+"/runs", `{"units":"us","references":[{"file":"town-records.geojson","role":"background","datum":"WGS84"}],"tolerance":{"measured_from":"centerline"}}`, 202)
	if r := s.wait(job.ID, 2); r.State != jobs.StateDone {
		t.Fatalf("%+v", r.Problem)
	}
	text := s.api("GET", api+"/changes", "", 200)
	contains(t, text, `{"key":"reference town-records.geojson.role","from":"","to":"background"}`, `{"key":"reference town-records.geojson.datum"`, `{"key":"tolerance.measured_from","from":"edge","to":"centerline"}`, `{"key":"units","from":"metric","to":"us"}`)
	contains(t, s.get("/jobs/"+job.ID+"/changes", 200), "reference town-records.geojson.role", "background", "measured_from")
}

// Two maps whose positions were in different frames, or in one that nobody
// stated, are not compared without a word about it.
func TestOverlayWarnsOfFrames(t *testing.T) {
	s := newSite(t, nil)
	american := strings.ReplaceAll(goodTrace, "-30.5", "-71.5") // where NAD83 is believed
	made := func(datum string) string {
		job := s.upload([]file{{"trace", "walk.csv", american}, {"job", "j.toml", datum}}, "")
		body := ""
		if datum == "" {
			s.api("PUT", "/api/v1/jobs/"+job.ID+"/answers", `{"datum":""}`, 200)
		}
		s.api("POST", "/api/v1/jobs/"+job.ID+"/runs", body, 202)
		s.wait(job.ID, 1)
		return job.ID
	}
	a, b, none := made("datum = \"NAD83(2011)\"\n"), made("datum = \"WGS84\"\n"), made("")
	contains(t, s.get("/overlay?first="+a+"&second="+b, 200), "NAD83(2011)", "WGS84", "Frames differ by decimetres up to about four metres")
	contains(t, s.get("/api/v1/overlay?first="+a+"&second="+none, 200), `"warning":"The first map's positions were in NAD83(2011), the second's in a frame that was not stated`)
	if text := s.get("/overlay?first="+a+"&second="+a, 200); strings.Contains(text, "Frames differ") {
		t.Error("two maps in one frame are warned of")
	}
}

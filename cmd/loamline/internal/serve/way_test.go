package serve

import (
	"archive/zip"
	"bytes"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// The whole way by plain forms, as a browser without scripts goes it.
func TestWayByForms(t *testing.T) {
	s := newSite(t, nil)
	kind, body := formBody(t, append(lanternRow(t), file{"gnss_log", "", ""}))
	resp, _ := s.do("POST", "/jobs", kind, body)
	if resp.StatusCode != http.StatusSeeOther {
		t.Fatal(resp.Status)
	}
	job := resp.Header.Get("Location")
	resp, _ = s.do("GET", job, "", nil)
	if to := resp.Header.Get("Location"); to != job+"/settings" {
		t.Fatalf("nothing is to be asked, and the way leads to %s", to)
	}
	contains(t, s.get(job+"/settings", 200), "T-2041", "18 in", "depth to the line&#39;s centre, metres", "ductile iron", "96 rows")

	// What was handed in can be had again, before any map is made.
	if got, want := s.get(job+"/inputs/1", 200), lanternRow(t)[0]; got != want.text {
		t.Errorf("%s came back as %d bytes, not %d", want.name, len(got), len(want.text))
	}

	to, _ := s.post(job+"/runs", url.Values{"revision": {"1"}, "tolerance.half_width": {"24 in"}, "line.0.diameter": {"8 in"}}, http.StatusSeeOther)
	id := strings.Split(job, "/")[2]
	if run := s.wait(id, 1); run.State != jobs.StateDone {
		t.Fatalf("%s: %+v", run.State, run.Problem)
	}
	page := s.get(to, 200)
	contains(t, page, "Check before digging", "W-1, potable water (W)", "Read depth to centre", "96 rows =", "Everything as a zip", "<iframe")
	contains(t, s.get(to+"/ledger?status=set_aside", 200), "set aside", "lantern-row.csv, ")
	contains(t, s.get(to+"/files/settings.toml", 200), `half_width = '24 in'`, `diameter = '8 in'`)
	contains(t, s.get("/?q=tern+lane", 200), "1 job found", "T-2041")
	contains(t, s.get("/?q=44.1000,+-30.5005", 200), "1 job found")
	contains(t, s.get("/?q=45,+-30.5", 200), "0 jobs found")
	contains(t, s.get("/?from=2026-05-13", 200), "0 jobs found")

	// Again with the first tolerance: what changed is told.
	s.post(job+"/runs", url.Values{"revision": {"2"}, "tolerance.half_width": {"18 in"}}, http.StatusSeeOther)
	s.wait(id, 2)
	contains(t, s.get(job+"/changes", 200), "tolerance.half_width", "24 in", "18 in", "on average")
	contains(t, s.get("/overlay?first="+id+"&second="+id, 200), "Compared at", "No difference beyond both bands")

	s.post(job+"/delete", nil, http.StatusSeeOther)
	s.get(job, http.StatusNotFound)
	if kept, left := s.stored(); len(kept)+len(left) > 0 {
		t.Errorf("left behind: %q %q", kept, left)
	}
}

// Every file that a run lists can be taken, alone and in the zip, and holds as
// many bytes as it says.
func TestFiles(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "?run=yes")
	s.wait(job.ID, 1)
	base := fmt.Sprintf("/jobs/%s/runs/1/", job.ID)
	archive := s.get(base+"zip", 200)
	res, err := s.srv.store.Result(job.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(strings.NewReader(archive), int64(len(archive)))
	if err != nil {
		t.Fatal(err)
	}
	inZip := map[string]uint64{}
	for _, f := range z.File {
		inZip[f.Name] = f.UncompressedSize64
	}
	seen := map[string]bool{}
	for _, f := range res.Files {
		seen[f.Key] = true
		resp, text := s.do("GET", base+"files/"+f.Key, "", nil)
		if f.Unmade || f.SHA256 == "" {
			t.Errorf("%s was taken with the zip and is not listed as made: %+v", f.Key, f)
		}
		if resp.StatusCode != 200 || int64(len(text)) != f.Bytes || inZip[f.Name] != uint64(f.Bytes) {
			t.Errorf("%s: %s, %d bytes; %d in the zip; %d said", f.Key, resp.Status, len(text), inZip[f.Name], f.Bytes)
		}
		contains(t, resp.Header.Get("Content-Disposition"), "attachment", f.Name)
		contains(t, resp.Header.Get("Content-Security-Policy"), "sandbox")
	}
	for _, key := range []string{"geojson", "kml", "kmz", "gpkg", "pdf", "html", "gpx", "dxf", "landxml.xml", "shp.zip", "lines.csv", "stakeout.csv", "readings.csv", "records.csv", "cautions.txt", "settings.toml"} {
		if !seen[key] {
			t.Errorf("there is no %s", key)
		}
	}
	for i, f := range lanternRow(t) {
		if n := inZip[fmt.Sprintf("inputs/%d-%s", i+1, f.name)]; n != uint64(len(f.text)) {
			t.Errorf("%s has %d bytes in the zip, handed in were %d", f.name, n, len(f.text))
		}
	}
	if again := s.get(base+"zip", 200); !bytes.Equal([]byte(again), []byte(archive)) {
		t.Error("the same run gives another zip")
	}
	s.get(base+"files/..%2fresult.json", http.StatusNotFound)
	s.get(base+"files/result.json", http.StatusNotFound)
}

const strangeTrace = "Pt,Latitude,Longitude,Depth,Cable\n" +
	"1,44.10000,-30.50000,3.1,A\n2,44.10001,-30.50003,3.2,A\n3,44.10002,-30.50006,3.0,A\n4,44.10003,-30.50009,3.3,A\n5,44.10004,-30.50012,3.1,A\n"

// What the header cannot tell is asked; for the next file with the same header
// the answers are filled in, and asked to be looked at.
func TestAsksAndRemembers(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload([]file{{"trace", "walk.csv", strangeTrace}}, "?run=yes")
	if len(job.Runs) != 0 {
		t.Fatal("a map is made although the columns are not known")
	}
	path := "/jobs/" + job.ID
	page := s.get(path+"/columns", 200)
	contains(t, page, "Depth", "such as 3.1", "latitude, decimal degrees", "Which frame")
	if strings.Contains(page, `value="depth_ft" selected`) || strings.Contains(page, `value="depth_m" selected`) {
		t.Error("a depth without a unit was guessed")
	}
	if _, text := s.post(path+"/runs", url.Values{"revision": {"1"}}, http.StatusConflict); !strings.Contains(text, "what is the column") {
		t.Error(text)
	}
	answers := url.Values{"revision": {"1"}, "column.0.1": {"lat"}, "column.0.2": {"lon"}, "column.0.3": {"depth_ft"}, "column.0.4": {"line"}, "datum": {"unknown"}}
	to, _ := s.post(path+"/columns", answers, http.StatusSeeOther)
	if to != path+"/settings" {
		t.Fatalf("the way leads to %s", to)
	}
	contains(t, s.get(to, 200), "5 rows", "<legend>A</legend>")
	s.post(path+"/runs", url.Values{"revision": {"2"}, "units": {"us"}}, http.StatusSeeOther)
	if run := s.wait(job.ID, 1); run.State != jobs.StateDone {
		t.Fatalf("%+v", run.Problem)
	}
	contains(t, s.get(path+"/runs/1", 200), "Read depth to centre, ")

	next := s.upload([]file{{"trace", "tuesday.csv", strangeTrace}}, "?run=yes")
	if len(next.Runs) != 0 || next.Files[0].Table.Recalled == nil {
		t.Errorf("answers for another file were used unseen: %+v", next.Files[0].Table)
	}
	page = s.get("/jobs/"+next.ID+"/columns", 200)
	contains(t, page, `value="depth_ft" selected`, "still right")
	again := url.Values{"revision": {"1"}, "column.0.1": {"lat"}, "column.0.2": {"lon"}, "column.0.3": {"depth_ft"}, "column.0.4": {"line"}, "datum": {"unknown"}}
	s.post("/jobs/"+next.ID+"/columns", again, http.StatusSeeOther)
	s.post("/jobs/"+next.ID+"/runs", url.Values{"revision": {"2"}}, http.StatusSeeOther)
	if run := s.wait(next.ID, 1); run.State != jobs.StateDone {
		t.Fatalf("%+v", run.Problem)
	}
	contains(t, s.get("/overlay?first="+job.ID+"&second="+next.ID, 200), "Compared at")

	// Answers that contradict each other are refused, and nothing changes.
	answers = url.Values{"revision": {"3"}, "column.0.1": {"lat"}, "column.0.2": {"lat"}}
	_, text := s.post(path+"/columns", answers, http.StatusUnprocessableEntity)
	contains(t, text, "are said to be the same")
}

// Two windows on one job: the one that comes second is told.
func TestTwoTabs(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "")
	path := "/jobs/" + job.ID
	s.post(path+"/runs", url.Values{"revision": {"1"}, "ticket": {"A"}}, http.StatusSeeOther)
	_, text := s.post(path+"/runs", url.Values{"revision": {"1"}, "ticket": {"B"}}, http.StatusConflict)
	contains(t, text, "changed in another window")
	s.wait(job.ID, 1)
	now, _ := s.srv.store.Job(job.ID)
	if len(now.Runs) != 1 || now.Settings.Ticket != "A" {
		t.Errorf("%d runs, ticket %q", len(now.Runs), now.Settings.Ticket)
	}
	s.post(path+"/delete", nil, http.StatusSeeOther)
	s.post(path+"/runs", url.Values{"revision": {"2"}}, http.StatusNotFound)
}

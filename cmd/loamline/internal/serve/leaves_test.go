package serve

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
)

// everything is every file in the folder of jobs with its sum, but for the log
// that notes that somebody asked.
func (s *site) everything() map[string][32]byte {
	s.t.Helper()
	all := map[string][32]byte{}
	err := filepath.WalkDir(s.dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == "audit.jsonl" {
			return err
		}
		b, err := os.ReadFile(path)
		all[strings.TrimPrefix(path, s.dir)] = sha256.Sum256(b)
		return err
	})
	if err != nil {
		s.t.Fatal(err)
	}
	return all
}

// said is everything that the API tells of a job.
func (s *site) said(id string) string { return s.get("/api/v1/jobs/"+id, 200) }

// A request that is refused, whatever is in it, leaves the store byte for byte
// as it was, and what the server tells as well.
func TestRefusedLeavesNoTrace(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload([]file{{"trace", "walk.csv", crowdTrace()}, {"job", "job.toml", crowdJob}}, "?run=yes")
	s.wait(job.ID, 1)
	before, told := s.everything(), s.said(job.ID)
	good := []string{`"ticket":"X-1"`, `"columns":{"note":"Deep2"}`, `"lines":[{"name":"B","utility":"sewer"}]`, `"lines":[{"name":"Z","diameter":"8 in"}]`,
		`"tolerance":{"rule":"other"}`, `"units":"us"`, `"language":"en+es"`, `"references":[]`, `"epoch":2020.5`, `"lines":[{"name":"A","transmitter":[1,2]}]`}
	bad := []string{`"columns":{"depth_ft":"Nowhere"}`, `"columns":{"fathoms":"Deep"}`, `"lines":[{"utility":"gas"}]`, `"lines":null`, `"tickets":"X"`, `"units":"cubits"`, `"language":"latin"`,
		`"lines":[{"name":"A"},{"name":"A"}]`, `"lines":[{"name":"B","colour":"red"}]`, `"epoch":"x"`, `"columns":["depth_m"]`, `"Lines":[{"name":"A","utility":"gas"}]`,
		`"tolerance":{"half_width":"wide"}`, `"lines":[{"name":"A","diameter":"six"}]`, `"crs":"EPSG:1"`, `"date":"tomorrow"`}
	answers := []string{`{"columns":{"walk.csv":{"Deep":"fathoms"}}}`, `{"columns":{"walk.csv":{"Deep":"depth_m","line":"depth_m"}}}`, `{"columns":{"other.csv":{}}}`,
		`{"datum":"Mars"}`, `{"no_depth":["other.csv"]}`, `{"columns":{"walk.csv":{"lat":"-"}},"crs":"EPSG:1"}`, `{"still_right":"yes"}`, `{}{}`, `[]`, `{"columns":{"walk.csv":{"lat":"depth_m"}}}`}
	rapid.Check(t, func(r *rapid.T) {
		path, method, body := "/api/v1/jobs/"+job.ID+"/runs", "POST", ""
		if rapid.IntRange(0, 3).Draw(r, "what") == 0 {
			path, method, body = "/api/v1/jobs/"+job.ID+"/answers", "PUT", rapid.SampledFrom(answers).Draw(r, "answer")
		} else {
			parts := rapid.SliceOfNDistinct(rapid.SampledFrom(good), 0, 4, rapid.ID).Draw(r, "good")
			at := rapid.IntRange(0, len(parts)).Draw(r, "at")
			body = "{" + strings.Join(slices.Insert(slices.Clone(parts), at, rapid.SampledFrom(bad).Draw(r, "bad")), ",") + "}"
			if strings.Count(body, `"lines":[`) > 1 || strings.Count(body, `"columns"`) > 1 || strings.Count(body, `"lines"`) > 1 || strings.Count(body, `"units"`) > 1 || strings.Count(body, `"language"`) > 1 ||
				strings.Count(body, `"epoch"`) > 1 || strings.Count(body, `"tolerance"`) > 1 {
				r.Skip() // the last of equal keys counts, and the bad one need not be last
			}
		}
		resp, text := s.do(method, path, "application/json", []byte(body))
		if resp.StatusCode < 400 || resp.StatusCode >= 500 {
			r.Fatalf("%s: %s: %.300s", body, resp.Status, text)
		}
		if now := s.everything(); !maps.Equal(before, now) {
			r.Fatalf("%s was refused and changed the store", body)
		}
		if now := s.said(job.ID); now != told {
			r.Fatalf("%s was refused and changed what is told:\n%s\n%s", body, told, now)
		}
	})
}

// What a request says about one line goes to that line, and earlier runs keep
// their settings.
func TestListsMergeByName(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload([]file{{"trace", "walk.csv", crowdTrace()}, {"job", "job.toml", crowdJob}}, "?run=yes")
	s.wait(job.ID, 1)
	first, _ := s.srv.store.Job(job.ID)
	kept := fmt.Sprintf("%+v", first.Runs[0].Settings)
	s.api("POST", "/api/v1/jobs/"+job.ID+"/runs", `{"lines":[{"name":"B","material":"PE"},{"name":"C"}],"tolerance":{"rule":"R"}}`, 202)
	s.wait(job.ID, 2)
	s.api("POST", "/api/v1/jobs/"+job.ID+"/runs", `{"lines":[{"name":"A","transmitter":[1,2]}],"columns":{"note":"Deep2"}}`, 422)
	now, _ := s.srv.store.Job(job.ID)
	if fmt.Sprintf("%+v", now.Runs[0].Settings) != kept {
		t.Errorf("an earlier run's settings were rewritten:\n%s\n%+v", kept, now.Runs[0].Settings)
	}
	want := []jobfile.LineSettings{{Name: "A", Utility: "water", Diameter: "6 in", Transmitter: []float64{-30.5, 44.1}}, {Name: "B", Utility: "gas", Material: "PE"}, {Name: "C"}}
	a, _ := json.Marshal(want)
	b, _ := json.Marshal(now.Settings.Lines)
	if string(a) != string(b) {
		t.Errorf("the lines are\n%s, not\n%s", b, a)
	}
	if now.Settings.Tolerance.HalfWidth != "18 in" {
		t.Errorf("%+v", now.Settings.Tolerance)
	}
}

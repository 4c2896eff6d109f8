package serve

import (
	"encoding/json"
	"regexp"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// While a map is made both the API and the page, which needs no script for it, say
// about how long that may still take.
func TestTimeLeftIsTold(t *testing.T) {
	s := newSite(t, func(o *Options) { o.Maker.AtOnce = 1 })
	first := s.upload([]file{{"trace", "walk.csv", crowdTrace()}, {"job", "job.toml", crowdJob}}, "?run=yes")
	s.wait(first.ID, 1)
	long := s.upload([]file{{"trace", "many.csv", manyRows(40_000)}, {"job", "j.toml", "datum = \"WGS84\"\n"}}, "?run=yes")
	next := s.upload([]file{{"trace", "walk.csv", crowdTrace()}, {"job", "job.toml", crowdJob}}, "?run=yes")
	said := func(id string) (left int, page string) {
		t.Helper()
		var run struct{ Progress jobs.Progress }
		if err := json.Unmarshal([]byte(s.get("/api/v1/jobs/"+id+"/runs/1", 200)), &run); err != nil {
			t.Fatal(err)
		}
		return run.Progress.SecondsLeft, s.get("/jobs/"+id+"/runs/1", 200)
	}
	words := regexp.MustCompile(`data-stage role="status">[^<]*, about [1-9][0-9]* (s|min) left</label>`)
	for what, id := range map[string]string{"under way": long.ID, "waiting": next.ID} {
		if left, page := said(id); left < 1 || !words.MatchString(page) {
			t.Errorf("%s: %d s are left by the API, and the page says %q", what, left, regexp.MustCompile(`data-stage[^<]*`).FindString(page))
		}
	}
	s.api("POST", "/api/v1/jobs/"+long.ID+"/runs/1/cancel", "", 204)
	if r := s.wait(long.ID, 1); r.State != jobs.StateCancelled {
		t.Errorf("it was %s before it was looked at: this test shows nothing", r.State)
	}
	for seconds, want := range map[int]string{1: "about 5 s left", 5: "about 5 s left", 61: "about 65 s left", 90: "about 2 min left", 600: "about 10 min left"} {
		if got := timeLeftWords(seconds); got != want {
			t.Errorf("%d s: %s", seconds, got)
		}
	}
}

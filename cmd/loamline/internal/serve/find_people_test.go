package serve

import (
	"strings"
	"testing"
)

// Where others' jobs are hidden, nothing that finds jobs tells of them: not the
// list, not the plan, not the choice of maps to compare, not by their place.
func TestFindingHidesOthers(t *testing.T) {
	s := crowdOfThree(t, true)
	job := s.uploadAs("ada", lanternRow(t))
	s.wait(job.ID, 1)
	for _, path := range []string{"/", "/?q=tern+lane", "/?q=44.1000,+-30.5005", "/plan", "/plan?bbox=-30.6,44,-30.4,44.2", "/overlay", "/overlay?first=" + job.ID, "/api/v1/jobs?utility=water"} {
		for who, sees := range map[string]bool{"ada": true, "ben": true, "cleo": false} {
			if path == "/overlay?first="+job.ID && sees {
				continue // it is chosen already
			}
			resp, text := s.as(who, "GET", path, nil)
			text = strings.ReplaceAll(text, "T-2041, or 44.10", "") // the search's own example
			if resp.StatusCode != 200 || strings.Contains(text, "T-2041") != sees {
				t.Errorf("%s, %s: %s, told of is %v", who, path, resp.Status, !sees)
			}
		}
	}
	// Its place helps nobody to a reference system who may not see it.
	_, mine := s.as("ada", "GET", "/api/v1/systems?q=utm+wgs&job="+job.ID, nil)
	_, theirs := s.as("cleo", "GET", "/api/v1/systems?q=utm+wgs&job="+job.ID, nil)
	_, nobodys := s.as("cleo", "GET", "/api/v1/systems?q=utm+wgs", nil)
	if mine == theirs || theirs != nobodys {
		t.Error("the systems tell where a hidden job is")
	}
}

package member

import (
	"encoding/json"
	"strings"
	"testing"

	"loamline.example/trace"
)

// What a job states of fixed features and of its outputs travels with the map; a
// job that states nothing has no such keys.
func TestSettingsHoldFeaturesAndOutput(t *testing.T) {
	j := trace.DefaultJob()
	plain, err := json.Marshal(settingsOf(j))
	if err != nil || strings.Contains(string(plain), "feature") || strings.Contains(string(plain), "output") {
		t.Errorf("%s, %v", plain, err)
	}
	j.Features = []trace.FixedFeature{{Name: "pole 4", X: 299912.25, Y: 4886012, Grid: true}}
	j.Sheets, j.PageURL = "crew", "https://maps.example/a.html"
	said, err := json.Marshal(settingsOf(j))
	for _, want := range []string{`"feature":[{"name":"pole 4","position":[299912.25,4886012`, `"output":{"sheets":"crew","page_url":"https://maps.example/a.html"}`} {
		if err != nil || !strings.Contains(string(said), want) {
			t.Errorf("no %s in %s, %v", want, said, err)
		}
	}
}

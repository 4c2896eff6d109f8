package export

import (
	"encoding/json"
	"reflect"
	"testing"

	"loamline/trace"
)

// What a map rests on stands in it: every setting of a job is told, under the
// job file's key. The folder of the job file is the machine's business.
func TestMemberTellsEverySetting(t *testing.T) {
	text, err := json.Marshal(settingsOf(trace.Job{ID: "main 9", VerticalDatum: "NAVD88", GNSSOffsetS: 18}))
	if err != nil {
		t.Fatal(err)
	}
	var told map[string]any
	if err := json.Unmarshal(text, &told); err != nil {
		t.Fatal(err)
	}
	if told["job_id"] != "main 9" || told["vertical_datum"] != "NAVD88" || told["gnss_offset_s"] != 18.0 {
		t.Errorf("got %s", text)
	}
	if n := reflect.TypeFor[trace.Job]().NumField() - 1; len(told) != n {
		t.Errorf("%d of %d settings are told: %s", len(told), n, text)
	}
}

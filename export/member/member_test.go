package member

import (
	"encoding/json"
	"reflect"
	"testing"

	"loamline.example/trace"
)

// What a map rests on stands in it: every setting of a job is told, under the
// job file's key. The folder of the job file is the machine's business.
func TestMemberTellsEverySetting(t *testing.T) {
	text, err := json.Marshal(settingsOf(trace.Job{ID: "main 9", OutputCRS: "EPSG:2229", VerticalDatum: "NAVD88", GNSSOffsetS: 18,
		Features: []trace.FixedFeature{{Name: "pole 4"}}, Underlay: trace.UnderlaySetup{File: "plans/a.tif"}, Language: "es", Contact: trace.Contact{Owner: "Tern Lane Water"}, Sheets: trace.SheetsCrew, PageURL: "https://maps.example/"}))
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
	output, _ := told["output"].(map[string]any)
	if n, got := reflect.TypeFor[trace.Job]().NumField()-1, len(told)-1+len(output); got != n {
		t.Errorf("%d of %d settings are told: %s", got, n, text)
	}
}

// Advice about a whole line has no stations: null, and never a number.
func TestStationsThatAreNotKnownAreNull(t *testing.T) {
	text, err := json.Marshal(adviceOf(&trace.Sheet{Advice: []trace.Advice{
		{Line: "W-1", FromM: trace.Unknown, ToM: trace.Unknown}, {Line: "W-1", FromM: 1.2344, ToM: 2.0006}}}))
	if err != nil {
		t.Fatal(err)
	}
	const want = `[{"line":"W-1","from_m":null,"to_m":null,"kind":"","words":""},{"line":"W-1","from_m":1.234,"to_m":2.001,"kind":"","words":""}]`
	if string(text) != want {
		t.Errorf("got %s", text)
	}
}

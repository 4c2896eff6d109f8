package serve

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// What must still be said is told for programs: what it is about, of which file and
// column, and what is stated or remembered of it. With that alone a program answers,
// and what is refused for it says the same.
func TestQuestionsAreForMachines(t *testing.T) {
	s := newSite(t, nil)
	asked := func(text string) []jobs.Question {
		t.Helper()
		var v struct{ Questions []jobs.Question }
		if err := json.Unmarshal([]byte(text), &v); err != nil {
			t.Fatal(err)
		}
		for i := range v.Questions {
			if v.Questions[i].Words == "" {
				t.Errorf("%+v has no words", v.Questions[i])
			}
			v.Questions[i].Words = ""
		}
		return v.Questions
	}
	of := func(job jobs.Job) []jobs.Question { return asked(s.api("GET", "/api/v1/jobs/"+job.ID, "", 200)) }
	column := func(name string) jobs.Question { return jobs.Question{About: "column", File: "walk.csv", Column: name} }

	first := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}}, "")
	want := []jobs.Question{column("Latitude"), column("Longitude"), column("Depth"), {About: "position", File: "walk.csv"}, {About: "datum"}}
	if got := of(first); !slices.Equal(got, want) {
		t.Fatalf("asked is %+v, not %+v", got, want)
	}
	refused := s.api("POST", "/api/v1/jobs/"+first.ID+"/runs", "", 409)
	contains(t, refused, `"problems":[{"file":"walk.csv","field":"column","value":"Latitude"`, `"field":"datum","cause":"Which datum`)
	columns := map[string]string{}
	for _, q := range of(first) {
		if q.About == "column" {
			columns[q.Column] = map[string]string{"Depth": "depth_m", "Latitude": "lat", "Longitude": "lon"}[q.Column]
		}
	}
	body, err := json.Marshal(map[string]any{"columns": map[string]any{"walk.csv": columns}, "datum": "NAD83(2011)"})
	if err != nil {
		t.Fatal(err)
	}
	if got := asked(s.api("PUT", "/api/v1/jobs/"+first.ID+"/answers", string(body), 200)); len(got) > 0 {
		t.Errorf("everything was answered, and asked is %+v", got)
	}

	// Of the next file what was remembered is told, and what a job file states against it.
	second := s.upload([]file{{"trace", "walk.csv", walkAt(44.1, -71.5)}, {"job", "j.toml", "datum = \"NAD83(2011)\"\n[columns]\ndepth_ft = \"Depth\"\nlat = \"Latitude\"\nlon = \"Longitude\"\n"}}, "")
	depth := column("Depth")
	depth.Stated, depth.Remembered = "depth_ft", "depth_m"
	if got := of(second); !slices.Contains(got, depth) {
		t.Errorf("%+v is not among %+v", depth, got)
	}

	rows := func(head, row string) []file {
		text := head + "\n"
		for i := range 5 {
			text += fmt.Sprintf(row+"\n", i)
		}
		return []file{{"trace", "walk.csv", text}}
	}
	for name, c := range map[string]struct {
		files []file
		want  jobs.Question
	}{
		"no depth":    {rows("lat,lon,Tiefe", "50.1000%d,8.6,1"), jobs.Question{About: "depth", File: "walk.csv"}},
		"no position": {rows("a,b,depth_m", "50.1000%d,8.6,1"), jobs.Question{About: "position", File: "walk.csv"}},
		"no system":   {rows("east_m,north_m,depth_m", "30000%d,4885000,1"), jobs.Question{About: "crs"}},
	} {
		if got := of(s.upload(c.files, "")); !slices.Contains(got, c.want) {
			t.Errorf("%s: asked is %+v", name, got)
		}
	}
}

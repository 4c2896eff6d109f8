package serve

import (
	"net/http"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
)

// systemsView is a reference system as the form has it, with others to choose
// from where words were typed and no number.
type systemsView struct {
	Field, ID string
	Label     string
	Typed     string
	Named     *whereabouts.System  // what is typed, if it is a number
	Found     []whereabouts.System // what may be meant by words
	More      bool
	Near      bool // only those of the job's place
	Job       string
	Empty     string // what an empty field means
	Wrong     string
}

// systemOf looks up what was typed as a reference system: a number is shown by
// its name, words by the systems that they fit. Nothing is ever taken for
// anybody: one of them is chosen, or typed as a number.
func systemOf(job jobs.Job, field, id, label, typed, empty, wrong string) systemsView {
	v := systemsView{Field: field, ID: id, Label: label, Typed: typed, Job: job.ID, Empty: empty, Wrong: wrong}
	if strings.TrimSpace(typed) == "" {
		return v
	}
	if v.Named = whereabouts.SystemNamed(typed); v.Named != nil {
		return v
	}
	near := job.Where()
	v.Found, v.More = whereabouts.FindSystems(typed, near)
	v.Near = near != nil
	if len(v.Found) == 0 && near != nil {
		v.Found, v.More = whereabouts.FindSystems(typed, nil)
		v.Near = false
	}
	if len(v.Found) > 0 {
		v.Wrong = "choose which one is meant"
	}
	return v
}

// plainSystems says in words of the page what is wrong with reference systems
// that were typed by their name: those of the library speak of numbers alone.
func plainSystems(job jobs.Job, problems []problem.Problem, typed func(field string) string) []problem.Problem {
	out := make([]problem.Problem, len(problems))
	for i, p := range problems {
		if out[i] = p; p.Field != "crs" && p.Field != "output.crs" {
			continue
		}
		text := strings.TrimSpace(typed(p.Field))
		v := systemOf(job, p.Field, "", "", text, "", "")
		switch {
		case text == "":
			out[i].Cause, out[i].Hint = "the reference system is not stated", "type its name, its place or its EPSG number"
		case len(v.Found) > 0:
			out[i].Cause, out[i].Hint = "“"+text+"” is not the number of a reference system", "choose below which system is meant"
		case v.Named == nil && !strings.Contains(text, ":"):
			out[i].Cause, out[i].Hint = "no reference system is known that fits “"+text+"”", "try fewer words, the name of the place, or the EPSG number"
		}
	}
	return out
}

// apiSystems finds reference systems by name, place or number.
func (s *Server) apiSystems(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query()
	var near *whereabouts.Place
	if id := q.Get("job"); jobs.ValidID(id) {
		if job, err := s.store.Job(id); err == nil && s.sees(door.Of(r), &job) {
			near = job.Where()
		}
	}
	found, more := whereabouts.FindSystems(q.Get("q"), near)
	if len(found) == 0 && near != nil {
		found, more = whereabouts.FindSystems(q.Get("q"), nil)
	}
	if found == nil {
		found = []whereabouts.System{}
	}
	answer(w, http.StatusOK, struct {
		Systems []whereabouts.System `json:"systems"`
		More    bool                 `json:"more"`
	}{found, more})
}

package serve

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/settingsform"
	"loamline.example/export/style"
	"loamline.example/geo"
	"loamline.example/trace"
)

type settingsView struct {
	Job       jobs.Job
	Title     string
	Set       jobfile.Settings
	Known     []fileView
	Questions []string
	Datums    []string
	Utilities []utilityChoice
	Hookups   []trace.Hookup
	Default   jobfile.Settings
	Problems  []problem.Problem
	Lines     linesView
	Changed   bool              // by somebody else, since the form was made
	Given     map[string]string // the form's fields as they were typed
	Again     bool
	Layers    []jobs.InputFile // what is beside the tables
	Features  []settingsform.FeatureRow
	Roles     []utilityChoice
	Sheets    []utilityChoice
	Languages []utilityChoice
	DateFrom  string // why the day is filled in
}

type utilityChoice struct{ Name, Words string }

func utilityChoices() []utilityChoice {
	var out []utilityChoice
	for _, u := range trace.Utilities() {
		st := style.Of(u)
		out = append(out, utilityChoice{string(u), st.Name})
	}
	return out
}

// Figure is a number as it was typed, else as it is; nothing where it is not
// said.
func (v settingsView) Figure(field string, is float64) string {
	if typed, ok := v.Given[field]; ok {
		return typed
	}
	if is == 0 {
		return ""
	}
	return strconv.FormatFloat(is, 'f', -1, 64)
}

// Text is a text as it was typed, else as it is.
func (v settingsView) Text(field, is string) string {
	if typed, ok := v.Given[field]; ok {
		return typed
	}
	return is
}

// System is a field for a reference system.
func (v settingsView) System(field, id, label, is, empty string) systemsView {
	return systemOf(v.Job, field, id, label, v.Text(field, is), empty, v.Wrong(field))
}

// More reports whether something in the folded part must be looked at or was
// filled in.
func (v settingsView) More() bool {
	for _, p := range v.Problems {
		for _, at := range []string{"job_id", "output", "reference", "feature"} {
			if strings.HasPrefix(p.Field, at) {
				return true
			}
		}
	}
	return false
}

// Wrong is what must be put right in a field, in words.
func (v settingsView) Wrong(field string) string {
	for _, p := range v.Problems {
		if p.Field == field {
			return strings.TrimSuffix(p.Cause+"; "+p.Hint, "; ")
		}
	}
	return ""
}

func (s *Server) settingsView(job jobs.Job, set jobfile.Settings) settingsView {
	v := settingsView{Job: job, Title: titleOf(job), Set: set.WithLines(job.LineNames), Known: columnsOf(job, nothingGiven), Questions: job.Questions(),
		Datums: geo.DatumNames(), Utilities: utilityChoices(), Default: s.store.Default(), Again: job.Latest() != nil,
		Hookups: []trace.Hookup{trace.HookupDirect, trace.HookupClamp, trace.HookupInduction, trace.HookupPassive}}
	for _, f := range job.Files {
		if f.Table == nil {
			v.Layers = append(v.Layers, f)
		}
	}
	v.Lines = linesOf(v.Set.Lines, "", 0)
	v.Features, v.Roles, v.Sheets, v.Languages = settingsform.FeatureRows(v.Set.Features), roleChoices(), sheetChoices(), languageChoices()
	first, last := job.TraceDays()
	switch {
	case v.Set.Date == "" && first != "" && first == last && job.Latest() == nil:
		v.Set.Date, v.DateFrom = first, "From the readings: check it."
	case v.Set.Date == "" && first != last:
		v.DateFrom = "The readings are from " + first + " to " + last + "."
	case first != "" && (v.Set.Date < first || v.Set.Date > last):
		v.DateFrom = "The readings say " + strings.TrimSuffix(first+" to "+last, " to "+first) + "."
	}
	return v
}

func (s *Server) pageSettings(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	v := s.settingsView(job, job.Settings)
	v.page(r)
	s.show(w, r, http.StatusOK, "settings", "Settings", v)
}

// page shows the lines that the address asks for.
func (v *settingsView) page(r *http.Request) {
	from, _ := strconv.Atoi(r.URL.Query().Get("from"))
	v.Lines = linesOf(v.Set.Lines, r.URL.Query().Get("find"), from)
}

// pageAsk takes the settings in and has the map made.
func (s *Server) pageAsk(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	if err := r.ParseForm(); err != nil {
		s.failError(w, r, formError(err))
		return
	}
	set, problems := settingsform.Read(r.PostForm, job.Settings.WithLines(job.LineNames))
	var err error
	if problems = allProblems(problems, set); len(problems) > 0 {
		err = &problem.Refused{Problems: problems}
	} else {
		var now jobs.Job
		if now, err = s.maker.Ask(r.Context(), job.ID, revisionOf(r), set); err == nil {
			http.Redirect(w, r, runPath(now, now.Latest().Number), http.StatusSeeOther)
			return
		}
	}
	s.settingsAgain(w, r, job, set, err)
}

// allProblems are what could not be read of a form and what is wrong with the
// rest of it, each field once.
func allProblems(unread []problem.Problem, set jobfile.Settings) []problem.Problem {
	seen := map[string]bool{}
	for _, p := range unread {
		seen[p.Field] = true
	}
	for _, p := range set.Wrong() {
		if !seen[p.Field] {
			unread = append(unread, p)
		}
	}
	return unread
}

// settingsAgain shows the form as it was typed with what must be put right.
func (s *Server) settingsAgain(w http.ResponseWriter, r *http.Request, job jobs.Job, set jobfile.Settings, err error) {
	refused, changed, status, other := s.again(&job, err)
	switch {
	case errors.As(err, new(*jobs.NotReady)):
		status = http.StatusConflict
	case other != nil:
		s.failError(w, r, other)
		return
	}
	if changed {
		set, _ = settingsform.Read(r.PostForm, job.Settings.WithLines(job.LineNames))
	}
	v := s.settingsView(job, set)
	v.Changed, v.Given = changed, typed(r)
	v.page(r)
	if date, ok := v.Given["date"]; ok {
		v.Set.Date = date // an empty one was emptied
	}
	if refused != nil {
		v.Problems = plainSystems(job, refused.Problems, r.PostForm.Get)
	}
	s.show(w, r, status, "settings", "Settings", v)
}

// pageKeep keeps what was typed and leads to the columns.
func (s *Server) pageKeep(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	if err := r.ParseForm(); err != nil {
		s.failError(w, r, formError(err))
		return
	}
	set, problems := settingsform.Read(r.PostForm, job.Settings.WithLines(job.LineNames))
	var err error
	if problems = allProblems(problems, set); len(problems) > 0 {
		err = &problem.Refused{Problems: problems}
	} else if _, err = s.store.Keep(job.ID, revisionOf(r), set); err == nil {
		to := "/jobs/" + job.ID + "/columns"
		if r.PostForm.Has("find") && r.URL.Query().Has("lines") {
			from := r.URL.Query().Get("lines")
			to = "/jobs/" + job.ID + "/settings?" + url.Values{"from": {from}, "find": {strings.TrimSpace(r.PostForm.Get("find"))}}.Encode() + "#lines"
		}
		http.Redirect(w, r, to, http.StatusSeeOther)
		return
	}
	s.settingsAgain(w, r, job, set, err)
}

package serve

import (
	"errors"
	"net/http"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/tables"
	"loamline.example/geo"
)

type columnsView struct {
	Job      jobs.Job
	Title    string
	Files    []fileView
	Groups   []choiceGroup
	Datums   []string
	DatumWas *tables.Remembered // on an earlier job with such a file
	AskDatum bool
	AskCRS   bool
	Datum    string // as the form held them
	CRS      string
	System   systemsView
	Changed  bool // by somebody else, since the form was made
	Problems []problem.Problem
}

// fileView is a readings table with what is asked about it.
type fileView struct {
	jobs.InputFile
	Index  int
	Asked  []columnAsk // what must be said
	Depths []columnAsk // which of these is the depth, where nobody knows
	Depth  string      // the choice made
	Others []columnAsk // what may be said
	Known  []tables.ColumnView
}

// columnsOnPage is how many columns have a list of their own to choose from: of
// more, what they are is written, with one list of names for all, so that a table
// of a thousand columns is still a small page.
const columnsOnPage = 40

// Many reports whether a table has more columns than that.
func (v fileView) Many() bool { return len(v.Table.Columns) > columnsOnPage }

type columnAsk struct {
	tables.ColumnView
	Index  int    // among the columns of its file
	Field  string // of the form
	Chosen string
}

type choiceGroup struct {
	Name    string
	Choices []tables.ColumnChoice
}

func choiceGroups() []choiceGroup {
	var out []choiceGroup
	for _, c := range tables.ColumnChoices() {
		if len(out) == 0 || out[len(out)-1].Name != c.Group {
			out = append(out, choiceGroup{Name: c.Group})
		}
		out[len(out)-1].Choices = append(out[len(out)-1].Choices, c)
	}
	return out
}

func fieldOf(file, column int) string {
	return "column." + strconv.Itoa(file) + "." + strconv.Itoa(column)
}

// columnsOf sorts the columns of a job's tables by what there is to say. given
// is what the form held when it was refused.
func columnsOf(job jobs.Job, given func(field string) (string, bool)) []fileView {
	var out []fileView
	for i, f := range job.Files {
		if f.Table == nil {
			continue
		}
		v := fileView{InputFile: f, Index: i}
		for k, c := range f.Table.Columns {
			ask := columnAsk{ColumnView: c, Index: k, Field: fieldOf(i, k), Chosen: firstOf(c.Guess, c.Name, c.Recalled)}
			if c.Doubt != "" {
				ask.Chosen = "" // it is the very thing in doubt
			}
			answer, answered := f.Table.Answers[c.Header]
			if answered {
				ask.Chosen = answer
			}
			if g, ok := given(ask.Field); ok {
				ask.Chosen = g
			}
			switch {
			case c.Ask || f.Table.Rows == 0 && c.Name == "" && c.Header != "" && !v.Many():
				v.Asked = append(v.Asked, ask)
			case c.Name != "" && !answered:
				v.Known = append(v.Known, c)
			case c.Header != "":
				v.Others = append(v.Others, ask)
				if f.Table.AskDepth && !answered && !v.Many() {
					v.Depths = append(v.Depths, ask)
				}
			}
		}
		v.Depth, _ = given(depthField(i))
		out = append(out, v)
	}
	return out
}

// depthField is where the form says which column of a file is the depth.
func depthField(file int) string { return "depth." + strconv.Itoa(file) }

func firstOf(all ...string) string {
	for _, s := range all {
		if s != "" {
			return s
		}
	}
	return ""
}

func (s *Server) columnsView(job jobs.Job, given func(string) (string, bool)) columnsView {
	v := columnsView{Job: job, Title: titleOf(job), Files: columnsOf(job, given), Groups: choiceGroups(), Datums: geo.DatumNames(),
		AskDatum: !job.DatumSaid && !job.Projected(), AskCRS: job.NeedsCRS()}
	for _, f := range job.Files {
		if f.Table != nil && f.Table.Recalled != nil && f.Table.Recalled.DatumSaid {
			v.DatumWas = f.Table.Recalled
		}
	}
	v.Datum, _ = given("datum")
	v.CRS, _ = given("crs")
	v.System = systemOf(job, "crs", "crs", "Which reference system are the eastings and northings in?", v.CRS, "", "")
	return v
}

func nothingGiven(string) (string, bool) { return "", false }

func (s *Server) pageColumns(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	s.show(w, r, http.StatusOK, "columns", "How the files were read", s.columnsView(job, nothingGiven))
}

// pageSayColumns takes the answers in.
func (s *Server) pageSayColumns(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	if err := r.ParseForm(); err != nil {
		s.failError(w, r, formError(err))
		return
	}
	answer := answerOf(job, r)
	_, err := s.store.Say(r.Context(), job.ID, revisionOf(r), answer)
	if err != nil {
		s.columnsAgain(w, r, job, err)
		return
	}
	to := "/jobs/" + job.ID + "/settings"
	if now, err := s.store.Job(job.ID); err == nil && len(now.Questions()) > 0 {
		to = "/jobs/" + job.ID + "/columns"
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
}

// columnsAgain shows the form as it was filled in with what must be put right.
func (s *Server) columnsAgain(w http.ResponseWriter, r *http.Request, job jobs.Job, err error) {
	refused, changed, status, err := s.again(&job, err)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	v := s.columnsView(job, func(field string) (string, bool) { return r.PostForm.Get(field), r.PostForm.Has(field) })
	if v.Changed = changed; refused != nil {
		v.Problems = plainSystems(job, refused.Problems, r.PostForm.Get)
		for i, p := range v.Problems {
			if p.Field != "crs" {
				continue
			}
			v.Problems[i].Field = ""
			if v.System.Wrong == "" {
				v.System.Wrong = p.Cause
			}
		}
	}
	s.show(w, r, status, "columns", "How the files were read", v)
}

// answerOf reads the form by the job's own columns: names in the form are of no
// account.
func answerOf(job jobs.Job, r *http.Request) jobs.Answer {
	a := jobs.Answer{Columns: map[string]map[string]string{}}
	for i, f := range job.Files {
		if f.Table == nil {
			continue
		}
		said := map[string]string{}
		for k, c := range f.Table.Columns {
			if field := fieldOf(i, k); r.PostForm.Has(field) {
				said[c.Header] = r.PostForm.Get(field)
			}
		}
		if d := r.PostForm.Get(depthField(i)); d == "none" {
			a.NoDepth = append(a.NoDepth, f.Name)
		} else if k, name, ok := strings.Cut(d, " "); ok {
			if n, err := strconv.Atoi(k); err == nil && n >= 0 && n < len(f.Table.Columns) {
				said[f.Table.Columns[n].Header] = name
			}
		}
		a.Columns[f.Name] = said
	}
	if r.PostForm.Has("datum") && r.PostForm.Get("datum") != "ask" {
		d := strings.TrimPrefix(r.PostForm.Get("datum"), "unknown")
		a.Datum = &d
	}
	if r.PostForm.Has("crs") {
		c := strings.TrimSpace(r.PostForm.Get("crs"))
		a.CRS = &c
	}
	return a
}

// formError words a form that cannot be read.
func formError(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return err
	}
	return &badUpload{err}
}

// revisionOf is the state of the job that the form was made from; a form that
// does not say it changes nothing.
func revisionOf(r *http.Request) int {
	n, err := strconv.Atoi(r.PostFormValue("revision"))
	if err != nil || n <= 0 {
		return -1
	}
	return n
}

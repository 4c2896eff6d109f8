package serve

import (
	"fmt"
	"io"
	"mime"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"time"

	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/report"
)

type runView struct {
	Job      jobs.Job
	Title    string
	Run      jobs.Run
	Path     string
	Progress jobs.Progress
	Result   *report.Result
	HasMap   bool
	Before   *jobs.Run
	Later    *jobs.Run // a run after the one shown, done or not
	Looks    []lookRow
	Crew     *jobs.CrewLink // the page is shown by such a link
	Theirs   bool           // the job is somebody else's, to be looked at
}

// lookRow is a finding that needs a person's eye, with its line.
type lookRow struct {
	Line string
	report.FindingResult
}

func (s *Server) pageRun(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	v := runView{Job: job, Title: titleOf(job), Run: run, Path: runPath(job, run.Number), Before: job.DoneBefore(run.Number)}
	if run.State != jobs.StateDone {
		p, err := s.maker.Progress(job.ID, run.Number)
		if err != nil {
			s.failError(w, r, err)
			return
		}
		if p.State == jobs.StateDone { // in the meantime
			http.Redirect(w, r, v.Path, http.StatusSeeOther)
			return
		}
		v.Progress = p
		s.show(w, r, http.StatusOK, "progress", "Making the map of "+v.Title, v)
		return
	}
	if last := job.Latest(); last.Number != run.Number {
		v.Later = last
		if newer := job.LatestDone(); newer.Number > run.Number {
			v.Later = newer
		}
	}
	v.Theirs = !door.Of(r).Owns(job.Owner, job.Group)
	s.showResult(w, r, v)
}

// showResult shows a finished run.
func (s *Server) showResult(w http.ResponseWriter, r *http.Request, v runView) {
	var err error
	if v.Result, err = s.store.Result(v.Job.ID, v.Run.Number); err != nil {
		s.failError(w, r, err)
		return
	}
	for _, f := range v.Result.Files {
		v.HasMap = v.HasMap || f.Key == "html"
	}
	for _, l := range v.Result.Lines {
		for _, f := range l.Findings {
			if f.Look {
				v.Looks = append(v.Looks, lookRow{l.Name, f})
			}
		}
	}
	s.show(w, r, http.StatusOK, "result", "Map of "+v.Title, v)
}

func (s *Server) pageCancel(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	if err := s.maker.Cancel(job.ID, run.Number); err != nil {
		s.failError(w, r, err)
		return
	}
	// The fit stops at its next chance; the page shows what it came to.
	for end := time.Now().Add(2 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if p, err := s.maker.Progress(job.ID, run.Number); err != nil || p.State != jobs.StateRunning {
			break
		}
	}
	http.Redirect(w, r, runPath(job, run.Number), http.StatusSeeOther)
}

// pageDeleteRun removes one run and leads to what is left of the job.
func (s *Server) pageDeleteRun(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	if _, err := s.store.DeleteRun(job.ID, run.Number); err != nil {
		s.failError(w, r, err)
		return
	}
	http.Redirect(w, r, "/jobs/"+job.ID, http.StatusSeeOther)
}

// metaPolicy finds the policy that the page of the map carries in itself.
var metaPolicy = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">`)

// pageMap serves the page of the map for a frame on this server. Its own policy,
// by the hashes of its one script and style, takes the place of ours.
func (s *Server) pageMap(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	_, f, err := s.store.Output(r.Context(), job.ID, run.Number, "html")
	if err != nil {
		s.failError(w, r, err)
		return
	}
	defer f.Close()
	text, err := io.ReadAll(f)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	own := "default-src 'none'"
	if m := metaPolicy.FindSubmatch(text[:min(len(text), 8<<10)]); m != nil {
		own = strings.NewReplacer("&#39;", "'", "&#43;", "+", "&amp;", "&", "&#34;", `"`).Replace(string(m[1]))
	}
	w.Header().Set("Content-Security-Policy", own+"; frame-ancestors 'self'")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(text)
}

// sendOutput sends one file of a run to be saved.
func (s *Server) sendOutput(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	o, f, err := s.store.Output(r.Context(), job.ID, run.Number, r.PathValue("key"))
	if err != nil {
		s.failError(w, r, err)
		return
	}
	defer f.Close()
	attach(w, o.Name, contentType(o.Key))
	w.Header().Set("Content-Length", strconv.FormatInt(o.Bytes, 10))
	if _, err := io.Copy(w, f); err != nil {
		s.opt.Log.Error("a file was not sent whole", "job", job.ID, "run", run.Number, "file", o.Key, "error", err)
		panic(http.ErrAbortHandler) // so that nobody takes half a file for a whole one
	}
}

// sendInput sends a file as it was handed in. It may be anything: the browser saves
// it and shows nothing of it.
func (s *Server) sendInput(w http.ResponseWriter, r *http.Request, job jobs.Job) {
	number, err := strconv.Atoi(r.PathValue("input"))
	if err != nil {
		number = 0
	}
	in, f, err := s.store.Input(r.Context(), job.ID, number)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	defer f.Close()
	attach(w, in.Name, "application/octet-stream")
	w.Header().Set("Content-Length", strconv.FormatInt(in.Bytes, 10))
	if _, err := io.Copy(w, f); err != nil {
		s.opt.Log.Error("a file was not sent whole", "job", job.ID, "input", number, "error", err)
		panic(http.ErrAbortHandler)
	}
}

// sendZip sends everything of a run.
func (s *Server) sendZip(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	if run.State != jobs.StateDone {
		s.failError(w, r, jobs.ErrNoRun)
		return
	}
	begun := false
	begin := func() { begun = true; attach(w, job.Name+".zip", "application/zip") }
	if err := s.store.Zip(r.Context(), w, job.ID, run.Number, begin); err != nil {
		if !begun {
			s.failError(w, r, err)
			return
		}
		s.opt.Log.Error("a zip was not sent whole", "job", job.ID, "error", err)
		panic(http.ErrAbortHandler) // so that nobody takes half an archive for a whole one
	}
}

// attach makes a browser save an answer and never show it as a page of ours.
func attach(w http.ResponseWriter, name, kind string) {
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Security-Policy", "default-src 'none'; sandbox")
}

func contentType(key string) string {
	switch key[strings.LastIndexByte(key, '.')+1:] {
	case "geojson":
		return "application/geo+json"
	case "kml":
		return "application/vnd.google-earth.kml+xml"
	case "gpkg":
		return "application/geopackage+sqlite3"
	case "pdf":
		return "application/pdf"
	case "html":
		return "text/html; charset=utf-8"
	case "gpx":
		return "application/gpx+xml"
	case "csv":
		return "text/csv; charset=utf-8"
	case "toml":
		return "application/toml"
	}
	return "application/octet-stream"
}

// ledgerOnPage is how many rows one page lists.
const ledgerOnPage = 200

type ledgerView struct {
	Title  string
	Path   string
	Run    jobs.Run
	Status string
	Tabs   []ledgerTab
	Page   report.LedgerPage
	Last   int
	Prev   string
	Next   string
}

type ledgerTab struct {
	Status, Words string
	Count         int
}

func (s *Server) pageLedger(w http.ResponseWriter, r *http.Request, job jobs.Job, run jobs.Run) {
	from, _ := strconv.Atoi(r.URL.Query().Get("from"))
	from = max(0, from)
	v := ledgerView{Title: titleOf(job), Path: runPath(job, run.Number), Run: run, Status: r.URL.Query().Get("status")}
	var err error
	if v.Page, err = s.store.Ledger(job.ID, run.Number, v.Status, from, ledgerOnPage); err != nil {
		s.failError(w, r, err)
		return
	}
	c := run.Summary.Counts
	v.Tabs = []ledgerTab{{"", "all", c.Rows}, {"set_aside", "set aside", c.SetAside}, {"unreadable", "unreadable", c.Unreadable},
		{"check", "lifted as a check", c.Check}, {"exposed", "exposed", c.Exposed}, {"used", "used", c.Used}}
	v.Last = from + len(v.Page.Rows)
	if from > 0 {
		v.Prev = fmt.Sprintf("%s/ledger?status=%s&from=%d", v.Path, v.Status, max(0, from-ledgerOnPage))
	}
	if v.Last < v.Page.Total {
		v.Next = fmt.Sprintf("%s/ledger?status=%s&from=%d", v.Path, v.Status, v.Last)
	}
	s.show(w, r, http.StatusOK, "ledger", "Rows of "+v.Title, v)
}

package serve

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/tables"
	"loamline.example/trace"
)

//go:embed ui
var uiFiles embed.FS

// pages are the templates, each with the layout about it.
type pages struct{ by map[string]*template.Template }

func newPages() *pages {
	p := &pages{by: map[string]*template.Template{}}
	names, err := fs.Glob(uiFiles, "ui/pages/*.html")
	if err != nil {
		panic(err) // a pattern that never compiles
	}
	for _, n := range names {
		t := template.New("layout.html").Funcs(template.FuncMap{
			"columnWords": tables.ColumnWords, "size": sizeWords, "plural": pluralWords, "group": groupWords, "join": strings.Join, "shortCaution": func() string { return trace.ShortCaution }, "depthUnits": depthUnits,
			"timeLeft": timeLeftWords,
			"number":   func(i int) int { return i + 1 },
		})
		p.by[strings.TrimSuffix(path.Base(n), ".html")] = template.Must(t.ParseFS(uiFiles, "ui/layout.html", "ui/parts.html", n))
	}
	return p
}

// shown is what the layout knows beside a page's own view.
type shown struct {
	Title    string
	Version  string
	SignedIn bool
	Who      string
	Bare     bool // without ways to the rest, for who may not go there
	Stops    bool // with a button that ends the program
	View     any
}

// show answers with a page. It is put together first, so that a mistake in a
// template cannot leave half of one.
func (s *Server) show(w http.ResponseWriter, r *http.Request, status int, page, title string, view any) {
	var b bytes.Buffer
	err := s.page.by[page].ExecuteTemplate(&b, "layout.html", shown{title, s.opt.Version, s.door.Asks() && page != "sign-in", door.Of(r).Name, isOpen(r.URL.Path), s.opt.stoppable() && page != "stopped", view})
	if err != nil {
		s.opt.Log.Error("a page could not be put together", "page", page, "path", r.URL.Path, "error", err)
		http.Error(w, "The page could not be put together; the server's log says more.", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = b.WriteTo(w)
}

// assets serves style sheet and scripts.
func assets() http.Handler {
	sub, err := fs.Sub(uiFiles, "ui/assets")
	if err != nil {
		panic(err) // embedded
	}
	files := http.StripPrefix("/assets/", http.FileServerFS(sub))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-cache")
		files.ServeHTTP(w, r)
	})
}

func sizeWords(n int64) string {
	switch {
	case n < 1000:
		return fmt.Sprintf("%d bytes", n)
	case n < 1_000_000:
		return fmt.Sprintf("%.0f kB", float64(n)/1e3)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}

// depthUnits are the units that a depth can have.
func depthUnits() []tables.ColumnChoice {
	return []tables.ColumnChoice{{Name: "depth_m", Words: "metres"}, {Name: "depth_ft", Words: "feet"}, {Name: "depth_in", Words: "inches"}, {Name: "depth_cm", Words: "centimetres"}}
}

// timeLeftWords are an estimate as rough as it is; enhance.js has the same words.
func timeLeftWords(seconds int) string {
	if seconds < 90 {
		return fmt.Sprintf("about %d s left", (seconds+4)/5*5)
	}
	return fmt.Sprintf("about %d min left", (seconds+30)/60)
}

func pluralWords(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// groupWords writes a number with its thousands apart: "1,000,000".
func groupWords(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

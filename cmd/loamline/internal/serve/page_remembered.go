package serve

import (
	"net/http"
	"slices"
	"strings"

	"loamline/cmd/loamline/internal/serve/jobs"
)

// rememberedRow is what was answered for one instrument, in words.
type rememberedRow struct {
	jobs.Remembered
	Said []saidRow
}

type saidRow struct{ Header, Words string }

func (s *Server) pageRemembered(w http.ResponseWriter, r *http.Request) {
	var rows []rememberedRow
	for _, m := range s.store.Remembered() {
		row := rememberedRow{Remembered: m}
		for header, name := range m.Answers {
			row.Said = append(row.Said, saidRow{header, jobs.ColumnWords(name)})
		}
		slices.SortFunc(row.Said, func(a, b saidRow) int { return strings.Compare(a.Header, b.Header) })
		rows = append(rows, row)
	}
	s.show(w, r, http.StatusOK, "remembered", "Remembered answers", rows)
}

// pageForget forgets one answer, or all where the form names none.
func (s *Server) pageForget(w http.ResponseWriter, r *http.Request) {
	if err := r.ParseForm(); err != nil {
		s.failError(w, r, formError(err))
		return
	}
	key := r.PostForm.Get("key")
	if key == "" && r.PostForm.Get("all") != "yes" {
		s.failError(w, r, jobs.ErrNotRemembered)
		return
	}
	if err := s.store.Forget(key); err != nil {
		s.failError(w, r, err)
		return
	}
	http.Redirect(w, r, "/remembered", http.StatusSeeOther)
}

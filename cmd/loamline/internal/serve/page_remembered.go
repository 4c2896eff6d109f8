package serve

import (
	"net/http"
	"slices"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/tables"
)

// rememberedRow is what was answered for one instrument, in words.
type rememberedRow struct {
	tables.Remembered
	Said []saidRow
}

type saidRow struct{ Header, Words string }

func (s *Server) pageRemembered(w http.ResponseWriter, r *http.Request) {
	var rows []rememberedRow
	for _, m := range s.remembered(r) {
		row := rememberedRow{Remembered: m}
		for header, name := range m.Answers {
			row.Said = append(row.Said, saidRow{header, tables.ColumnWords(name)})
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
		s.failError(w, r, tables.ErrNotRemembered)
		return
	}
	keys := []string{key}
	if key == "" {
		keys = nil
		for _, m := range s.remembered(r) {
			keys = append(keys, m.Key)
		}
	}
	for _, k := range keys {
		if err := s.forget(r, k); err != nil {
			s.failError(w, r, err)
			return
		}
	}
	http.Redirect(w, r, "/remembered", http.StatusSeeOther)
}

// remembered lists the answers that somebody may see.
func (s *Server) remembered(r *http.Request) []tables.Remembered {
	who, out := door.Of(r), []tables.Remembered{}
	for _, m := range s.store.Remembered() {
		if who.Owns(m.Owner, m.Group) {
			out = append(out, m)
		}
	}
	return out
}

func (s *Server) forget(r *http.Request, key string) error {
	if !slices.ContainsFunc(s.remembered(r), func(m tables.Remembered) bool { return m.Key == key }) {
		return tables.ErrNotRemembered
	}
	return s.store.Forget(key)
}

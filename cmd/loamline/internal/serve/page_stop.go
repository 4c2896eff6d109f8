package serve

import "net/http"

// pageStop says good-bye and ends the program: the answer is on its way before what
// is under way is waited for.
func (s *Server) pageStop(w http.ResponseWriter, r *http.Request) {
	s.show(w, r, http.StatusOK, "stopped", "loamline has stopped", nil)
	s.opt.Stop()
}

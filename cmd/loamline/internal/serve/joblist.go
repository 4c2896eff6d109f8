package serve

import (
	"net/http"
	"strconv"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// jobsOnPage is how many jobs one page lists.
const jobsOnPage = 30

// jobList is one page of the jobs that were asked for.
type jobList struct {
	Jobs  []jobRow
	Total int
	Next  string // the page after it, "" where there is none
}

// listed finds the jobs that a query asks for, from where the request says.
func (s *Server) listed(r *http.Request, q jobs.Query, find findView) jobList {
	q.Skip, q.Most = skipOf(r), jobsOnPage
	found, total := s.store.Search(q)
	list := jobList{Total: total}
	for _, j := range found {
		list.Jobs = append(list.Jobs, rowOf(j))
	}
	if next := q.Skip + jobsOnPage; next < total {
		list.Next = find.link(find.Action, "skip", strconv.Itoa(next))
	}
	return list
}

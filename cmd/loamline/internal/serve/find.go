package serve

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
	"loamline.example/trace"
)

// findKeys are what a search for jobs can be asked by, in an address.
var findKeys = []string{"q", "ticket", "line", "utility", "from", "to", "days", "order", "bbox"}

// queryOf reads a search; values that mean nothing are an error that says so.
func (s *Server) queryOf(r *http.Request) (jobs.Query, error) {
	v := r.URL.Query()
	q := jobs.Query{Text: v.Get("q"), Ticket: v.Get("ticket"), Line: v.Get("line"), Utility: v.Get("utility"), From: v.Get("from"), To: v.Get("to"),
		Days: jobs.DaysOf(v.Get("days")), ByTrace: v.Get("order") == "trace", Sees: s.seen(r)}
	if box := v.Get("bbox"); box != "" {
		var err error
		if q.Box, err = whereabouts.ParseBox(box); err != nil {
			return q, &badUpload{err}
		}
	}
	for _, name := range []string{"from", "to"} {
		if d := v.Get(name); d != "" {
			if _, err := time.Parse(time.DateOnly, d); err != nil {
				return q, &badUpload{fmt.Errorf("%s=%.40q: must be a day, such as 2026-05-12", name, d)}
			}
		}
	}
	for name, known := range map[string][]string{"days": {"", string(jobs.DayOfTrace), string(jobs.DayOfUpload)}, "order": {"", "upload", "trace"}, "utility": append(utilityNames(), "")} {
		if d := v.Get(name); !slices.Contains(known, d) {
			return q, &badUpload{fmt.Errorf("%s=%.40q: it must be one of %s", name, d, strings.Trim(strings.Join(known, ", "), ", "))}
		}
	}
	return q, nil
}

func utilityNames() []string {
	var out []string
	for _, u := range trace.Utilities() {
		out = append(out, string(u))
	}
	return out
}

// findView is a search as its form shows it.
type findView struct {
	Values    url.Values // what was asked for
	Utilities []utilityChoice
	Action    string // the page that shows what is found
}

func findOf(r *http.Request, action string) findView {
	v := findView{Values: url.Values{}, Utilities: utilityChoices(), Action: action}
	for _, key := range findKeys {
		if text := strings.TrimSpace(r.URL.Query().Get(key)); text != "" {
			v.Values.Set(key, text)
		}
	}
	return v
}

// Get is what was asked for under a key.
func (v findView) Get(key string) string { return v.Values.Get(key) }

// Asked reports whether anything was asked for.
func (v findView) Asked() bool { return len(v.Values) > 0 }

// More reports whether something was asked for in the folded part.
func (v findView) More() bool {
	for _, key := range []string{"line", "utility", "days", "order"} {
		if v.Get(key) != "" {
			return true
		}
	}
	return false
}

// link is the same search on a page, with other values; an empty one is left
// out.
func (v findView) link(page string, other ...string) string {
	next := url.Values{}
	for k, text := range v.Values {
		next[k] = text
	}
	for i := 0; i+1 < len(other); i += 2 {
		if next.Set(other[i], other[i+1]); other[i+1] == "" {
			next.Del(other[i])
		}
	}
	if len(next) == 0 {
		return page
	}
	return page + "?" + next.Encode()
}

// On is the same search on another page.
func (v findView) On(page string) string { return v.link(page) }

// skipOf reads how many jobs of a list are passed over.
func skipOf(r *http.Request) int {
	n, _ := strconv.Atoi(r.URL.Query().Get("skip"))
	return max(0, n)
}

package serve

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"
)

// A table of a thousand columns has a page that stays small, asks for no more than
// must be said, and takes what is said of any column.
func TestManyColumns(t *testing.T) {
	var rest, values strings.Builder
	for i := range 1000 {
		fmt.Fprintf(&rest, ",attr %d", i)
		values.WriteString(",1.1")
	}
	for head, want := range map[string]struct {
		said   url.Values
		column string
	}{
		"line,lat,lon": {url.Values{"column.0.700": {"depth_m"}}, "attr 697"},
		"line,x,y":     {url.Values{"column.0.1": {"lat"}, "column.0.2": {"lon"}, "column.0.700": {"depth_m"}}, "attr 697"},
	} {
		table := head + rest.String() + "\n"
		for i := range 5 {
			table += fmt.Sprintf("A,%.5f,-30.5", 44.1+float64(i)*1e-5) + values.String() + "\n"
		}
		s := newSite(t, nil)
		job := s.upload([]file{{"trace", "wide.csv", table}, {"job", "j.toml", "datum = \"WGS84\"\n"}}, "")
		at := "/jobs/" + job.ID + "/columns"
		page := s.get(at, 200)
		if n := strings.Count(page, "required"); len(page) > 400<<10 || n > 0 {
			t.Errorf("%s: %d bytes, %d fields that must be filled in", head, len(page), n)
		}
		contains(t, page, "attr 999", "Which column is the depth?")
		wrong := url.Values{"revision": {"1"}, "column.0.5": {"dephts"}}
		_, text := s.post(at, wrong, http.StatusUnprocessableEntity)
		contains(t, text, "no column of a readings table has this name", `value="dephts"`)
		want.said.Set("revision", "1")
		if to, _ := s.post(at, want.said, http.StatusSeeOther); !strings.HasSuffix(to, "/settings") {
			t.Errorf("%s: all is said, and it leads to %s", head, to)
		}
		now, _ := s.srv.store.Job(job.ID)
		if got := now.Files[0].Table.Answers[want.column]; got != "depth_m" {
			t.Errorf("%s: %q is %q", head, want.column, got)
		}
	}
}

package serve

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// crowdJob is a job whose settings have every list and map that a request can
// change.
const crowdJob = `ticket = "C-1"
datum = "WGS84"
[columns]
depth_m = "Deep"
[[line]]
name = "A"
utility = "water"
diameter = "6 in"
transmitter = [-30.5, 44.1]
[[line]]
name = "B"
utility = "gas"
`

func crowdTrace() string {
	var b strings.Builder
	b.WriteString("line,lat,lon,Deep\n")
	for l, name := range []string{"A", "B"} {
		for i := range 12 {
			fmt.Fprintf(&b, "%s,%.6f,%.6f,1.%d\n", name, 44.1+float64(l)*1e-4, -30.5+float64(i)*1e-5, i%4)
		}
	}
	return b.String()
}

// crowd is many clients on one server, each with its own dice.
type crowd struct {
	*site
	mu  sync.Mutex
	ids []string
}

func (c *crowd) pick(dice *rand.Rand) string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.ids[dice.IntN(len(c.ids))]
}

// ask sends a request and returns its status and body; a server that does not
// answer, or answers that it failed, is the test's failure.
func (c *crowd) ask(method, path, kind string, body []byte) (int, string) {
	r, _ := http.NewRequest(method, c.url+path, bytes.NewReader(body))
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	client := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	resp, err := client.Do(r)
	if err != nil {
		c.t.Errorf("%s %s: %v", method, path, err)
		return 0, ""
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err != nil {
		if !strings.HasSuffix(path, "/zip") { // cut where the run was deleted meanwhile: nobody has half of it for the whole
			c.t.Errorf("%s %s: %v", method, path, err)
		}
		return 0, ""
	}
	for _, wrong := range wrongWith(c.dir, r, resp, string(text)) {
		c.t.Errorf("%s %s: %s", method, path, wrong)
	}
	if resp.StatusCode >= 500 && resp.StatusCode != http.StatusServiceUnavailable {
		c.t.Errorf("%s %s: %s: %.300s", method, path, resp.Status, text)
	}
	return resp.StatusCode, string(text)
}

func (c *crowd) handIn() {
	kind, body := formBody(c.t, []file{{"trace", "walk.csv", crowdTrace()}, {"job", "job.toml", crowdJob}})
	if status, text := c.ask("POST", "/api/v1/jobs?run=yes", kind, body); status == http.StatusCreated {
		var j jobs.Job
		if err := json.Unmarshal([]byte(text), &j); err != nil {
			c.t.Error(err)
			return
		}
		c.mu.Lock()
		c.ids = append(c.ids, j.ID)
		c.mu.Unlock()
	}
}

// step does one thing that a person or a program does.
func (c *crowd) step(dice *rand.Rand) {
	id := c.pick(dice)
	run := 1 + dice.IntN(3)
	api, page := "/api/v1/jobs/"+id, "/jobs/"+id
	form := "application/x-www-form-urlencoded"
	switch dice.IntN(17) {
	case 0:
		c.handIn()
	case 1, 2, 3:
		body := fmt.Sprintf(`{"ticket":"C-%d","columns":{"depth_m":"Deep"},"lines":[{"name":"B","diameter":"%d in"},{"name":"A","transmitter":[-30.5,44.1]}]}`, dice.IntN(99), 1+dice.IntN(9))
		if dice.IntN(2) == 0 {
			body = strings.Replace(body, `"depth_m":"Deep"`, `"depth_m":"Deep","nose":"N"`, 1)
		}
		c.ask("POST", api+"/runs", "application/json", []byte(body))
	case 4:
		c.ask("POST", fmt.Sprintf("%s/runs/%d/cancel", api, run), "", nil)
	case 5:
		c.ask("PUT", api+"/answers", "application/json", []byte(`{"columns":{"walk.csv":{"Deep":"depth_m"}},"datum":"WGS84"}`))
	case 6:
		c.ask("POST", page+"/runs", form, []byte(url.Values{"revision": {fmt.Sprint(1 + dice.IntN(4))}, "line.0.diameter": {"3 in"}}.Encode()))
	case 7:
		if dice.IntN(4) == 0 {
			c.ask("DELETE", api, "", nil)
		}
	case 8:
		c.ask("GET", "/api/v1/jobs", "", nil)
	case 9:
		c.ask("GET", "/?q=walk", "", nil)
	case 10:
		c.ask("GET", api, "", nil)
		c.ask("GET", page+"/settings", "", nil)
	case 11:
		c.ask("GET", fmt.Sprintf("%s/runs/%d", page, run), "", nil)
		c.ask("GET", fmt.Sprintf("%s/runs/%d", api, run), "", nil)
		c.ask("GET", fmt.Sprintf("%s/runs/%d/files/%s", api, run, []string{"kml", "gpx", "dxf"}[dice.IntN(3)]), "", nil)
	case 12:
		c.ask("GET", api+"/changes", "", nil)
		c.ask("GET", "/overlay?first="+id+"&second="+c.pick(dice), "", nil)
	case 13:
		c.ask("GET", "/remembered", "", nil)
		c.ask("GET", page+"/columns", "", nil)
	case 14: // the index in memory, while jobs come, change and go
		for _, q := range []string{"ticket=C-1", "line=b", "utility=gas&order=trace", "days=upload&from=2020-01-01", "bbox=-31,44,-30,45", "q=44.1,+-30.5"} {
			c.ask("GET", "/api/v1/jobs?"+q, "", nil)
		}
		c.ask("GET", "/plan?bbox=-31,44,-30,45", "", nil)
	case 15:
		c.ask("DELETE", fmt.Sprintf("%s/runs/%d", api, run), "", nil)
		c.ask("GET", fmt.Sprintf("%s/runs/%d/zip", api, run), "", nil)
		c.ask("GET", api+"/inputs/1", "", nil)
	case 16:
		status, text := c.ask("POST", page+"/crew", form, []byte("days=2"))
		if _, rest, ok := strings.Cut(text, `value="/crew/`); ok && status == http.StatusOK {
			link, _, _ := strings.Cut(rest, `"`)
			c.ask("GET", "/crew/"+link, "", nil)
			c.ask("GET", "/crew/"+link+"/files/kml", "", nil)
		}
	}
}

// settled waits until no run waits any more.
func (c *crowd) settled() {
	c.t.Helper()
	for end := time.Now().Add(5 * time.Minute); ; time.Sleep(50 * time.Millisecond) {
		waiting := 0
		found, _ := c.srv.store.Search(jobs.Query{})
		for _, j := range found {
			if j.Busy() {
				waiting++
			}
		}
		if waiting == 0 {
			return
		}
		if time.Now().After(end) {
			c.t.Fatalf("%d runs did not end", waiting)
		}
	}
}

// Many clients post, read, run again, answer, cancel and delete at once: nothing
// that one says comes out at another, and nothing ends the server. Meant for the
// race detector:
//
//	go test -race -run TestCrowd ./cmd/loamline/internal/serve
func TestCrowd(t *testing.T) {
	s := newSite(t, nil)
	c := &crowd{site: s}
	for range 4 {
		c.handIn()
	}
	lasts := 4 * time.Second
	end := time.Now().Add(lasts)
	var wg sync.WaitGroup
	for k := range 8 {
		wg.Go(func() {
			dice := rand.New(rand.NewPCG(17, uint64(k)))
			for time.Now().Before(end) && !t.Failed() {
				c.step(dice)
			}
		})
	}
	wg.Wait()
	c.settled()
	found, _ := s.srv.store.Search(jobs.Query{})
	for _, j := range found {
		for _, r := range j.Runs {
			if r.State == jobs.StateFailed {
				t.Errorf("run %d failed: %+v", r.Number, r.Problem)
			}
		}
		if len(j.Settings.Lines) < 2 || j.Settings.Lines[0].Name != "A" || j.Settings.Lines[0].Utility != "water" || j.Settings.Lines[1].Utility != "gas" || j.Settings.Lines[1].Transmitter != nil {
			t.Errorf("what is said of one line came to another: %+v", j.Settings.Lines)
		}
	}
	for end := time.Now().Add(30 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if _, left := s.stored(); len(left) == 0 {
			break
		} else if time.Now().After(end) {
			t.Fatalf("left behind: %q", left)
		}
	}
}

package serve

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/export/webtest"
	"loamline.example/trace/tracetest/study"
)

// serveHere names the folder that a process of this test serves, and is killed.
const serveHere = "LOAMLINE_TEST_SERVES"

func TestMain(m *testing.M) {
	dir := os.Getenv(serveHere)
	if dir == "" {
		code := m.Run()
		webtest.Close()
		os.Exit(code)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	err := Run(ctx, Options{Listen: "127.0.0.1:0", DataDir: dir, Version: "test"}, func(url string, _ []string) { fmt.Println(url) })
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// TestKills kills the server in the middle of whatever several people do, as often
// as LOAMLINE_KILLS says, and looks after each time whether everything that it
// acknowledged is there and nothing half-done is shown.
//
//	LOAMLINE_KILLS=100 go test -run TestKills -v -timeout 30m ./cmd/loamline/internal/serve
func TestKills(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot be asked to end there, which the last start is")
	}
	kills := study.Of(3, 5)
	if n, err := strconv.Atoi(os.Getenv("LOAMLINE_KILLS")); err == nil {
		kills = n
	}
	dir, seed := t.TempDir(), uint64(20)
	p := &ledgerOfPromises{inputs: map[string]string{}, runs: map[string]map[int]string{}, maps: map[string]map[string]string{}, doomed: map[string]bool{}, deleted: map[string]bool{}, counts: map[string]int{}}
	dice := rand.New(rand.NewPCG(seed, 1))
	// On a busy machine few kills may let nothing be finished: then there are more of
	// them, each a little later.
	k := 0
	for ; k < kills || (p.lacks() != "" && k < 10*kills); k++ {
		url, cmd := startServer(t, dir)
		stop := make(chan bool)
		var people sync.WaitGroup
		for i := range 4 {
			people.Go(func() { p.person(url, rand.New(rand.NewPCG(seed+uint64(k), uint64(i))), stop) })
		}
		time.Sleep(time.Duration(100+dice.IntN(2000)+500*max(0, k-kills)) * time.Millisecond)
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		close(stop)
		people.Wait()
		p.check(t, dir, k)
		if t.Failed() {
			return
		}
	}
	// Left alone, the server makes everything that was asked for.
	url, cmd := startServer(t, dir)
	for end := time.Now().Add(3 * time.Minute); p.unfinished(t, url) > 0; time.Sleep(100 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("runs that were asked for are not made")
		}
	}
	_ = cmd.Process.Signal(os.Interrupt)
	if err := cmd.Wait(); err != nil {
		t.Error(err)
	}
	p.check(t, dir, k)
	if what := p.lacks(); what != "" {
		t.Errorf("no %s were acknowledged: nothing is shown about them", what)
	}
	t.Logf("%d kills; acknowledged: %v", k, p.counts)
}

// lacks names a kind of promise that was never made; empty where all were.
func (p *ledgerOfPromises) lacks() string {
	for _, what := range []string{"uploads", "runs", "maps", "deletions"} {
		if p.counts[what] == 0 {
			return what
		}
	}
	return ""
}

func startServer(t *testing.T, dir string) (string, *exec.Cmd) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), serveHere+"="+dir)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	url, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("the server does not start: %v", err)
	}
	return strings.TrimSuffix(strings.TrimSpace(url), "/"), cmd
}

// person hands in, has maps made, takes them away and deletes until the server is
// gone.
func (p *ledgerOfPromises) person(url string, dice *rand.Rand, stop <-chan bool) {
	client := &http.Client{Timeout: 10 * time.Second, Transport: &http.Transport{}}
	defer client.CloseIdleConnections()
	for {
		select {
		case <-stop:
			return
		default:
		}
		if !p.step(client, url, dice) {
			time.Sleep(10 * time.Millisecond)
		}
	}
}

func ask(client *http.Client, method, url, kind, body string) (int, []byte) {
	r, err := http.NewRequest(method, url, strings.NewReader(body))
	if err != nil {
		return 0, nil
	}
	r.Header.Set("Content-Type", kind)
	resp, err := client.Do(r)
	if err != nil {
		return 0, nil
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err != nil {
		return 0, nil
	}
	return resp.StatusCode, text
}

func (p *ledgerOfPromises) step(client *http.Client, url string, dice *rand.Rand) bool {
	id := p.pick(dice)
	api := url + "/api/v1/jobs/" + id
	switch n := dice.IntN(10); {
	case id == "" || n < 3:
		table := shortTrace(dice.IntN(1000))
		kind, body := killBody(table)
		status, text := ask(client, "POST", url+"/api/v1/jobs", kind, body)
		var job jobs.Job
		if status != http.StatusCreated || json.Unmarshal(text, &job) != nil {
			return false
		}
		p.note("uploads", func() { p.inputs[job.ID] = sumOf(table) })
	case n < 6:
		ticket := fmt.Sprintf("T-%d", dice.IntN(1_000_000))
		status, text := ask(client, "POST", api+"/runs", "application/json", fmt.Sprintf(`{"ticket":%q}`, ticket))
		var run jobs.Run
		if status != http.StatusAccepted || json.Unmarshal(text, &run) != nil {
			return false
		}
		p.note("runs", func() {
			if p.runs[id] == nil {
				p.runs[id] = map[int]string{}
			}
			p.runs[id][run.Number] = ticket
		})
	case n < 9:
		key := []string{"geojson", "kml", "gpx"}[n-6] // two of them made only now
		status, text := ask(client, "GET", api+"/runs/1/files/"+key, "", "")
		if status != http.StatusOK {
			return false
		}
		p.note("maps", func() {
			if p.maps[id] == nil {
				p.maps[id] = map[string]string{}
			}
			p.maps[id][key] = sumOf(string(text))
		})
	default:
		p.mu.Lock()
		p.doomed[id] = true
		p.mu.Unlock()
		if status, _ := ask(client, "DELETE", api, "", ""); status != http.StatusNoContent {
			return false
		}
		p.note("deletions", func() { p.deleted[id] = true })
	}
	return true
}

// shortTrace is small enough that maps are made between two kills.
func shortTrace(n int) string {
	text := "line,lat,lon,depth_m,h_acc_m,fix\n"
	for i := range 12 {
		text += fmt.Sprintf("L-%d,%.8f,%.8f,1.1,0.015,4\n", n, 44.1+float64(n)*1e-3, -30.5+float64(i)*2e-5)
	}
	return text
}

func killBody(table string) (kind, body string) {
	const boundary = "between-the-parts"
	var b strings.Builder
	for _, f := range []file{{"trace", "walk.csv", table}, {"job", "j.toml", "datum = \"WGS84\"\n"}} {
		fmt.Fprintf(&b, "--%s\r\nContent-Disposition: form-data; name=%q; filename=%q\r\n\r\n%s\r\n", boundary, f.field, f.name, f.text)
	}
	return "multipart/form-data; boundary=" + boundary, b.String() + "--" + boundary + "--\r\n"
}

// unfinished counts runs that are still to be made.
func (p *ledgerOfPromises) unfinished(t *testing.T, url string) int {
	t.Helper()
	n := 0
	for skip := 0; ; skip += 1000 {
		status, text := ask(http.DefaultClient, "GET", fmt.Sprintf("%s/api/v1/jobs?limit=1000&skip=%d", url, skip), "", "")
		var page struct {
			Total int        `json:"total"`
			Jobs  []jobs.Job `json:"jobs"`
		}
		if status != http.StatusOK || json.Unmarshal(text, &page) != nil {
			t.Fatalf("the list of jobs: %d", status)
		}
		for _, j := range page.Jobs {
			for _, r := range j.Runs {
				if r.State == jobs.StateWaiting || r.State == jobs.StateRunning {
					n++
				}
			}
		}
		if skip+1000 >= page.Total {
			return n
		}
	}
}

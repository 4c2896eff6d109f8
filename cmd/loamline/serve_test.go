package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"mime/multipart"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// serveProcess is a running loamline serve.
type serveProcess struct {
	t   *testing.T
	cmd *exec.Cmd
	url string
}

func startServe(t *testing.T, data string, args ...string) *serveProcess {
	t.Helper()
	cmd, out := started(t, append([]string{"serve", "--listen", "127.0.0.1:0", "--data", data}, args...)...)
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	go io.Copy(io.Discard, out)
	return &serveProcess{t, cmd, strings.TrimSuffix(line[strings.Index(line, "http://"):], "/\n")}
}

// started is the program under way, and what it prints.
func started(t *testing.T, args ...string) (*exec.Cmd, io.Reader) {
	t.Helper()
	cmd := program(t, args...)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd, out
}

func (p *serveProcess) kill() {
	p.t.Helper()
	if err := p.cmd.Process.Kill(); err != nil {
		p.t.Fatal(err)
	}
	_ = p.cmd.Wait()
}

// get reads JSON from the API.
func (p *serveProcess) get(path string, v any) {
	p.t.Helper()
	resp, err := http.Get(p.url + path)
	if err != nil {
		p.t.Fatal(err)
	}
	defer resp.Body.Close()
	if resp.StatusCode != 200 {
		p.t.Fatalf("%s: %s", path, resp.Status)
	}
	if err := json.NewDecoder(resp.Body).Decode(v); err != nil {
		p.t.Fatal(err)
	}
}

type jobList struct {
	Total int
	Jobs  []struct {
		ID   string
		Runs []struct {
			Number, Starts int
			State          string
		}
	}
}

func (p *serveProcess) jobs() jobList {
	var l jobList
	p.get("/api/v1/jobs", &l)
	return l
}

// uploadTrace hands a readings table in, and has its map made.
func (p *serveProcess) uploadTrace(text string) string {
	p.t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	for _, f := range [][3]string{{"trace", "t.csv", text}, {"job", "t.toml", "ticket = \"K-1\"\ndatum = \"WGS84\"\n"}} {
		w, _ := m.CreateFormFile(f[0], f[1])
		_, _ = io.WriteString(w, f[2])
	}
	_ = m.Close()
	resp, err := http.Post(p.url+"/api/v1/jobs?run=yes", m.FormDataContentType(), &b)
	if err != nil {
		p.t.Fatal(err)
	}
	defer resp.Body.Close()
	var j struct{ ID string }
	if err := json.NewDecoder(resp.Body).Decode(&j); err != nil || resp.StatusCode != 201 {
		p.t.Fatal(resp.Status, err)
	}
	return j.ID
}

// ended waits until the last run of a job has ended.
func (p *serveProcess) ended(id string) string {
	p.t.Helper()
	for end := time.Now().Add(2 * time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		for _, j := range p.jobs().Jobs {
			if j.ID == id && len(j.Runs) > 0 {
				if s := j.Runs[len(j.Runs)-1].State; s != "waiting" {
					return s
				}
			}
		}
	}
	p.t.Fatal("the run did not end")
	return ""
}

func walk(lines, readings int) string {
	var b strings.Builder
	b.WriteString("line,lat,lon,depth_m,fix\n")
	for l := range lines {
		for i := range readings {
			fmt.Fprintf(&b, "L-%d,%.8f,%.8f,%.2f,4\n", l, 44.1+float64(l)*1e-4, -30.5+float64(i)*1e-5, 1.1+float64(i%7)*0.01)
		}
	}
	return b.String()
}

func listed(t *testing.T, dir string) []string {
	t.Helper()
	all, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range all {
		names = append(names, e.Name())
	}
	return names
}

// Killed in the middle of an upload and at many moments of a fit: what was
// stored is there, what was half-done is not shown, and the fit is made again.
func TestServeKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("starts the program many times")
	}
	data := t.TempDir()
	p := startServe(t, data)
	first := p.uploadTrace(walk(1, 50))
	if s := p.ended(first); s != "done" {
		t.Fatal(s)
	}

	// In the middle of an upload.
	host := strings.TrimPrefix(p.url, "http://")
	c, err := net.Dial("tcp", host)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(c, "POST /api/v1/jobs HTTP/1.1\r\nHost: %s\r\nContent-Type: multipart/form-data; boundary=b\r\nContent-Length: 1000000\r\n\r\n", host)
	fmt.Fprintf(c, "--b\r\nContent-Disposition: form-data; name=\"trace\"; filename=\"half.csv\"\r\n\r\n%s", walk(3, 1000))
	waitFor(t, func() bool { return len(listed(t, filepath.Join(data, "tmp"))) > 0 })
	p.kill()
	c.Close()
	p = startServe(t, data)
	if l := p.jobs(); l.Total != 1 || l.Jobs[0].ID != first || l.Jobs[0].Runs[0].State != "done" {
		t.Errorf("after a kill during an upload: %+v", l)
	}
	if left := listed(t, filepath.Join(data, "tmp")); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}

	// At many moments of a fit. Each start begins it again, so the job is new
	// each time: one that takes the process down three times is given up.
	big := walk(6, 300)
	for _, after := range []time.Duration{0, 60, 200, 500} {
		id := p.uploadTrace(big)
		time.Sleep(after * time.Millisecond)
		p.kill()
		p = startServe(t, data)
		if s := p.ended(id); s != "done" {
			t.Errorf("killed after %d ms: the run is %s", after, s)
		}
		var res struct{ Counts struct{ Rows int } }
		p.get("/api/v1/jobs/"+id+"/runs/1/result", &res)
		if res.Counts.Rows != 6*300 {
			t.Errorf("killed after %d ms: %d rows", after, res.Counts.Rows)
		}
	}
	if left := listed(t, filepath.Join(data, "tmp")); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
	if l := p.jobs(); l.Total != 5 {
		t.Errorf("%d jobs of 5 are there", l.Total)
	}
}

// Told to stop, it stops in time, and what ran is made at the next start.
func TestServeStops(t *testing.T) {
	data := t.TempDir()
	p := startServe(t, data)
	id := p.uploadTrace(walk(6, 300))
	time.Sleep(200 * time.Millisecond)
	second := program(t, "serve", "--listen", "127.0.0.1:0", "--data", data)
	if out, err := second.CombinedOutput(); err == nil || !strings.Contains(string(out), "another loamline serve uses this folder") {
		t.Errorf("two processes in one folder: %v: %s", err, out)
	}
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Wait(); err != nil {
		t.Errorf("it ended with %v", err)
	}
	p = startServe(t, data)
	if s := p.ended(id); s != "done" {
		t.Error(s)
	}
}

// A job that takes the process down with it at every start is given up.
func TestServeGivesUp(t *testing.T) {
	data := t.TempDir()
	p := startServe(t, data)
	id := p.uploadTrace(walk(20, 500))
	for range 3 {
		waitFor(t, func() bool { return strings.Contains(fmt.Sprint(p.jobs()), "waiting") })
		waitFor(t, func() bool {
			l := p.jobs()
			return l.Jobs[0].Runs[0].Starts > 0
		})
		time.Sleep(50 * time.Millisecond)
		p.kill()
		p = startServe(t, data)
	}
	if s := p.ended(id); s != "failed" {
		t.Errorf("the run is %s", s)
	}
}

func waitFor(t *testing.T, ok func() bool) {
	t.Helper()
	for end := time.Now().Add(2 * time.Minute); !ok(); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("waited in vain")
		}
	}
}

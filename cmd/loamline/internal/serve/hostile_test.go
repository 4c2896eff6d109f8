package serve

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"mime/multipart"
	"net"
	"net/http"
	"net/textproto"
	"net/url"
	"strings"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

const goodTrace = "line,lat,lon,depth_m\nA,44.1,-30.5,1\nA,44.10001,-30.5,1.1\nA,44.10002,-30.5,1\nA,44.10003,-30.5,1\n"

// refused sends an upload that must be turned down, and makes sure that nothing
// of it is left and that the answer is clear and tells nothing of the machine.
func (s *site) refused(name string, status int, kind string, body []byte) string {
	s.t.Helper()
	resp, text := s.do("POST", "/api/v1/jobs", kind, body)
	if resp.StatusCode != status {
		s.t.Errorf("%s: %s, not %d: %.300s", name, resp.Status, status, text)
	}
	var p problemJSON
	if err := json.Unmarshal([]byte(text), &p); err != nil || p.Detail == "" || p.Status != resp.StatusCode {
		s.t.Errorf("%s: no clear answer: %.300s", name, text)
	}
	if strings.Contains(text, s.dir) || strings.Contains(text, "goroutine") {
		s.t.Errorf("%s: the answer tells of the machine: %s", name, text)
	}
	if kept, left := s.stored(); len(kept)+len(left) > 0 {
		s.t.Errorf("%s: left behind: %q %q", name, kept, left)
	}
	return text
}

func TestHostileUploads(t *testing.T) {
	s := newSite(t, func(o *Options) { o.Limits = jobs.Limits{UploadBytes: 2 << 20, Files: 3, Rows: 1000} })
	wide := strings.Repeat("a,", 1_000_000) + "lat,lon\n"
	for _, c := range []struct {
		name   string
		status int
		files  []file
		says   string
	}{
		{"nothing", 422, []file{{"job", "a.toml", "ticket = \"1\"\n"}}, "no readings table"},
		{"empty", 422, []file{{"trace", "a.csv", ""}}, "no readings table|empty"},
		{"a zip for a table", 422, []file{{"trace", "a.csv", "PK\x03\x04\x14\x00"}}, "zip archive"},
		{"a million columns", 422, []file{{"trace", "a.csv", wide}}, "columns|header row"},
		{"one endless line", 422, []file{{"trace", "a.csv", strings.Repeat("x", 1_500_000)}}, "header row|columns"},
		{"no number", 422, []file{{"trace", "a.csv", "lat,lon\nNaN,Inf\ninf,-inf\n1e999,0\n"}}, "not a number"},
		{"binary", 422, []file{{"trace", "a.csv", "\x00\x01\x02\x00"}}, "binary"},
		{"too many files", 413, []file{{"trace", "a.csv", goodTrace}, {"trace", "b.csv", goodTrace}, {"trace", "c.csv", goodTrace}, {"trace", "d.csv", goodTrace}}, "3 files"},
		{"too many rows", 413, []file{{"trace", "a.csv", "lat,lon\n" + strings.Repeat("44,-71\n", 1100)}}, "1000 rows"},
		{"too large", 413, []file{{"trace", "a.csv", strings.Repeat("x,y,z\n", 1<<19)}}, "2 MB|rows"},
		{"same name twice", 422, []file{{"trace", "a.csv", goodTrace}, {"trace", "x/a.csv", goodTrace}}, "this name"},
		{"unknown field", 400, []file{{"exploit", "a.csv", goodTrace}}, "exploit"},
		{"two job files", 422, []file{{"trace", "a.csv", goodTrace}, {"job", "a.toml", ""}, {"job", "b.toml", "ticket=\"1\""}}, "second job file"},
		{"a reference that is missing", 422, []file{{"trace", "a.csv", goodTrace}, {"job", "a.toml", "[[reference]]\nfile = \"/etc/passwd\"\n"}}, "not in the upload"},
		{"a layer that is none", 422, []file{{"trace", "a.csv", goodTrace}, {"reference", "r.geojson", "{\"type\":\"FeatureCollection\",\"features\":7}"}}, "r.geojson"},
		{"a log that is none", 422, []file{{"trace", "a.csv", goodTrace}, {"gnss_log", "l.nmea", "hello"}}, "l.nmea"},
		{"a job file with a wrong key", 422, []file{{"trace", "a.csv", goodTrace}, {"job", "j.toml", "tikcet = \"1\"\n"}}, "ticket"},
	} {
		kind, body := formBody(t, c.files)
		text := s.refused(c.name, c.status, kind, body)
		said := false
		for _, w := range strings.Split(c.says, "|") {
			said = said || strings.Contains(text, w)
		}
		if !said {
			t.Errorf("%s: %q is not said: %.400s", c.name, c.says, text)
		}
	}
}

func TestBadMultipart(t *testing.T) {
	s := newSite(t, nil)
	kind, body := formBody(t, []file{{"trace", "a.csv", goodTrace}})
	s.refused("cut off", 400, kind, body[:len(body)-20])
	s.refused("no boundary", 400, "multipart/form-data", body)
	s.refused("another boundary", 422, "multipart/form-data; boundary=x", body)
	s.refused("no form", 400, "application/json", []byte("{}"))
	s.refused("url form", 400, "application/x-www-form-urlencoded", []byte("trace=1"))
	s.refused("empty", 422, kind, nil)
	head := "--b\r\nContent-Disposition: form-data; name=\"trace\"; filename=\"a.csv\"\r\n" + strings.Repeat("X-A: b\r\n", 200_000)
	s.refused("endless part header", 400, "multipart/form-data; boundary=b", []byte(head))
}

// A stream that never ends is cut at the limit, whether it says its length or
// not.
func TestEndlessStream(t *testing.T) {
	s := newSite(t, func(o *Options) { o.Limits = jobs.Limits{UploadBytes: 1 << 20, Files: 3, Rows: 1 << 30} })
	for _, length := range []int64{-1, 10 << 30} {
		pipe, w := io.Pipe()
		sent := make(chan int64, 1)
		var m *multipart.Writer = multipart.NewWriter(w)
		go func() {
			part, err := m.CreateFormFile("trace", "a.csv")
			var n int64
			for err == nil {
				var k int
				k, err = part.Write(bytes.Repeat([]byte("44.1,-30.5\n"), 1000))
				n += int64(k)
			}
			sent <- n
		}()
		r, err := http.NewRequest("POST", s.url+"/api/v1/jobs", pipe)
		if err != nil {
			t.Fatal(err)
		}
		r.ContentLength = length
		r.Header.Set("Content-Type", m.FormDataContentType())
		resp, text := s.send(r)
		pipe.Close()
		if resp.StatusCode != http.StatusRequestEntityTooLarge {
			t.Errorf("%s: %s", resp.Status, text)
		}
		if n := <-sent; n > 16<<20 {
			t.Errorf("%d bytes were taken of a stream that is limited to 1 MB", n)
		}
		if kept, left := s.stored(); len(kept)+len(left) > 0 {
			t.Errorf("left behind: %q %q", kept, left)
		}
	}
}

// Names never become paths, and what is in them is text wherever it is shown.
func TestHostileNames(t *testing.T) {
	s := newSite(t, nil)
	const script = `<script>alert(1)</script>`
	trace := strings.ReplaceAll(goodTrace, "A,", `"<img src=x onerror=alert(1)>",`)
	trace = strings.Replace(trace, "depth_m\n", "depth_m,"+script+"\n", 1)
	trace = strings.ReplaceAll(trace, ",1\n", ",1,=cmd()\n")
	trace = strings.ReplaceAll(trace, ",1.1\n", ",1.1,x\n")
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	for field, f := range map[string][2]string{"trace": {`..\..\../../` + script + `../../etc/passwd.csv`, trace},
		"job": {`../../../tmp/` + script + `.toml`, "ticket = '''" + script + "'''\narea = '''\"><svg onload=alert(1)>'''\ndatum = \"WGS84\"\n"}} {
		h := textproto.MIMEHeader{}
		h.Set("Content-Disposition", fmt.Sprintf(`form-data; name=%q; filename=%q`, field, f[0]))
		w, err := m.CreatePart(h)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = io.WriteString(w, f[1])
	}
	_ = m.Close()
	resp, text := s.do("POST", "/api/v1/jobs?run=yes", m.FormDataContentType(), b.Bytes())
	if resp.StatusCode != 201 {
		t.Fatalf("%s: %s", resp.Status, text)
	}
	var job jobs.Job
	if err := json.Unmarshal([]byte(text), &job); err != nil {
		t.Fatal(err)
	}
	if run := s.wait(job.ID, 1); run.State != jobs.StateDone {
		t.Fatalf("%+v", run.Problem)
	}
	for _, path := range []string{"/", "/jobs/" + job.ID + "/columns", "/jobs/" + job.ID + "/settings", "/jobs/" + job.ID + "/runs/1", "/jobs/" + job.ID + "/runs/1/ledger",
		"/jobs/" + job.ID + "/changes", "/jobs/" + job.ID + "/delete", "/overlay", "/?q=" + url.QueryEscape(script)} {
		page := s.get(path, 200)
		for _, bad := range []string{"<script>alert", "<img src=x", "<svg onload"} {
			if strings.Contains(page, bad) {
				t.Errorf("%s: %s stands in the page as it came", path, bad)
			}
		}
		if strings.Contains(page, "style=") || strings.Contains(page, "onclick") || strings.Count(page, "<script") != 1 {
			t.Errorf("%s: something is inline", path)
		}
	}
	resp, _ = s.do("GET", "/jobs/"+job.ID+"/runs/1/zip", "", nil)
	contains(t, resp.Header.Get("Content-Disposition"), "attachment")
	if kept, left := s.stored(); len(kept) != 1 || kept[0] != job.ID || len(left) > 0 {
		t.Errorf("stored: %q %q", kept, left)
	}
}

// A client that sends a byte now and then is cut off, and holds nothing.
func TestSlowClient(t *testing.T) {
	s := newSite(t, func(o *Options) {
		o.Pace = Pace{Idle: 300 * time.Millisecond, Form: time.Second, Grace: 400 * time.Millisecond, MinPerSec: 1000, Answer: time.Second}
	})
	host := strings.TrimPrefix(s.url, "http://")
	for name, every := range map[string]time.Duration{"silent": time.Hour, "a byte now and then": 50 * time.Millisecond} {
		c, err := net.Dial("tcp", host)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(c, "POST /api/v1/jobs HTTP/1.1\r\nHost: %s\r\nContent-Type: multipart/form-data; boundary=b\r\nContent-Length: 100000\r\n\r\n", host)
		fmt.Fprint(c, "--b\r\nContent-Disposition: form-data; name=\"trace\"; filename=\"a.csv\"\r\n\r\nlat,lon\n")
		stop := make(chan bool)
		go func() {
			for tick := time.NewTicker(every); ; {
				select {
				case <-tick.C:
					fmt.Fprint(c, "4")
				case <-stop:
					return
				}
			}
		}()
		_ = c.SetReadDeadline(time.Now().Add(time.Minute)) // the body would take half an hour and more
		resp, err := http.ReadResponse(bufio.NewReader(c), nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if resp.StatusCode != http.StatusRequestTimeout {
			t.Errorf("%s: %s", name, resp.Status)
		}
		close(stop)
		c.Close()
		if kept, left := s.stored(); len(kept)+len(left) > 0 {
			t.Errorf("%s: left behind: %q %q", name, kept, left)
		}
	}
}

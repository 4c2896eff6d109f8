package serve

import (
	"bytes"
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"rsc.io/qr"
)

// Shared, the server answers by its own certificate, which is kept from start to
// start and made anew when the computer has another address; a crew link is made
// for an address that a phone reaches, and not for this computer's own.
func TestShare(t *testing.T) {
	opt := Options{Listen: "0.0.0.0:0", DataDir: t.TempDir()}
	first, err := opt.Share()
	if err != nil || len(first.Token) < 20 || len(first.Fingerprint) != 32*3-1 || !first.New {
		t.Fatalf("%v: %+v", err, first)
	}
	again := Options{Listen: "0.0.0.0:0", DataDir: opt.DataDir}
	second, err := again.Share()
	if err != nil || second.Fingerprint != first.Fingerprint || second.Token != first.Token || second.New {
		t.Errorf("%v: %+v after %+v", err, second, first)
	}
	for _, path := range []string{opt.KeyFile, opt.CertFile} {
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%s: %v", path, err)
		}
	}
	token := filepath.Join(opt.DataDir, "share", "token")
	if err := os.Chmod(token, 0o644); err != nil {
		t.Fatal(err)
	}
	open := Options{Listen: "0.0.0.0:0", DataDir: opt.DataDir}
	if _, err := open.Share(); runtime.GOOS != "windows" && (err == nil || !strings.Contains(err.Error(), "everybody on this computer can read")) {
		t.Errorf("a token that everybody can read is used: %v", err)
	}
	text, _ := os.ReadFile(opt.CertFile)
	block, _ := pem.Decode(text)
	own, err := x509.ParseCertificate(block.Bytes)
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AddCert(own)
	ctx, stop := context.WithCancel(t.Context())
	ready, ended := make(chan []string, 1), make(chan error, 1)
	go func() {
		ended <- Run(ctx, opt, func(u string, others []string) { ready <- append([]string{u}, others...) })
	}()
	urls := <-ready
	defer func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	}()
	_, port, _ := net.SplitHostPort(strings.TrimSuffix(strings.TrimPrefix(urls[0], "https://"), "/"))
	here := "https://127.0.0.1:" + port
	client := http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}}
	do := func(method, path, kind string, body []byte) (int, string) {
		t.Helper()
		r, _ := http.NewRequest(method, here+path, bytes.NewReader(body))
		r.Header.Set("Authorization", "Bearer "+first.Token)
		r.Header.Set("Content-Type", kind)
		resp, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		var b bytes.Buffer
		_, _ = b.ReadFrom(resp.Body)
		return resp.StatusCode, b.String()
	}
	kind, body := formBody(t, lanternRow(t))
	status, answer := do("POST", "/api/v1/jobs", kind, body)
	if status != 201 {
		t.Fatal(status, answer)
	}
	_, id, _ := strings.Cut(answer, `"id":"`)
	id = id[:26]
	_, page := do("POST", "/jobs/"+id+"/crew", "application/x-www-form-urlencoded", []byte(url.Values{"days": {"2"}}.Encode()))
	if len(urls) == 1 {
		t.Skip("this computer is on no network")
	}
	contains(t, page, `value="`+urls[1]+`/crew/`, `class="qr"`)
	if strings.Contains(page, "works here, but not on a phone") {
		t.Error("a link that phones reach is said to work here only")
	}
}

// On this computer alone the page says that the link works here only.
func TestCrewLinkHere(t *testing.T) {
	s := newSite(t, nil)
	job := s.upload(lanternRow(t), "")
	contains(t, s.get("/jobs/"+job.ID+"/crew", 200), "the link works here, but not on a phone")
}

// The code for a terminal is the code itself with its margin, light on dark.
func TestQRText(t *testing.T) {
	text, err := QRText("https://192.0.2.7:8140/")
	if err != nil {
		t.Fatal(err)
	}
	c, _ := qr.Encode("https://192.0.2.7:8140/", qr.M)
	rows := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	for y := range c.Size {
		line := []rune(rows[(y+quiet)/2])
		for x := range c.Size {
			r := line[x+quiet]
			light := r == '█' || (y+quiet)%2 == 0 && r == '▀' || (y+quiet)%2 == 1 && r == '▄'
			if light == c.Black(x, y) {
				t.Fatalf("module %d, %d is wrong", x, y)
			}
		}
	}
}

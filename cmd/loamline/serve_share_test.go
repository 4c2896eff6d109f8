package main

import (
	"bufio"
	"crypto/sha256"
	"crypto/tls"
	"fmt"
	"net"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// Shared with the network, the program prints what somebody with a phone needs: the
// addresses that others can use, a code of the first, a token, and the fingerprint that
// the certificate really has. All but the port is the same at the next start, which
// says nothing of a new certificate.
func TestServeSharePrintsTheWayIn(t *testing.T) {
	dir := t.TempDir()
	said := func() (all, token, fingerprint string) {
		t.Helper()
		cmd, out := started(t, "serve", "--share", "--listen", "0.0.0.0:0", "--data", dir)
		lines, first := bufio.NewScanner(out), ""
		rest := make(chan string, 1)
		defer func() { // what is printed after the fingerprint is printed before anything is answered
			_ = cmd.Process.Kill()
			all += <-rest
			_ = cmd.Wait()
		}()
		for fingerprint == "" && lines.Scan() {
			line := strings.TrimSpace(lines.Text())
			first += lines.Text() + "\n"
			if after, ok := strings.CutPrefix(line, "They sign in with this token: "); ok {
				token = after
			}
			if regexp.MustCompile(`^([0-9A-F]{2}:){31}[0-9A-F]{2}$`).MatchString(line) {
				fingerprint = line
			}
			if strings.HasPrefix(line, "no address of this computer") {
				rest <- ""
				t.Skip("this computer is on no network")
			}
		}
		go func() {
			more := ""
			for lines.Scan() {
				more += lines.Text() + "\n"
			}
			rest <- more
		}()
		all = first
		address := regexp.MustCompile(`(?m)^  https://([0-9.]+):([0-9]+)/$`).FindStringSubmatch(all)
		if address == nil || net.ParseIP(address[1]).IsLoopback() || !strings.Contains(all, "█") || len(token) < 20 {
			t.Fatalf("printed is\n%s", all)
		}
		shown := ""
		client := http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{
			InsecureSkipVerify: true, // as a phone goes on whose owner has compared the fingerprint
			VerifyConnection: func(c tls.ConnectionState) error {
				shown = strings.ReplaceAll(fmt.Sprintf("% X", sha256.Sum256(c.PeerCertificates[0].Raw)), " ", ":")
				return nil
			}}}}
		defer client.CloseIdleConnections()
		r, err := http.NewRequest("GET", "https://"+address[1]+":"+address[2]+"/api/v1/jobs", nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Authorization", "Bearer "+token)
		resp, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		if resp.StatusCode != http.StatusOK || shown != fingerprint {
			t.Errorf("%s; the certificate is %s, and printed is %s", resp.Status, shown, fingerprint)
		}
		return all, token, fingerprint
	}
	first, token, fingerprint := said()
	again, sameToken, sameFingerprint := said()
	if !strings.Contains(first, "The certificate is new") {
		t.Errorf("the first start says nothing of a new certificate:\n%s", first)
	}
	if token != sameToken || fingerprint != sameFingerprint || strings.Contains(again, "The certificate is new") {
		t.Errorf("the next start has another way in:\n%s", again)
	}
}

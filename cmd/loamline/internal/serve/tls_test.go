package serve

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"math/big"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// ownCertificate writes a key and a certificate for 127.0.0.1 and returns who
// trusts it.
func ownCertificate(t *testing.T) (cert, key string, pool *x509.CertPool) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	tmpl := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "test"}, NotAfter: time.Now().Add(time.Hour),
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, IsCA: true, BasicConstraintsValid: true}
	der, err := x509.CreateCertificate(rand.Reader, tmpl, tmpl, &private.PublicKey, private)
	if err != nil {
		t.Fatal(err)
	}
	bytes, err := x509.MarshalECPrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	cert, key = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	for path, block := range map[string]*pem.Block{cert: {Type: "CERTIFICATE", Bytes: der}, key: {Type: "EC PRIVATE KEY", Bytes: bytes}} {
		if err := os.WriteFile(path, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	pool = x509.NewCertPool()
	c, _ := x509.ParseCertificate(der)
	pool.AddCert(c)
	return cert, key, pool
}

// Beyond loopback, as it is meant to be run: encrypted, with a token, and a
// cookie that is never sent in the clear.
func TestEncrypted(t *testing.T) {
	cert, key, pool := ownCertificate(t)
	ctx, stop := context.WithCancel(t.Context())
	ready, ended := make(chan string, 1), make(chan error, 1)
	go func() {
		ended <- Run(ctx, Options{Listen: "0.0.0.0:0", DataDir: t.TempDir(), Token: "0123456789abcdefghij", CertFile: cert, KeyFile: key}, func(u string, _ []string) { ready <- u })
	}()
	at, err := url.Parse(<-ready)
	if err != nil || at.Scheme != "https" {
		t.Fatal(at, err)
	}
	base := "https://127.0.0.1:" + at.Port()
	c := http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	defer c.CloseIdleConnections()
	resp, err := c.PostForm(base+"/sign-in", url.Values{"secret": {"0123456789abcdefghij"}})
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if len(resp.Cookies()) != 1 || !resp.Cookies()[0].Secure || resp.Header.Get("Strict-Transport-Security") == "" {
		t.Errorf("%s: %v", resp.Status, resp.Header)
	}
	c.CloseIdleConnections()
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

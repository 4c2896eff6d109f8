package certificate

import (
	"net"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// A certificate is kept as long as it is good for this computer, and with its own key.
func TestKept(t *testing.T) {
	dir := t.TempDir()
	certFile, keyFile := filepath.Join(dir, "certificate.pem"), filepath.Join(dir, "key.pem")
	made, err := Make(certFile, keyFile, nil, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	if kept, err := Kept(certFile, keyFile, nil, time.Now()); err != nil || Fingerprint(kept) != Fingerprint(made) {
		t.Errorf("the certificate is not kept: %v", err)
	}
	if _, err := Kept(certFile, keyFile, []net.IP{net.IPv4(192, 0, 2, 7)}, time.Now()); err == nil { // RFC 5737
		t.Error("a certificate is kept that does not name the computer's address")
	}
	if _, err := Kept(certFile, keyFile, nil, time.Now().Add(certificateTime)); err == nil {
		t.Error("a certificate is kept that has ended")
	}
	for _, path := range []string{keyFile, certFile} {
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%s: %v", path, err)
		}
	}
	if _, err := Make(filepath.Join(dir, "other.pem"), keyFile, nil, time.Now()); err != nil {
		t.Fatal(err)
	}
	if _, err := Kept(certFile, keyFile, nil, time.Now()); err == nil {
		t.Error("a certificate is kept whose key is lost: the server would never start again")
	}
}

package serve

import (
	"crypto/rand"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strings"
	"time"

	"loamline.example/cmd/loamline/internal/serve/certificate"
	"loamline.example/cmd/loamline/internal/serve/door"
)

// Shared is what people need to reach a server of this computer from a phone.
type Shared struct {
	Fingerprint string // SHA-256 of the certificate, as browsers show it
	Token       string // made here, where nobody was named; else empty
	New         bool   // the certificate was made now
}

// Share lets others on the network reach the server: with a certificate and, if
// the options name nobody, a token, both made here and kept beside the jobs.
func (o *Options) Share() (Shared, error) {
	var out Shared
	dir := filepath.Join(o.DataDir, "share")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return out, fmt.Errorf("the folder of the certificate cannot be made: %w", err)
	}
	if o.Token == "" && len(o.Users) == 0 {
		token, err := keptToken(filepath.Join(dir, "token"))
		if err != nil {
			return out, err
		}
		o.Token, out.Token = token, token
	}
	if o.CertFile != "" {
		return out, nil
	}
	o.CertFile, o.KeyFile = filepath.Join(dir, "certificate.pem"), filepath.Join(dir, "key.pem")
	der, err := certificate.Kept(o.CertFile, o.KeyFile, certificate.OwnAddresses(), time.Now())
	if err != nil {
		out.New = true
		if der, err = certificate.Make(o.CertFile, o.KeyFile, certificate.OwnAddresses(), time.Now()); err != nil {
			return out, fmt.Errorf("the certificate cannot be made: %w", err)
		}
	}
	out.Fingerprint = certificate.Fingerprint(der)
	return out, nil
}

func keptToken(path string) (string, error) {
	if err := door.SecretFile(path); err != nil && !errors.Is(err, os.ErrNotExist) {
		return "", err
	}
	if text, err := os.ReadFile(path); err == nil && len(strings.TrimSpace(string(text))) >= 20 {
		return strings.TrimSpace(string(text)), nil
	}
	token := rand.Text()
	if err := os.WriteFile(path, []byte(token+"\n"), 0o600); err != nil {
		return "", fmt.Errorf("the token cannot be kept: %w", err)
	}
	return token, nil
}

// urlsFor are the addresses that others can use of a listener, none where it
// answers on this computer only.
func urlsFor(addr net.Addr, scheme string) []string {
	t, ok := addr.(*net.TCPAddr)
	if !ok || t.IP.IsLoopback() {
		return nil
	}
	ips := []net.IP{t.IP}
	if t.IP.IsUnspecified() {
		ips = certificate.OwnAddresses()
	}
	var out []string
	for _, ip := range ips {
		out = append(out, scheme+"://"+net.JoinHostPort(ip.String(), fmt.Sprint(t.Port)))
	}
	return out
}

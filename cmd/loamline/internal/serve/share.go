package serve

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Shared is what people need to reach a server of this computer from a phone.
type Shared struct {
	Fingerprint string // SHA-256 of the certificate, as browsers show it
	Token       string // made here, where nobody was named; else empty
	New         bool   // the certificate was made now
}

// certificateTime is how long a certificate made here is good for.
const certificateTime = 2 * 365 * 24 * time.Hour

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
	der, err := keptCertificate(o.CertFile, o.KeyFile, ownAddresses(), time.Now())
	if err != nil {
		out.New = true
		if der, err = makeCertificate(o.CertFile, o.KeyFile, ownAddresses(), time.Now()); err != nil {
			return out, fmt.Errorf("the certificate cannot be made: %w", err)
		}
	}
	out.Fingerprint = fingerprintOf(der)
	return out, nil
}

func keptToken(path string) (string, error) {
	if err := SecretFile(path); err != nil && !errors.Is(err, os.ErrNotExist) {
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

// keptCertificate reads a certificate that is still good for some days and names
// the addresses that this computer has now.
func keptCertificate(certFile, keyFile string, addresses []net.IP, now time.Time) ([]byte, error) {
	text, err := os.ReadFile(certFile)
	if err != nil {
		return nil, err
	}
	// A start that was cut between the two files leaves a key of another certificate.
	if _, err := tls.LoadX509KeyPair(certFile, keyFile); err != nil {
		return nil, err
	}
	block, _ := pem.Decode(text)
	if block == nil {
		return nil, errors.New("no certificate")
	}
	c, err := x509.ParseCertificate(block.Bytes)
	if err != nil {
		return nil, err
	}
	if now.Add(7 * 24 * time.Hour).After(c.NotAfter) {
		return nil, errors.New("the certificate ends soon")
	}
	for _, ip := range addresses {
		if !slices.ContainsFunc(c.IPAddresses, ip.Equal) {
			return nil, fmt.Errorf("the certificate does not name %s", ip)
		}
	}
	return block.Bytes, nil
}

func makeCertificate(certFile, keyFile string, addresses []net.IP, now time.Time) ([]byte, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 120))
	if err != nil {
		return nil, err
	}
	c := &x509.Certificate{SerialNumber: serial, Subject: pkix.Name{CommonName: "loamline on this computer"}, NotBefore: now.Add(-time.Hour), NotAfter: now.Add(certificateTime),
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, BasicConstraintsValid: true,
		DNSNames: []string{"localhost"}, IPAddresses: append([]net.IP{net.IPv4(127, 0, 0, 1), net.IPv6loopback}, addresses...)}
	der, err := x509.CreateCertificate(rand.Reader, c, c, &key.PublicKey, key)
	if err != nil {
		return nil, err
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, err
	}
	if err := os.WriteFile(keyFile, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret}), 0o600); err != nil {
		return nil, err
	}
	return der, os.WriteFile(certFile, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600)
}

// fingerprintOf is a certificate's SHA-256 in pairs, as browsers show it.
func fingerprintOf(der []byte) string {
	sum := sha256.Sum256(der)
	pairs := make([]string, len(sum))
	for i, b := range sum {
		pairs[i] = fmt.Sprintf("%02X", b)
	}
	return strings.Join(pairs, ":")
}

// ownAddresses are the addresses by which others on the network reach this
// computer.
func ownAddresses() []net.IP {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	var out []net.IP
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok && n.IP.IsGlobalUnicast() && n.IP.To4() != nil {
			out = append(out, n.IP.To4())
		}
	}
	return out
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
		ips = ownAddresses()
	}
	var out []string
	for _, ip := range ips {
		out = append(out, scheme+"://"+net.JoinHostPort(ip.String(), fmt.Sprint(t.Port)))
	}
	return out
}

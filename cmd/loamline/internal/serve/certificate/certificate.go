// Package certificate makes the certificate by which phones on the same network reach this
// computer, and keeps it as long as it is good for the addresses that the computer has.
package certificate

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
	"slices"
	"strings"
	"time"
)

// certificateTime is how long a certificate made here is good for.
const certificateTime = 2 * 365 * 24 * time.Hour

// Kept reads a certificate that is still good for some days and names
// the addresses that this computer has now.
func Kept(certFile, keyFile string, addresses []net.IP, now time.Time) ([]byte, error) {
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

// Make makes a certificate for this computer at these addresses, and its key, and returns it
// as Kept does.
func Make(certFile, keyFile string, addresses []net.IP, now time.Time) ([]byte, error) {
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

// Fingerprint is a certificate's SHA-256 in pairs, as browsers show it.
func Fingerprint(der []byte) string {
	sum := sha256.Sum256(der)
	pairs := make([]string, len(sum))
	for i, b := range sum {
		pairs[i] = fmt.Sprintf("%02X", b)
	}
	return strings.Join(pairs, ":")
}

// OwnAddresses are the addresses by which others on the network reach this
// computer.
func OwnAddresses() []net.IP {
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

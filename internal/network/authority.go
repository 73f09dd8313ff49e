package network

import (
	"crypto"
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
	"io/fs"
	"math/big"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"time"

	"vatside/internal/fault"
)

const (
	authorityFile  = "studio.authority.pem" // certificate and key together, so that there is never half of it
	authorityYears = 10
	// leafLasts is below the 398 days above which browsers refuse (CA/Browser
	// Forum, Baseline Requirements, ballot SC-31); it is renewed well before.
	leafLasts  = 397 * 24 * time.Hour
	leafRenew  = 300 * 24 * time.Hour
	clockSlack = 24 * time.Hour // a phone whose clock is behind
)

// authority signs the certificates of this studio's addresses, and nothing
// else: what it may sign stands in its own certificate.
type authority struct {
	cert *x509.Certificate
	key  crypto.Signer
}

// loadAuthority reads the authority of a folder, or makes it there. Faults:
// Storage, among them a file that is no authority, which is left as it is.
func loadAuthority(dir string, names []string, now time.Time) (*authority, error) {
	path := filepath.Join(dir, authorityFile)
	sweep(path)
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return makeAuthority(path, names, now)
	}
	if err != nil {
		return nil, fault.Storage(err, "The studio's own certificate authority cannot be read from %s.", path)
	}
	a, err := readAuthority(text)
	if err != nil {
		return nil, fault.Storage(err, "%s is not the studio's certificate authority, or it is damaged. Move it away; a new one is made then, and devices must trust that anew.", path)
	}
	if now.After(a.cert.NotAfter.Add(-leafLasts)) { // what it signs must not outlast it
		return makeAuthority(path, names, now)
	}
	// A copy from elsewhere may have come with wider rights.
	if err := os.Chmod(path, 0o600); err != nil {
		return nil, fault.Storage(err, "%s cannot be kept from the eyes of others on this machine.", path)
	}
	return a, nil
}

func readAuthority(text []byte) (*authority, error) {
	pair, err := tls.X509KeyPair(text, text) // checks that the key is that of the certificate
	if err != nil {
		return nil, err
	}
	cert, err := x509.ParseCertificate(pair.Certificate[0])
	if err != nil {
		return nil, err
	}
	key, ok := pair.PrivateKey.(crypto.Signer)
	if !ok || !cert.IsCA {
		return nil, errors.New("no authority")
	}
	return &authority{cert, key}, nil
}

// makeAuthority makes one that can sign nothing but this studio's names and
// addresses of networks of one's own. The constraint is critical: who does not
// understand it must refuse the authority (RFC 5280, 4.2.1.10).
func makeAuthority(path string, names []string, now time.Time) (*authority, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, internal(err)
	}
	number, err := serial()
	if err != nil {
		return nil, internal(err)
	}
	t := &x509.Certificate{
		SerialNumber: number,
		Subject:      pkix.Name{CommonName: fmt.Sprintf("Vatside of this studio, made %s", now.UTC().Format("2006-01-02"))},
		NotBefore:    now.Add(-clockSlack), NotAfter: now.AddDate(authorityYears, 0, 0),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true,
		KeyUsage:    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},

		PermittedDNSDomainsCritical: true, PermittedDNSDomains: names,
	}
	for _, p := range near {
		t.PermittedIPRanges = append(t.PermittedIPRanges, &net.IPNet{IP: p.Addr().AsSlice(), Mask: net.CIDRMask(p.Bits(), p.Addr().BitLen())})
	}
	der, err := x509.CreateCertificate(rand.Reader, t, t, key.Public(), key)
	if err != nil {
		return nil, internal(err)
	}
	cert, err := x509.ParseCertificate(der)
	if err != nil {
		return nil, internal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, internal(err)
	}
	text := append(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})...)
	if err := writeWhole(path, text); err != nil {
		return nil, fault.Storage(err, "The studio's own certificate authority could not be written to %s.", path)
	}
	return &authority{cert, key}, nil
}

// sweep takes away what a killed program left half written beside the file: it
// may hold a key.
func sweep(path string) {
	halves, err := filepath.Glob(path + ".half-*")
	if err != nil {
		return // no such pattern can be wrong
	}
	for _, half := range halves {
		os.Remove(half) //nolint:errcheck // it is tried again at the next start
	}
}

// writeWhole writes a file beside its place, readable to its owner alone, and
// renames it there when it is on the disk: killed at any moment, there is
// either no file of the name or a whole one.
func writeWhole(path string, text []byte) (err error) {
	half, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".half-*") // mode 0600
	if err != nil {
		return err
	}
	defer os.Remove(half.Name()) //nolint:errcheck // after the renaming there is none
	if _, err := half.Write(text); err != nil {
		return errors.Join(err, half.Close())
	}
	if err := errors.Join(half.Sync(), half.Close()); err != nil {
		return err
	}
	return os.Rename(half.Name(), path)
}

// leaf signs a certificate for names and addresses, those that the authority
// may sign; one of another kind would make the whole certificate worthless.
func (a *authority) leaf(names []string, addrs []netip.Addr, now time.Time) (*tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, internal(err)
	}
	number, err := serial()
	if err != nil {
		return nil, internal(err)
	}
	t := &x509.Certificate{
		SerialNumber: number, Subject: pkix.Name{CommonName: Name},
		NotBefore: now.Add(-clockSlack), NotAfter: now.Add(leafLasts - clockSlack),
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
	}
	for _, n := range names {
		if a.maySign(n) {
			t.DNSNames = append(t.DNSNames, n)
		}
	}
	for _, ip := range addrs {
		if Near(ip) {
			t.IPAddresses = append(t.IPAddresses, ip.AsSlice())
		}
	}
	der, err := x509.CreateCertificate(rand.Reader, t, a.cert, key.Public(), a.key)
	if err != nil {
		return nil, internal(err)
	}
	parsed, err := x509.ParseCertificate(der)
	if err != nil {
		return nil, internal(err)
	}
	return &tls.Certificate{Certificate: [][]byte{der}, PrivateKey: key, Leaf: parsed}, nil
}

func (a *authority) maySign(name string) bool {
	for _, d := range a.cert.PermittedDNSDomains {
		if name == d || strings.HasSuffix(name, "."+d) {
			return true
		}
	}
	return false
}

// print is the fingerprint of the authority as phones show it.
func (a *authority) print() string {
	sum := sha256.Sum256(a.cert.Raw)
	return strings.ReplaceAll(fmt.Sprintf("% X", sum), " ", ":")
}

func serial() (*big.Int, error) {
	return rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
}

func internal(err error) error {
	return &fault.Error{Kind: fault.KindInternal, Text: "the certificate could not be made", Err: err}
}

package network

import (
	"crypto/x509"
	"errors"
	"io/fs"
	"net/netip"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

var made = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)

func newAuthority(t *testing.T) *authority {
	t.Helper()
	a, err := loadAuthority(t.TempDir(), []string{Name, "attic.local"}, made)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// A client that trusts this authority alone takes the certificate for the
// studio's names and addresses, and for nothing else.
func TestLeafIsTrustedForTheStudioAlone(t *testing.T) {
	t.Parallel()
	a := newAuthority(t)
	leaf, err := a.leaf([]string{Name, "attic.local", "elsewhere.local"}, []netip.Addr{netip.MustParseAddr("192.168.7.20"), netip.MustParseAddr("fd00::2"), netip.MustParseAddr("198.51.100.7")}, made)
	if err != nil {
		t.Fatal(err)
	}
	roots := x509.NewCertPool()
	roots.AddCert(a.cert)
	for name, want := range map[string]bool{
		"vatside.local": true, "attic.local": true, "192.168.7.20": true, "fd00::2": true,
		"elsewhere.local": false, "198.51.100.7": false, "192.168.7.21": false, "studio.invalid": false,
	} {
		_, err := leaf.Leaf.Verify(x509.VerifyOptions{DNSName: name, Roots: roots, CurrentTime: made.AddDate(0, 6, 0)})
		if (err == nil) != want {
			t.Errorf("%s: trusted %v, want %v (%v)", name, err == nil, want, err)
		}
	}
	if days := leaf.Leaf.NotAfter.Sub(leaf.Leaf.NotBefore).Hours() / 24; days > 397 {
		t.Errorf("it holds %g days; browsers refuse more than 398", days)
	}
}

// What the authority's key could sign beyond the studio is worth nothing.
func TestAuthorityCannotPoseAsOthers(t *testing.T) {
	t.Parallel()
	a := newAuthority(t)
	a.cert.PermittedDNSDomains = []string{"invalid"} // as a thief of the key would
	stolen := *a
	leaf, err := stolen.leaf([]string{"bank.invalid"}, nil, made)
	if err != nil {
		t.Fatal(err)
	}
	clean, err := x509.ParseCertificate(a.cert.Raw)
	if err != nil {
		t.Fatal(err)
	}
	roots := x509.NewCertPool()
	roots.AddCert(clean)
	if _, err := leaf.Leaf.Verify(x509.VerifyOptions{DNSName: "bank.invalid", Roots: roots, CurrentTime: made}); err == nil {
		t.Error("a certificate for a foreign name is trusted")
	}
}

func TestAuthorityIsKept(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	first, err := loadAuthority(dir, []string{Name}, made)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, authorityFile)
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("its file: %v, %v; want mode 0600", info, err)
	}
	if err := os.Chmod(path, 0o644); err != nil {
		t.Fatal(err)
	}
	again, err := loadAuthority(dir, []string{Name}, made.AddDate(5, 0, 0))
	if err != nil || !again.cert.Equal(first.cert) {
		t.Errorf("after a restart it is another one (%v)", err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("its mode stays %v", info.Mode())
	}
	late, err := loadAuthority(dir, []string{Name}, made.AddDate(9, 6, 0))
	if err != nil || late.cert.Equal(first.cert) {
		t.Errorf("what it signs would outlast it, and it is not made anew (%v)", err)
	}
	if names, err := filepath.Glob(filepath.Join(dir, "*")); err != nil || len(names) != 1 {
		t.Errorf("in the folder are %v", names)
	}
}

// A damaged file is refused in one sentence and left for its owner to look at.
func TestDamagedAuthority(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if _, err := loadAuthority(dir, []string{Name}, made); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, authorityFile)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{0, 1, len(whole) / 2, len(whole) - 40} {
		if err := os.WriteFile(path, whole[:n], 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := loadAuthority(dir, []string{Name}, made); err == nil {
			t.Errorf("the first %d bytes are taken for an authority", n)
		}
		if left, _ := os.ReadFile(path); len(left) != n {
			t.Errorf("a damaged file of %d bytes was changed", n)
		}
	}
}

// Killed at any moment while the authority is made, there is no file of its
// name or a whole one; and a second start goes on with it.
func TestKilledWhileTheAuthorityIsMade(t *testing.T) {
	if dir := os.Getenv("VATSIDE_MAKE_AUTHORITY"); dir != "" {
		for { // until it is killed
			if _, err := makeAuthority(filepath.Join(dir, authorityFile), []string{Name}, time.Now()); err != nil {
				os.Exit(3)
			}
		}
	}
	t.Parallel()
	dir := t.TempDir()
	made := 0
	for i := range 12 {
		cmd := exec.Command(os.Args[0], "-test.run=^TestKilledWhileTheAuthorityIsMade$")
		cmd.Env = append(os.Environ(), "VATSIDE_MAKE_AUTHORITY="+dir)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(15+7*i) * time.Millisecond)
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		text, err := os.ReadFile(filepath.Join(dir, authorityFile))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		made++
		if _, err := readAuthority(text); err != nil {
			t.Fatalf("killed after %d ms, the file is not whole: %v", 15+7*i, err)
		}
	}
	if made == 0 {
		t.Skip("this machine was too slow to make one before it was killed")
	}
	if _, err := loadAuthority(dir, []string{Name}, time.Now()); err != nil {
		t.Error(err)
	}
	halves, err := filepath.Glob(filepath.Join(dir, authorityFile+".half-*"))
	if err != nil || len(halves) > 0 {
		t.Errorf("halves of keys are left: %v, %v", halves, err)
	}
}

package network

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"io"
	"net"
	"net/netip"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// hello answers every call with one word.
func hello(ctx context.Context, ln net.Listener) error {
	context.AfterFunc(ctx, func() { ln.Close() })
	for {
		c, err := ln.Accept()
		if err != nil {
			return nil
		}
		go func() { io.WriteString(c, "hello"); c.Close() }()
	}
}

// a machine whose addresses change.
type machine struct {
	*Network
	addrs atomic.Pointer[[]netip.Addr]
}

func newMachine(t *testing.T, addrs ...string) *machine {
	t.Helper()
	probe, err := net.Listen("tcp", "127.0.0.3:0")
	if err != nil {
		t.Skipf("this machine has no second loopback address: %v", err)
	}
	defer probe.Close()
	m := &machine{}
	m.move(addrs...)
	m.Network = New(Config{Dir: t.TempDir(), Port: probe.Addr().(*net.TCPAddr).Port, Serve: hello, Ours: netip.Addr.IsLoopback,
		Addresses: func() ([]netip.Addr, error) { return *m.addrs.Load(), nil },
		Announce: func(context.Context, string, []netip.Addr) (io.Closer, error) {
			return nil, errors.New("not in a test")
		}})
	t.Cleanup(m.Off)
	return m
}

func (m *machine) move(to ...string) {
	var list []netip.Addr
	for _, a := range to {
		list = append(list, netip.MustParseAddr(a))
	}
	m.addrs.Store(&list)
}

func said(host string, port int) string {
	c, err := net.Dial("tcp", net.JoinHostPort(host, strconv.Itoa(port)))
	if err != nil {
		return ""
	}
	defer c.Close()
	word, _ := io.ReadAll(c)
	return string(word)
}

func TestOnAndOff(t *testing.T) {
	t.Parallel()
	m := newMachine(t, "127.0.0.3")
	if _, _, err := m.Authority(); err == nil || m.State().On {
		t.Error("before it is switched on there is an authority, or it is on")
	}
	for range 3 { // again and again, at the same ports
		if err := m.On(m.last); err != nil {
			t.Fatal(err)
		}
		s := m.State()
		if got := said("127.0.0.3", s.Port); got != "hello" {
			t.Errorf("switched on it says %q", got)
		}
		if got := said("127.0.0.1", s.Port); got != "" {
			t.Errorf("on another address it says %q", got)
		}
		der, print, err := m.Authority()
		if err != nil || len(print) != 95 { // 32 bytes of two digits, with colons
			t.Errorf("the fingerprint is %q, %v", print, err)
		}
		ca, err := x509.ParseCertificate(der)
		if err != nil {
			t.Fatal(err)
		}
		roots := x509.NewCertPool()
		roots.AddCert(ca)
		c, err := tls.Dial("tcp", net.JoinHostPort("127.0.0.3", strconv.Itoa(s.SecurePort)), &tls.Config{RootCAs: roots, ServerName: Name})
		if err != nil {
			t.Fatalf("who trusts the authority alone is refused: %v", err)
		}
		c.Close()
		if _, err := tls.Dial("tcp", net.JoinHostPort("127.0.0.3", strconv.Itoa(s.SecurePort)), &tls.Config{ServerName: Name}); err == nil {
			t.Error("who does not trust it is let in")
		}
		m.Off()
		if said("127.0.0.3", s.Port)+said("127.0.0.3", s.SecurePort) != "" || m.State().On {
			t.Error("switched off it still answers")
		}
	}
}

// It follows the machine from network to network, and waits where there is none.
func TestFollowsTheMachine(t *testing.T) {
	t.Parallel()
	m := newMachine(t)
	if err := m.On(0); err != nil {
		t.Fatal(err)
	}
	if s := m.State(); !s.On || !strings.Contains(s.Trouble, "in no network") {
		t.Errorf("in no network: %+v", s)
	}
	for _, at := range []string{"127.0.0.3", "127.0.0.4"} {
		m.move(at)
		m.lookAgain(t.Context())
		s := m.State()
		if s.Trouble != "" || !slices.Equal(s.Addresses, *m.addrs.Load()) || said(at, s.Port) != "hello" {
			t.Errorf("moved to %s: %+v", at, s)
		}
	}
	if said("127.0.0.3", m.State().Port) != "" {
		t.Error("it still answers at the address it left")
	}
	holder, err := net.Listen("tcp", net.JoinHostPort("127.0.0.5", strconv.Itoa(m.State().Port)))
	if err != nil {
		t.Fatal(err)
	}
	m.move("127.0.0.5")
	m.lookAgain(t.Context())
	if s := m.State(); !s.On || !strings.Contains(s.Trouble, "Another program uses port") {
		t.Errorf("where the port is in use: %+v", s)
	}
	holder.Close()
	m.lookAgain(t.Context())
	if s := m.State(); s.Trouble != "" || said("127.0.0.5", s.Port) != "hello" {
		t.Errorf("when it is free again: %+v", s)
	}
	m.Off()
	m.lookAgain(canceled())
	if m.State().On {
		t.Error("a last look switched it on again")
	}
}

func canceled() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

// The certificate is made anew before it grows old, also while the program runs
// for a year.
func TestLeafIsRenewed(t *testing.T) {
	t.Parallel()
	m := newMachine(t, "127.0.0.3")
	now := made
	m.c.Now = func() time.Time { return now }
	if err := m.On(0); err != nil {
		t.Fatal(err)
	}
	first, err := m.certificate(nil)
	if err != nil {
		t.Fatal(err)
	}
	now = made.AddDate(0, 0, 200)
	if same, err := m.certificate(nil); err != nil || same != first {
		t.Errorf("after 200 days it is another one (%v)", err)
	}
	now = made.AddDate(0, 0, 301)
	fresh, err := m.certificate(nil)
	if err != nil || fresh == first || fresh.Leaf.NotAfter.Before(now.AddDate(1, 0, 0)) {
		t.Errorf("after 301 days it holds until %v (%v)", fresh.Leaf.NotAfter, err)
	}
}

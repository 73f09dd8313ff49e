package network

import (
	"context"
	"errors"
	"net"
	"net/netip"
	"testing"
	"time"
)

// The name is answered for on the loopback interface, and a second one is told
// that it is taken. Nothing of it leaves this machine.
func TestNameIsAnswered(t *testing.T) {
	t.Parallel()
	const name = "vatside-try.local"
	here := netip.MustParseAddr("127.0.0.1")
	ifaces, err := carrying([]netip.Addr{here})
	if err != nil {
		t.Skipf("no loopback interface: %v", err)
	}
	said, err := Announce(t.Context(), name, []netip.Addr{here})
	if err != nil {
		t.Skipf("this machine carries no multicast on its loopback interface: %v", err)
	}
	defer said.Close()
	asker, err := responder(ifaces)
	if err != nil {
		t.Fatal(err)
	}
	defer asker.Close()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Second)
	defer cancel()
	_, at, err := asker.QueryAddr(ctx, name)
	if err != nil {
		t.Skipf("this machine carries no multicast on its loopback interface: %v", err)
	}
	if at.Unmap() != here {
		t.Errorf("the name leads to %v, want %v", at, here)
	}
	other := netip.MustParseAddr("127.0.0.9") // as another machine would have
	if err := free(t.Context(), name, ifaces, []netip.Addr{other}); !errors.Is(err, errTaken) {
		t.Errorf("a second machine is told %v, want that the name is taken", err)
	}
	if err := free(t.Context(), name, ifaces, []netip.Addr{here}); err != nil {
		t.Errorf("its own answer is taken for another machine's: %v", err)
	}
}

func TestNoNetworkToAnnounceIn(t *testing.T) {
	t.Parallel()
	if _, err := Announce(t.Context(), Name, []netip.Addr{netip.MustParseAddr("203.0.113.7")}); err == nil {
		t.Error("announced where this machine has no address")
	}
}

func TestNear(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{
		"10.1.2.3": true, "172.31.0.1": true, "192.168.1.5": true, "169.254.9.9": true, "fd12::1": true, "::ffff:192.168.1.5": true,
		"172.32.0.1": false, "8.8.8.8": false, "100.64.0.1": false, "127.0.0.1": false, "0.0.0.0": false, "224.0.0.251": false,
		"2001:db8::1": false, "::1": false, "fe80::1": false, "::ffff:8.8.8.8": false,
	} {
		if got := Near(netip.MustParseAddr(text)); got != want {
			t.Errorf("%s: near %v, want %v", text, got, want)
		}
	}
}

// Who calls from elsewhere is turned away before a word is said.
func TestStrangersAreTurnedAway(t *testing.T) {
	t.Parallel()
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer ln.Close()
	accepted := make(chan net.Conn, 2)
	turned := true
	go func() {
		c, err := nearOnly{ln, func(netip.Addr) bool { turned = !turned; return turned }}.Accept()
		if err == nil {
			accepted <- c
		}
	}()
	first, err := net.Dial("tcp", ln.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	if n, err := first.Read(make([]byte, 1)); n != 0 || err == nil {
		t.Errorf("a stranger hears %d bytes, %v", n, err)
	}
	second, err := net.Dial("tcp", ln.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer second.Close()
	(<-accepted).Close()
}

package network

import (
	"errors"
	"net"
	"net/netip"
	"strconv"
	"syscall"

	"vatside/internal/fault"
)

// portsTried is how many ports are tried for https.
const portsTried = 20

// open is what is listened on: http and https on every address.
type open struct {
	plain, secure []net.Listener
	securePort    int
}

func (o *open) all() []net.Listener {
	return append(append([]net.Listener(nil), o.plain...), o.secure...)
}

func (o *open) close() {
	for _, ln := range o.all() {
		ln.Close() //nolint:errcheck // nobody waits for it any more
	}
}

// listenOn listens for http on the port and for https on the next free one, or
// on the one last used. Faults: Busy, where the port is in use.
func listenOn(addrs []netip.Addr, port, lastSecure int) (*open, error) {
	o := &open{}
	var err error
	if o.plain, err = listenAll(addrs, port); err != nil {
		return nil, inUse(err, port)
	}
	tries := []int{lastSecure}
	for i := range portsTried {
		tries = append(tries, port+1+i)
	}
	for _, p := range tries {
		if p <= 0 || p > 65535 || p == port {
			continue
		}
		if o.secure, err = listenAll(addrs, p); err == nil {
			o.securePort = p
			return o, nil
		}
	}
	o.close()
	return nil, fault.Busy("None of the ports %d to %d is free for https: close the program that holds them, then switch on again.", port+1, port+portsTried)
}

// listenAll listens on a port of every address, or on none.
func listenAll(addrs []netip.Addr, port int) ([]net.Listener, error) {
	var list []net.Listener
	for _, a := range addrs {
		ln, err := net.Listen("tcp", netip.AddrPortFrom(a, uint16(port)).String())
		if errors.Is(err, syscall.EADDRNOTAVAIL) {
			continue // it went, or is not ready yet; the addresses are looked at again soon
		}
		if err != nil {
			for _, ln := range list {
				ln.Close() //nolint:errcheck // nothing came in by it
			}
			return nil, err
		}
		list = append(list, ln)
	}
	if len(list) == 0 && len(addrs) > 0 {
		return nil, syscall.EADDRNOTAVAIL
	}
	return list, nil
}

func inUse(err error, port int) error {
	if errors.Is(err, syscall.EADDRINUSE) {
		return fault.Busy("Another program uses port %d in this network: close it, or start Vatside on another port, such as --listen 127.0.0.1:%s.", port, strconv.Itoa(port+1000))
	}
	return fault.Busy("This machine does not let the program listen in the network (%v): its firewall may say why.", errors.Unwrap(err))
}

// nearOnly turns away at once whoever calls from outside networks of one's own,
// before a byte is read.
type nearOnly struct {
	net.Listener
	ours func(netip.Addr) bool
}

func (l nearOnly) Accept() (net.Conn, error) {
	for {
		c, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		if from, err := netip.ParseAddrPort(c.RemoteAddr().String()); err == nil && l.ours(from.Addr()) {
			return c, nil
		}
		c.Close() //nolint:errcheck // nobody we know
	}
}

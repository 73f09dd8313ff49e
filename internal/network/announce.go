package network

import (
	"context"
	"errors"
	"io"
	"net"
	"net/netip"
	"slices"
	"time"

	"github.com/pion/logging"
	"github.com/pion/mdns/v2"
	"golang.org/x/net/ipv4"
)

// askFirst is how long it is listened whether another machine has the name
// already; RFC 6762, 8.1, waits three times a quarter of a second.
const askFirst = time.Second

// errTaken says that the name belongs to another machine.
var errTaken = errors.New("another machine in this network has the name")

// Announce answers for the name by multicast DNS (RFC 6762) in the networks of
// these addresses until it is closed. It is an error where no network hears it,
// and where another machine has the name.
func Announce(ctx context.Context, name string, addrs []netip.Addr) (io.Closer, error) {
	ifaces, err := carrying(addrs)
	if err != nil {
		return nil, err
	}
	if err := free(ctx, name, ifaces, addrs); err != nil {
		return nil, err
	}
	return responder(ifaces, name)
}

// free asks for the name first.
func free(ctx context.Context, name string, ifaces []net.Interface, addrs []netip.Addr) error {
	asker, err := responder(ifaces)
	if err != nil {
		return err
	}
	defer asker.Close() //nolint:errcheck // it only asked
	ctx, cancel := context.WithTimeout(ctx, askFirst)
	defer cancel()
	_, at, err := asker.QueryAddr(ctx, name)
	if err == nil && !slices.Contains(addrs, at.Unmap().WithZone("")) {
		return errTaken
	}
	return nil
}

// responder speaks multicast DNS on the interfaces and answers for the names.
func responder(ifaces []net.Interface, names ...string) (*mdns.Conn, error) {
	group, err := net.ResolveUDPAddr("udp4", mdns.DefaultAddressIPv4)
	if err != nil {
		return nil, err
	}
	conn, err := net.ListenUDP("udp4", group)
	if err != nil {
		return nil, err
	}
	quiet := &logging.DefaultLoggerFactory{Writer: io.Discard, DefaultLogLevel: logging.LogLevelDisabled}
	r, err := mdns.NewServer(ipv4.NewPacketConn(conn), nil, mdns.WithLocalNames(names...), mdns.WithInterfaces(ifaces...),
		mdns.WithIncludeLoopback(true), // which interfaces is said already
		mdns.WithCacheRefresh(false), mdns.WithQueryInterval(askFirst/4), mdns.WithLoggerFactory(quiet))
	if err != nil {
		return nil, errors.Join(err, conn.Close())
	}
	return r, nil
}

// carrying lists the interfaces that have one of the addresses of IPv4.
func carrying(addrs []netip.Addr) ([]net.Interface, error) {
	all, err := net.Interfaces()
	if err != nil {
		return nil, err
	}
	var out []net.Interface
	for _, i := range all {
		has, err := i.Addrs()
		if err != nil {
			continue
		}
		if slices.ContainsFunc(has, func(one net.Addr) bool {
			p, err := netip.ParsePrefix(one.String())
			return err == nil && p.Addr().Is4() && slices.Contains(addrs, p.Addr())
		}) {
			out = append(out, i)
		}
	}
	if len(out) == 0 {
		return nil, errors.New("no network with an address of IPv4")
	}
	return out, nil
}

package network

import (
	"cmp"
	"net"
	"net/netip"
	"os"
	"slices"
	"strings"
)

// Name is what the program is called in its own network, where multicast DNS
// is heard.
const Name = "vatside.local"

// near are the addresses of networks of one's own: RFC 1918, RFC 3927 and the
// unique local ones of RFC 4193. Nothing else is listened on, and nothing that
// comes from elsewhere is answered.
var near = []netip.Prefix{
	netip.MustParsePrefix("10.0.0.0/8"), netip.MustParsePrefix("172.16.0.0/12"), netip.MustParsePrefix("192.168.0.0/16"),
	netip.MustParsePrefix("169.254.0.0/16"), netip.MustParsePrefix("fc00::/7"),
}

// Near reports whether an address is one of a network of one's own.
func Near(a netip.Addr) bool {
	return slices.ContainsFunc(near, func(p netip.Prefix) bool { return p.Contains(a.Unmap().WithZone("")) })
}

// Addresses lists the near addresses of this machine, that of its usual way
// out first.
func Addresses() ([]netip.Addr, error) {
	list, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	var out []netip.Addr
	for _, one := range list {
		if ip, ok := one.(*net.IPNet); ok {
			if a, ok := netip.AddrFromSlice(ip.IP); ok && Near(a.Unmap()) {
				out = append(out, a.Unmap())
			}
		}
	}
	usual := usualWay()
	rank := func(a netip.Addr) int {
		switch {
		case a == usual:
			return 0
		case a.Is4() && !a.IsLinkLocalUnicast():
			return 1
		}
		return 2
	}
	slices.SortFunc(out, func(a, b netip.Addr) int { return cmp.Or(cmp.Compare(rank(a), rank(b)), a.Compare(b)) })
	return slices.Compact(out), nil
}

// usualWay is the address from which this machine reaches others. Nothing is
// sent: a datagram socket only looks the way up. The address asked about is of
// a range set aside for documents, which no machine has (RFC 5737).
func usualWay() netip.Addr {
	conn, err := net.Dial("udp4", "203.0.113.1:9")
	if err != nil {
		return netip.Addr{}
	}
	defer conn.Close() //nolint:errcheck // nothing was sent
	at, _ := netip.ParseAddrPort(conn.LocalAddr().String())
	return at.Addr().Unmap()
}

// ownName is the name of this machine as its own network knows it; "" where it
// has none.
func ownName() string {
	host, err := os.Hostname()
	if err != nil {
		return ""
	}
	first, _, _ := strings.Cut(strings.ToLower(host), ".")
	if first == "" || first == "localhost" || strings.Trim(first, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
		return ""
	}
	return first + ".local"
}

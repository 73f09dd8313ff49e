package devices

import (
	"fmt"
	"html/template"
	"net"
	"strconv"
	"strings"

	goqr "github.com/piglig/go-qr"

	"vatside/internal/network"
)

// ways lists the addresses the program is reached at, the usual one first, the
// names last: not every phone finds them.
func ways(s network.State) []Way {
	var hosts []string
	for _, a := range s.Addresses {
		hosts = append(hosts, a.String())
	}
	if s.Announced && len(hosts) > 0 {
		hosts = append(hosts, network.Name)
	}
	var list []Way
	for _, h := range hosts {
		if s.SecurePort == 0 {
			break
		}
		list = append(list, Way{Plain: "http://" + join(h, s.Port, 80), Secure: "https://" + join(h, s.SecurePort, 443)})
	}
	return list
}

func join(host string, port, usual int) string {
	if port == usual {
		return strings.TrimSuffix(net.JoinHostPort(host, ""), ":")
	}
	return net.JoinHostPort(host, strconv.Itoa(port))
}

// quiet is the white border a reader of QR codes needs, modules (ISO/IEC 18004).
const quiet = 4

// picture draws text as a QR code, black on white in the dark too.
func picture(text string) (template.HTML, error) {
	code, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		return "", err
	}
	n := code.Size()
	var path strings.Builder
	for y := range n {
		for x := 0; x < n; x++ {
			run := 0
			for x+run < n && code.Module(x+run, y) {
				run++
			}
			if run > 0 {
				fmt.Fprintf(&path, "M%d %dh%dv1h-%dz", x+quiet, y+quiet, run, run)
				x += run
			}
		}
	}
	side := n + 2*quiet
	return template.HTML(fmt.Sprintf(`<svg class="code-picture" viewBox="0 0 %d %d" role="img" aria-label="The address and the code, to be read with the camera" shape-rendering="crispEdges"><rect width="%d" height="%d" fill="#fff"/><path d="%s" fill="#000"/></svg>`,
		side, side, side, side, path.String())), nil // numbers alone stand in it
}

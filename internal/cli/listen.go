package cli

import (
	"net"
	"os/exec"
	"runtime"
	"strconv"

	"vatside/internal/fault"
)

// usualListen is where the program listens unless told otherwise.
const usualListen = "127.0.0.1:8017"

// portsTried is how many ports from the usual one on are tried.
const portsTried = 20

// listen opens the address. The usual one gives way to the next free port; one
// that was asked for does not. Faults: Invalid, Busy.
func listen(address string) (net.Listener, error) {
	host, port, err := loopback(address)
	if err != nil {
		return nil, err
	}
	tries := 1
	if address == usualListen {
		tries = portsTried
	}
	var ln net.Listener
	for i := range tries {
		if ln, err = net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(port+i))); err == nil {
			return ln, nil
		}
	}
	if tries > 1 {
		return nil, fault.Busy("The ports %d to %d cannot be used (%v): name another, such as --listen 127.0.0.1:9000.", port, port+tries-1, reason(err))
	}
	return nil, fault.Busy("The program cannot listen on %s (%v): name another port, or close what listens there.", address, reason(err))
}

// loopback returns host and port of an address of this machine alone.
func loopback(address string) (string, int, error) {
	host, text, err := net.SplitHostPort(address)
	port, bad := strconv.Atoi(text)
	if err != nil || bad != nil || port < 0 || port > 65535 {
		return "", 0, fault.Invalid("--listen", "Give an address and a port, such as %s.", usualListen)
	}
	if host == "localhost" {
		host = "127.0.0.1"
	}
	if ip := net.ParseIP(host); ip == nil || !ip.IsLoopback() {
		return "", 0, fault.Invalid("--listen", "The program listens on this machine alone, such as %s; phones and tablets join by the page Phones and tablets.", usualListen)
	}
	return host, port, nil
}

// Browse opens an address in the reader's browser. An error means there is
// none, and is no fault of the program.
func Browse(url string) error {
	name, args := "xdg-open", []string{url}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", url}
	}
	cmd := exec.Command(name, args...)
	if err := cmd.Start(); err != nil {
		return err
	}
	go cmd.Wait() //nolint:errcheck // only so that it leaves no dead process
	return nil
}

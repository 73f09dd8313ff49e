package cli

import (
	"os/exec"
	"runtime"
)

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

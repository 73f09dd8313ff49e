//go:build !linux && !darwin

package store

import "testing"

func TestKilledWriterLosesNothing(t *testing.T) {
	t.Skip("killing a writer with SIGKILL is tried on Linux and macOS only")
}

//go:build unix

package laps

import (
	"syscall"
	"time"
)

// processor is the time this process has spent on processors, in its own code
// and in the system's, collecting garbage included.
func processor() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

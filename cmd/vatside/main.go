// Command vatside is the program: it wires the parts together, runs one
// command and leaves with its exit code.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"vatside/internal/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	p := cli.Program{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Version: version(), Now: time.Now, Browse: cli.Browse}
	code := p.Run(ctx, os.Args[1:])
	stop()
	os.Exit(code)
}

// version is the module's version, or the commit it was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	if v := info.Main.Version; v != "" {
		return v
	}
	return "(development)"
}

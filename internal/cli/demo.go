package cli

import (
	"context"
	"fmt"
	"os"
	"runtime/debug"

	"vatside/internal/demo"
	"vatside/internal/fault"
	"vatside/internal/studio"
)

// demoCmd is the program on an invented studio.
type demoCmd struct {
	site
}

// Help tells more than the list of flags.
func (demoCmd) Help() string {
	return "The demo studio, its people and its papers are invented. What you enter is gone at the end."
}

// Run serves the demo until it is stopped, and removes it.
func (c demoCmd) Run(ctx context.Context, p *Program) (err error) {
	dir, err := os.MkdirTemp("", "vatside-demo-")
	if err != nil {
		return fault.Storage(err, "A temporary folder cannot be made: %v.", reason(err))
	}
	defer func() {
		if gone := os.RemoveAll(dir); gone != nil && err == nil {
			err = fault.Storage(gone, "The demo's folder %s could not be removed: %v.", dir, reason(gone))
		}
	}()
	return c.serve(ctx, p, dir, func(ctx context.Context, records studio.Store) error {
		fmt.Fprintln(p.Out, "This is a demo: an invented studio, gone at the end.")
		err := demo.Fill(ctx, records, p.Now())
		debug.FreeOSMemory() // what filling took is not needed again
		return err
	})
}

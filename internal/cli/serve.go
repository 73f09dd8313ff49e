package cli

import (
	"context"
	"crypto/rand"
	"fmt"
	"log/slog"
	"net"
	"path/filepath"
	"sync"

	"vatside/internal/cookery"
	"vatside/internal/device"
	"vatside/internal/fault"
	"vatside/internal/keeping"
	"vatside/internal/network"
	"vatside/internal/photo"
	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/web"
)

// serveCmd is the program as most use it.
type serveCmd struct {
	Data string `placeholder:"DIR" type:"path" default:"${data}" env:"VATSIDE_DATA" help:"Folder that holds the studio; made if it is not there. Usual: ${default}."`
	site
}

// site is how the pages are served.
type site struct {
	Listen    string `placeholder:"ADDR" default:"${listen}" help:"Address and port on this machine. Usual: ${default}, or the next free port."`
	NoBrowser bool   `help:"Do not open the browser."`
	Log       bool   `help:"Write a line for each request to standard error."`
}

// Run serves until it is stopped.
func (c serveCmd) Run(ctx context.Context, p *Program) error {
	return c.serve(ctx, p, c.Data, nil)
}

// serve opens the studio in a folder, lets fill put into it what it likes, and
// answers until ctx ends.
func (c site) serve(ctx context.Context, p *Program, dir string, fill func(context.Context, studio.Store) error) error {
	if _, _, err := loopback(c.Listen); err != nil { // before anything is made
		return err
	}
	release, err := hold(dir)
	if err != nil {
		return err
	}
	defer release()
	file, err := store.Open(ctx, filepath.Join(dir, studioFile))
	if err != nil {
		return err
	}
	defer file.Close() //nolint:errcheck // every entry was synced when it was made
	if fill != nil {
		if err := fill(ctx, file.Records()); err != nil {
			return err
		}
	}
	if err := service(file, p).Current(ctx); err != nil {
		return err
	}
	ln, err := listen(c.Listen)
	if err != nil {
		return err
	}
	log, keep := c.logger(p), keeper(file, dir, p.Now)
	if fill == nil { // what is gone at the end needs no copies
		defer keepCopies(ctx, keep, log)()
	}
	joining := device.New(file.Devices(), p.Now, rand.Reader)
	way := network.New(network.Config{Dir: dir, Port: ln.Addr().(*net.TCPAddr).Port, Log: log, Now: p.Now})
	server := web.New(web.Config{Studio: service(file, p), Cooks: cookery.New(file.Cooks(), p.Now), Photos: photo.In(filepath.Join(dir, photoFolder)), Copies: keep,
		Listen: ln.Addr().String(), Log: log, Now: p.Now, Devices: joining, Network: way})
	c.openWay(ctx, p, joining, way)
	defer way.Off()
	url := "http://" + ln.Addr().String() + "/"
	fmt.Fprintf(p.Out, "Vatside is open at %s\nThe studio is kept in %s\nStop it with Ctrl-C.\n", url, dir)
	if !c.NoBrowser {
		_ = p.Browse(url) // where there is no browser, the address stands above
	}
	if err := server.Serve(ctx, ln); err != nil {
		return fault.Storage(err, "The pages could not be served: %v.", err)
	}
	return nil
}

// openWay lets other devices in where the maker left it so. That it cannot is
// no reason not to work here.
func (c site) openWay(ctx context.Context, p *Program, joining *device.Registry, way *network.Network) {
	left, err := joining.Switch(ctx)
	if err == nil && left.AtStart {
		err = way.On(left.SecurePort)
	}
	if err != nil {
		fmt.Fprintf(p.Err, "Other devices cannot join: %s\n", oneLine(err.Error()))
	}
}

// keepCopies copies the studio day by day in the background; what it returns
// ends that and waits for a copy that is being made.
func keepCopies(ctx context.Context, keep *keeping.Keeper, log *slog.Logger) (end func()) {
	ctx, cancel := context.WithCancel(ctx)
	var running sync.WaitGroup
	running.Go(func() {
		keep.Run(ctx, func(c keeping.Copy, err error) {
			if err != nil && ctx.Err() == nil {
				log.Error("the studio could not be copied", "error", err.Error())
			}
		})
	})
	return func() { cancel(); running.Wait() }
}

func (c site) logger(p *Program) *slog.Logger {
	level := slog.LevelWarn
	if c.Log {
		level = slog.LevelInfo
	}
	return slog.New(slog.NewTextHandler(p.Err, &slog.HandlerOptions{Level: level}))
}

// Package web is the program as a browser sees it: every address, the pages
// behind them, and what guards them.
//
// It listens on this machine alone unless told otherwise, answers only to its
// own names, takes forms only from its own pages, and needs no script to be
// read or sent. Kinds of fault become statuses here and nowhere else. What
// comes from the network passes a gate of its own (network.go).
package web

import (
	"context"
	"embed"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"

	"vatside/internal/cookery"
	"vatside/internal/device"
	"vatside/internal/keeping"
	"vatside/internal/network"
	"vatside/internal/photo"
	"vatside/internal/studio"
	"vatside/internal/web/asset"
	"vatside/internal/web/page"
	vatpage "vatside/internal/web/page/vat"
)

// Listen is where the program listens unless told otherwise: this machine
// alone.
const Listen = "127.0.0.1:8017"

// Config is what the web needs from the program.
type Config struct {
	Studio  *studio.Service
	Cooks   *cookery.Service
	Photos  *photo.Folder
	Copies  *keeping.Keeper
	Listen  string           // host:port
	Hosts   []string         // further names the program is reached by
	Log     *slog.Logger     // nil: nothing is logged
	Now     func() time.Time // the studio's clock, in its own time zone
	Devices *device.Registry // who may join; nil: nobody
	Network *network.Network // the way they come in; goes with Devices
	Gallery bool             // the page of all parts, for those who build them
}

// Server answers requests.
type Server struct {
	frame   *page.Frame
	log     *slog.Logger
	handler http.Handler
	live    *vatpage.Page // what streams as long as it is shown

	fromNetwork http.Handler // what answers other devices; nil where none can join
	pairing     page.Handler // what a device without a key gets
}

//go:embed html/*.html
var files embed.FS

var faultTemplate = page.Must(files, "html/fault.html")

// New puts the pages together.
func New(c Config) *Server {
	if c.Listen == "" {
		c.Listen = Listen
	}
	if c.Log == nil {
		c.Log = discard()
	}
	if c.Now == nil {
		c.Now = time.Now
	}
	s := &Server{log: c.Log, frame: &page.Frame{Asset: asset.URL, Setting: setting(c.Studio)}}
	guard := http.NewCrossOriginProtection()
	guard.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		http.Error(w, "This form did not come from a page of this program, so nothing was done.", http.StatusForbidden)
	}))
	mux := s.routes(c)
	s.handler = logged(c.Log, secure(hosts(hostNames(c.Listen, c.Hosts), guard.Handler(mux))))
	if c.Network != nil {
		s.fromNetwork = s.outside(c, mux, guard.Handler)
		c.Network.Through(s.Network)
	}
	return s
}

// Handler answers every request of the program.
func (s *Server) Handler() http.Handler { return s.handler }

// Serve answers on the listener until the context ends, then lets running
// requests finish for ten seconds.
func (s *Server) Serve(ctx context.Context, ln net.Listener) error {
	defer context.AfterFunc(ctx, s.live.Close)()
	return s.serve(ctx, ln, s.handler, 10*time.Second, slog.LevelWarn)
}

func (s *Server) serve(ctx context.Context, ln net.Listener, h http.Handler, atMost time.Duration, level slog.Level) error {
	srv := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       time.Minute, // a photo over a poor network
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    64 << 10,
		ErrorLog:          slog.NewLogLogger(s.log.Handler(), level),
	}
	stopped := make(chan error, 1)
	go func() {
		<-ctx.Done()
		grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), atMost)
		defer cancel()
		err := srv.Shutdown(grace)
		if errors.Is(err, context.DeadlineExceeded) {
			err = srv.Close() // what streams does not end by itself
		}
		stopped <- err
	}()
	if err := srv.Serve(ln); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return <-stopped
}

// setting asks the studio for what the frame must know: a place is named in
// the head once it holds something.
func setting(s *studio.Service) func(context.Context) (page.Setting, error) {
	return func(ctx context.Context) (page.Setting, error) {
		p, err := s.Profile(ctx)
		if err != nil {
			return page.Setting{}, err
		}
		makings, err := s.Makings(ctx, studio.MakingFilter{Light: true, Limit: 2})
		if err != nil {
			return page.Setting{}, err
		}
		set := page.Setting{System: page.ReadSystem(p.System), Currency: p.Currency, Name: p.Name, New: !p.Answered}
		begun := len(makings) > 0
		recorded := false
		for _, m := range makings {
			recorded = recorded || m.Progress.Stage != studio.Preparing
		}
		set.Seen = page.Seen{Papers: begun, Makings: begun, Store: p.Answered, Studio: p.Answered, Knows: recorded}
		return set, nil
	}
}

package web

import (
	"context"
	"log/slog"
	"net"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"vatside/internal/device"
	"vatside/internal/fault"
	"vatside/internal/network"
	"vatside/internal/web/page"
)

// lastWords is how long what runs may still take when the network is switched
// off; what streams is cut then.
const lastWords = 2 * time.Second

// mostPairing is the longest form a device without a key may send, bytes.
const mostPairing = 4 << 10

// strangers are the routes that answer a device without a key. Nothing of the
// studio stands on them.
var strangers = []string{"GET /pair", "POST /pair", "GET /asset/", "GET /authority.crt"}

// atHome are the routes that answer the studio's own machine alone: a device
// that was lost, or whose key was read on its way, can let nobody else in.
var atHome = []string{"POST /studio/devices/switch", "POST /studio/devices/offer", "POST /studio/devices/{id}/revoke", "POST /studio/devices/revoke"}

// outside is the handler of what comes from the network: the names it answers
// to, the answers every browser gets, and the gate.
func (s *Server) outside(c Config, mux *http.ServeMux, formsFromHere func(http.Handler) http.Handler) http.Handler {
	g := &gate{server: s, devices: c.Devices, mux: mux}
	return logged(c.Log, secure(netHosts(c.Network.State, formsFromHere(g))))
}

// Network answers on a listener of the network until the context ends.
func (s *Server) Network(ctx context.Context, ln net.Listener) error {
	return s.serve(ctx, ln, s.fromNetwork, lastWords, slog.LevelInfo) // a phone that does not trust us is no defect
}

// netHosts answers only to the addresses of this machine in its network and its
// names there, each with the port it was reached by.
func netHosts(state func() network.State, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		names := netNames(state(), r.TLS != nil)
		if !slices.Contains(names, strings.ToLower(r.Host)) {
			http.Error(w, "This is a papermaker's own program and answers only at its own addresses.", http.StatusMisdirectedRequest)
			return
		}
		if r.TLS == nil {
			// Browsers heed it on secure addresses only, and complain elsewhere.
			w.Header().Del("Cross-Origin-Opener-Policy")
		}
		next.ServeHTTP(w, r)
	})
}

func netNames(state network.State, secure bool) []string {
	port, usual := state.Port, 80
	if secure {
		port, usual = state.SecurePort, 443
	}
	hosts := slices.Clone(state.Names)
	for _, a := range state.Addresses {
		host := a.String()
		if a.Is6() {
			host = "[" + host + "]"
		}
		hosts = append(hosts, host)
	}
	var names []string
	for _, h := range hosts {
		names = append(names, h+":"+strconv.Itoa(port))
		if port == usual {
			names = append(names, h)
		}
	}
	return names
}

// gate lets known devices through, and shows all others the way to be paired.
type gate struct {
	server  *Server
	devices *device.Registry
	mux     *http.ServeMux
}

func (g *gate) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	_, pattern := g.mux.Handler(r)
	if pattern == "GET /asset/" {
		g.mux.ServeHTTP(w, r)
		return
	}
	d, within, done, err := g.admit(r)
	var in *http.Request
	switch {
	case err == nil:
		defer done()
		if slices.Contains(atHome, pattern) {
			http.Error(w, "This is done at the machine the studio is kept on.", http.StatusForbidden)
			return
		}
		in = page.Visit(r.WithContext(within), page.Visitor{ID: d.ID, Name: d.Name})
	case fault.KindOf(err) != fault.KindNotFound:
		http.Error(w, "The studio's file could not be read. Try again in a moment.", http.StatusServiceUnavailable)
		return
	default:
		in = page.Visit(r, page.Visitor{})
		if !slices.Contains(strangers, pattern) {
			g.stranger(w, in)
			return
		}
	}
	g.mux.ServeHTTP(w, in)
	r.Pattern = in.Pattern // for the log
}

// admit finds the device among the keys a request carries.
func (g *gate) admit(r *http.Request) (device.Device, context.Context, func(), error) {
	err := fault.NotFound("no key")
	for _, key := range page.DeviceKeys(r) {
		d, within, done, no := g.devices.Admit(r.Context(), key)
		if no == nil {
			// That it was seen is worth no fault: it is written at the next page.
			_ = g.devices.Seen(r.Context(), d)
			return d, within, done, nil
		}
		err = no
	}
	return device.Device{}, nil, nil, err
}

// tellsNothing answers the faults of a device without a key by one line: the
// page of a fault would show places of the studio.
func tellsNothing(h page.Handler) page.Handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		err := h(w, r)
		if v, away := page.VisitorOf(r); err == nil || !away || v.ID != "" {
			return err
		}
		code := status(err)
		http.Error(w, headline(code)+".", code)
		return nil
	}
}

// stranger shows the way to be paired in the place of whatever was asked for.
func (g *gate) stranger(w http.ResponseWriter, r *http.Request) {
	if err := g.server.pairing(w, r); err != nil {
		g.server.log.ErrorContext(r.Context(), "defect", "route", "pair", "error", err.Error())
		http.Error(w, "Something went wrong in the program.", http.StatusInternalServerError)
	}
}

// Package network is the way in for other devices of the studio: the addresses
// of this machine in networks of its own, what listens there for http and
// https, the certificate authority behind the latter, and the name announced by
// multicast DNS. Who is answered, and what, is not its business: connections
// are handed on.
//
// Off until it is switched on. It listens on private addresses alone and turns
// away whoever calls from elsewhere. When the machine's addresses change it
// follows; where it cannot, it says so and tries again. What it keeps out and
// what not is in docs/network.md. Missing: networks told apart, so that it
// would stay shut in strange ones.
package network

import (
	"context"
	"crypto/tls"
	"errors"
	"io"
	"log/slog"
	"net"
	"net/netip"
	"slices"
	"sync"
	"time"

	"vatside/internal/fault"
)

// lookAgain is how often the machine's addresses are looked at.
const lookAgain = 10 * time.Second

// Config is what the way in needs.
type Config struct {
	Dir  string // where the authority is kept
	Port int    // the program's, for http
	// Serve answers on a listener until the context ends.
	Serve func(ctx context.Context, ln net.Listener) error
	Log   *slog.Logger

	// Set by New where they are nil.
	Addresses func() ([]netip.Addr, error)
	Ours      func(from netip.Addr) bool // who is let as far as a first word
	Announce  func(ctx context.Context, name string, addrs []netip.Addr) (io.Closer, error)
	Now       func() time.Time
}

// State is how the way in stands.
type State struct {
	On         bool
	Addresses  []netip.Addr // listened on, the usual one first
	Names      []string     // further names it is reached by
	Port       int          // of http
	SecurePort int          // of https
	Announced  bool         // the name vatside.local is answered for
	Trouble    string       // why nobody can come in although it is on; "" where they can
	Silent     string       // why the name is not announced; "" where it is, or is about to be
}

// Network is the way in.
type Network struct {
	c    Config
	own  string
	turn sync.Mutex // one switching at a time

	mu    sync.Mutex // guards what follows
	state State
	ca    *authority
	leaf  *tls.Certificate
	last  int // the port of https last used
	shut  func()
	watch context.CancelFunc
}

// New returns the way in, shut.
func New(c Config) *Network {
	if c.Addresses == nil {
		c.Addresses = Addresses
	}
	if c.Ours == nil {
		c.Ours = Near
	}
	if c.Announce == nil {
		c.Announce = Announce
	}
	if c.Now == nil {
		c.Now = time.Now
	}
	if c.Log == nil {
		c.Log = slog.New(slog.DiscardHandler)
	}
	return &Network{c: c, own: ownName()}
}

// Through sets who answers, before anything is switched on.
func (n *Network) Through(serve func(ctx context.Context, ln net.Listener) error) { n.c.Serve = serve }

// State says how it stands.
func (n *Network) State() State {
	n.mu.Lock()
	defer n.mu.Unlock()
	s := n.state
	s.Addresses, s.Names = slices.Clone(s.Addresses), slices.Clone(s.Names)
	return s
}

// On opens the way in; lastSecure is the port of https it had before, 0 for
// none. Where this machine is in no network it waits for one. Faults: Busy,
// where a port is in use; Storage, where the authority cannot be kept.
func (n *Network) On(lastSecure int) error {
	n.turn.Lock()
	defer n.turn.Unlock()
	if n.State().On {
		return nil
	}
	ca, err := loadAuthority(n.c.Dir, n.names(), n.c.Now())
	if err != nil {
		return err
	}
	n.mu.Lock()
	n.ca, n.last = ca, lastSecure
	n.mu.Unlock()
	if err := n.openUp(); err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(context.Background())
	n.mu.Lock()
	n.watch = cancel
	n.mu.Unlock()
	go n.follow(ctx)
	return nil
}

// Off shuts it: nobody comes in any more, and what runs is ended.
func (n *Network) Off() {
	n.turn.Lock()
	defer n.turn.Unlock()
	n.mu.Lock()
	watch := n.watch
	n.watch = nil
	n.mu.Unlock()
	if watch != nil {
		watch()
	}
	n.shutDown()
	n.mu.Lock()
	n.state = State{}
	n.mu.Unlock()
}

// Authority returns the certificate of the authority, for devices to trust, and
// its fingerprint. Faults: NotFound, before it was first switched on.
func (n *Network) Authority() (der []byte, print string, err error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.ca == nil {
		return nil, "", fault.NotFound("the studio has no certificate authority before devices are switched on")
	}
	return n.ca.cert.Raw, n.ca.print(), nil
}

func (n *Network) names() []string {
	if n.own == "" || n.own == Name {
		return []string{Name}
	}
	return []string{Name, n.own}
}

// openUp listens on the addresses of the moment.
func (n *Network) openUp() error {
	addrs, err := n.c.Addresses()
	if err != nil {
		return fault.Busy("The addresses of this machine cannot be read (%v).", err)
	}
	state := State{On: true, Addresses: addrs, Names: n.names(), Port: n.c.Port}
	if len(addrs) == 0 {
		state.Trouble = "This machine is in no network of its own at the moment. Devices can join as soon as it is."
		n.become(state, nil)
		return nil
	}
	n.mu.Lock()
	ca, last := n.ca, n.last
	n.mu.Unlock()
	leaf, err := ca.leaf(state.Names, addrs, n.c.Now())
	if err != nil {
		return err
	}
	o, err := listenOn(addrs, n.c.Port, last)
	if err != nil {
		return err
	}
	state.SecurePort = o.securePort
	n.mu.Lock()
	n.leaf, n.last = leaf, o.securePort
	n.mu.Unlock()
	ctx, cancel := context.WithCancel(context.Background())
	var running sync.WaitGroup
	conf := &tls.Config{MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"}, GetCertificate: n.certificate}
	for i, ln := range o.all() {
		ln = nearOnly{ln, n.c.Ours}
		if i >= len(o.plain) {
			ln = tls.NewListener(ln, conf)
		}
		running.Go(func() {
			if err := n.c.Serve(ctx, ln); err != nil && ctx.Err() == nil {
				n.c.Log.Error("the network is not answered", "error", err.Error())
			}
		})
	}
	running.Go(func() { n.announce(ctx, addrs) })
	n.become(state, func() { cancel(); running.Wait(); o.close() })
	return nil
}

func (n *Network) become(s State, shut func()) {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.state, n.shut = s, shut
}

func (n *Network) shutDown() {
	n.mu.Lock()
	shut := n.shut
	n.shut = nil
	n.mu.Unlock()
	if shut != nil {
		shut()
	}
}

// certificate is asked for at every new connection.
func (n *Network) certificate(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.c.Now().After(n.leaf.Leaf.NotBefore.Add(leafRenew)) {
		fresh, err := n.ca.leaf(n.state.Names, n.state.Addresses, n.c.Now())
		if err != nil {
			return nil, err
		}
		n.leaf = fresh
	}
	return n.leaf, nil
}

// announce answers for the name until the context ends.
func (n *Network) announce(ctx context.Context, addrs []netip.Addr) {
	said, err := n.c.Announce(ctx, Name, addrs)
	if ctx.Err() != nil {
		if err == nil {
			said.Close() //nolint:errcheck // it ends anyway
		}
		return
	}
	n.mu.Lock()
	n.state.Announced = err == nil
	switch {
	case errors.Is(err, errTaken):
		n.state.Silent = "Another machine in this network is called " + Name + " already, so the name does not lead here; the address does."
	case err != nil:
		n.state.Silent = "The name " + Name + " cannot be announced in this network; the address leads here."
		n.c.Log.Warn("the name is not announced", "error", err.Error())
	}
	n.mu.Unlock()
	if err == nil {
		<-ctx.Done()
		said.Close() //nolint:errcheck // it ends anyway
	}
}

// follow opens anew where the machine's addresses change.
func (n *Network) follow(ctx context.Context) {
	tick := time.NewTicker(lookAgain)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			n.lookAgain(ctx)
		}
	}
}

func (n *Network) lookAgain(ctx context.Context) {
	n.turn.Lock()
	defer n.turn.Unlock()
	if ctx.Err() != nil {
		return
	}
	addrs, err := n.c.Addresses()
	state := n.State()
	if err != nil || state.Trouble == "" && slices.Equal(addrs, state.Addresses) {
		return
	}
	n.shutDown()
	if err := n.openUp(); err != nil {
		n.become(State{On: true, Names: n.names(), Port: n.c.Port, Trouble: err.Error()}, nil)
	}
}

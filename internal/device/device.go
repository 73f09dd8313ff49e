// Package device lets phones and tablets of the studio in, and shuts them out
// again: an offer with a short-lived code, the pairing of one device with it,
// who is known by its key, and revoking.
//
// A key is 32 random bytes that only the device holds; kept is their SHA-256.
// An offer is for one device and five minutes, stands nowhere but in memory,
// and is void after a few wrong guesses. A revoked device is shut out at once,
// also in the middle of what it is being sent. Clock and chance are given.
// Missing: rights that differ from device to device; who is paired may do all
// that the pages do, but for what the machine of the studio keeps to itself.
package device

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"io"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"vatside/internal/fault"
)

const (
	// codeLetters are those of the printed tags: none is taken for another.
	codeLetters = "ACEFHJKMPRTWXY23456789"
	codeLength  = 8 // 22⁸ = 5 × 10¹⁰ codes
	// OfferLasts is how long a code can be used. Ours: to walk to the vat.
	OfferLasts = 5 * time.Minute
	// mostWrong voids an offer: a person mistypes once or twice, and five
	// guesses at 5 × 10¹⁰ codes find nothing.
	mostWrong = 5
	keyBytes  = 32
	longName  = 40 // characters
	// seenEvery is how exactly it is known when a device was last seen; finer
	// would write to the disk at every page.
	seenEvery = 5 * time.Minute
)

// Device is one phone, tablet or other machine that was let in.
type Device struct {
	ID     string
	Name   string
	Hash   string // hexadecimal SHA-256 of its key
	Paired time.Time
	Seen   time.Time
}

// Switch is how the maker left the way in for other devices.
type Switch struct {
	AtStart    bool // it goes on when the program starts
	SecurePort int  // the port of https last used, so that addresses stay; 0: none yet
}

// Store keeps devices and the switch. Forget takes one device away; without an
// id all of them.
type Store interface {
	Devices(ctx context.Context) ([]Device, error)
	PutDevice(ctx context.Context, d Device) error
	Forget(ctx context.Context, id string) error
	Switch(ctx context.Context) (Switch, error)
	PutSwitch(ctx context.Context, s Switch) error
}

// Offer is a code with which one device may come in.
type Offer struct {
	Code  string
	Until time.Time
}

// Spoken is the code in two halves, as it is read and typed.
func (o Offer) Spoken() string { return o.Code[:codeLength/2] + "-" + o.Code[codeLength/2:] }

// Registry lets devices in.
type Registry struct {
	store  Store
	now    func() time.Time
	random io.Reader

	door sync.RWMutex // held for writing while somebody is shut out
	in   map[string]presence
	mu   sync.Mutex // guards the offer, and in
	open *Offer
	left int // guesses before the offer is void
}

// presence ends all that a device is being sent.
type presence struct {
	ctx context.Context
	end context.CancelFunc
}

// New returns the registry over a store; random is where keys and codes come
// from.
func New(s Store, now func() time.Time, random io.Reader) *Registry {
	return &Registry{store: s, now: now, random: random, in: map[string]presence{}}
}

// Offer makes a new code; the one before is void.
func (r *Registry) Offer() (Offer, error) {
	code, err := r.drawCode()
	if err != nil {
		return Offer{}, err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.open, r.left = &Offer{Code: code, Until: r.now().Add(OfferLasts)}, mostWrong
	return *r.open, nil
}

// Offered returns the code that can be used now, if there is one.
func (r *Registry) Offered() (Offer, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if !r.alive() {
		return Offer{}, false
	}
	return *r.open, true
}

// Withdraw voids the code that was offered.
func (r *Registry) Withdraw() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.open = nil
}

func (r *Registry) alive() bool { return r.open != nil && r.now().Before(r.open.Until) }

// Pair lets one device in with the code that is offered, and returns the key it
// is known by from now on, which is kept nowhere here. Faults: Invalid, of
// "name" and of "code".
func (r *Registry) Pair(ctx context.Context, code, name string) (Device, string, error) {
	name = strings.Join(strings.Fields(name), " ")
	switch n := utf8.RuneCountInString(name); {
	case n == 0:
		return Device{}, "", fault.Invalid("name", "give the device a name, such as phone by the vat")
	case n > longName:
		return Device{}, "", fault.Invalid("name", "a name has up to %d letters", longName)
	}
	if err := r.spend(code); err != nil {
		return Device{}, "", err
	}
	bytes := make([]byte, keyBytes+8)
	if _, err := io.ReadFull(r.random, bytes); err != nil {
		return Device{}, "", &fault.Error{Kind: fault.KindInternal, Text: "no random bytes", Err: err}
	}
	key := base64.RawURLEncoding.EncodeToString(bytes[:keyBytes])
	now := r.now()
	d := Device{ID: hex.EncodeToString(bytes[keyBytes:]), Name: name, Hash: hash(key), Paired: now, Seen: now}
	if err := r.store.PutDevice(ctx, d); err != nil {
		return Device{}, "", err
	}
	return d, key, nil
}

// spend uses the offer up, or counts a wrong guess. One sentence serves for
// every reason, so that a guess learns nothing.
func (r *Registry) spend(code string) error {
	code = strings.ToUpper(strings.NewReplacer("-", "", " ", "").Replace(code))
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.alive() && subtle.ConstantTimeCompare([]byte(code), []byte(r.open.Code)) == 1 {
		r.open = nil
		return nil
	}
	if r.left--; r.left <= 0 {
		r.open = nil
	}
	return fault.Invalid("code", "this code cannot be used: it holds for one device and five minutes, and not after a few wrong tries; ask for a new one on the page Phones and tablets of the studio's own machine")
}

// Admit returns the device a key belongs to, and a context that ends when it is
// revoked; done releases it. Faults: NotFound where nobody has that key.
func (r *Registry) Admit(ctx context.Context, key string) (d Device, within context.Context, done func(), err error) {
	r.door.RLock()
	defer r.door.RUnlock()
	list, err := r.store.Devices(ctx)
	if err != nil {
		return d, nil, nil, err
	}
	known := false
	for _, one := range list {
		if key != "" && subtle.ConstantTimeCompare([]byte(one.Hash), []byte(hash(key))) == 1 {
			d, known = one, true
		}
	}
	if !known {
		return d, nil, nil, fault.NotFound("this device is not paired with the studio")
	}
	within, cancel := context.WithCancel(ctx)
	stop := context.AfterFunc(r.presence(d.ID), cancel)
	return d, within, func() { stop(); cancel() }, nil
}

func (r *Registry) presence(id string) context.Context {
	r.mu.Lock()
	defer r.mu.Unlock()
	p, ok := r.in[id]
	if !ok {
		p.ctx, p.end = context.WithCancel(context.Background())
		r.in[id] = p
	}
	return p.ctx
}

// Seen notes that a device was here, where that was not noted lately.
func (r *Registry) Seen(ctx context.Context, d Device) error {
	now := r.now()
	if now.Sub(d.Seen) < seenEvery && !now.Before(d.Seen) {
		return nil
	}
	// Not while it is being revoked, which would bring it back.
	r.door.RLock()
	defer r.door.RUnlock()
	list, err := r.store.Devices(ctx)
	if err != nil {
		return err
	}
	for _, one := range list {
		if one.ID == d.ID {
			one.Seen = now
			return r.store.PutDevice(ctx, one)
		}
	}
	return nil
}

// Devices lists those that were let in, the newest first.
func (r *Registry) Devices(ctx context.Context) ([]Device, error) { return r.store.Devices(ctx) }

// Revoke shuts a device out at once; without an id, all of them, and voids the
// code on offer.
func (r *Registry) Revoke(ctx context.Context, id string) error {
	r.door.Lock()
	defer r.door.Unlock()
	if err := r.store.Forget(ctx, id); err != nil {
		return err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if id == "" {
		r.open = nil
	}
	for one, p := range r.in {
		if id == "" || one == id {
			p.end()
			delete(r.in, one)
		}
	}
	return nil
}

// Switch returns how the maker left the way in.
func (r *Registry) Switch(ctx context.Context) (Switch, error) { return r.store.Switch(ctx) }

// Set keeps how the maker left it.
func (r *Registry) Set(ctx context.Context, s Switch) error { return r.store.PutSwitch(ctx, s) }

// drawCode draws a code, every one of them equally likely.
func (r *Registry) drawCode() (string, error) {
	// A byte above the last whole run of letters would favour the first ones.
	const whole = 256 / len(codeLetters) * len(codeLetters)
	code, one := make([]byte, 0, codeLength), make([]byte, 1)
	for len(code) < codeLength {
		if _, err := io.ReadFull(r.random, one); err != nil {
			return "", &fault.Error{Kind: fault.KindInternal, Text: "no random bytes", Err: err}
		}
		if int(one[0]) < whole {
			code = append(code, codeLetters[int(one[0])%len(codeLetters)])
		}
	}
	return string(code), nil
}

func hash(key string) string {
	sum := sha256.Sum256([]byte(key))
	return hex.EncodeToString(sum[:])
}

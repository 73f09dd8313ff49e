package device_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"vatside/internal/device"
	"vatside/internal/fault"
)

// kept is a store in memory; the one of the file is tested with the pages.
type kept struct {
	mu   sync.Mutex
	list []device.Device
	left device.Switch
}

func (k *kept) Devices(context.Context) ([]device.Device, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	return slices.Clone(k.list), nil
}

func (k *kept) PutDevice(_ context.Context, d device.Device) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.list = append(slices.DeleteFunc(k.list, func(one device.Device) bool { return one.ID == d.ID }), d)
	return nil
}

func (k *kept) Forget(_ context.Context, id string) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.list = slices.DeleteFunc(k.list, func(one device.Device) bool { return id == "" || one.ID == id })
	return nil
}

func (k *kept) Switch(context.Context) (device.Switch, error) { return k.left, nil }

func (k *kept) PutSwitch(_ context.Context, s device.Switch) error { k.left = s; return nil }

// dice is chance that comes again.
func dice(seed byte) *rand.ChaCha8 { return rand.NewChaCha8([32]byte{seed}) }

type room struct {
	*device.Registry
	store *kept
	clock time.Time
}

func newRoom(seed byte) *room {
	r := &room{store: &kept{}, clock: time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)}
	r.Registry = device.New(r.store, func() time.Time { return r.clock }, dice(seed))
	return r
}

func (r *room) offer(t rapid.TB) device.Offer {
	t.Helper()
	o, err := r.Offer()
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func TestOnlyTheHashOfTheKeyIsKept(t *testing.T) {
	t.Parallel()
	r := newRoom(1)
	d, key, err := r.Pair(t.Context(), r.offer(t).Spoken(), "  phone   by the vat ")
	if err != nil || d.Name != "phone by the vat" {
		t.Fatalf("%+v, %v", d, err)
	}
	sum := sha256.Sum256([]byte(key))
	if one := r.store.list[0]; len(r.store.list) != 1 || one.Hash != hex.EncodeToString(sum[:]) || strings.Contains(one.ID+one.Hash+one.Name, key) {
		t.Errorf("kept: %+v", r.store.list)
	}
	if len(key) < 43 { // 32 bytes in base64
		t.Errorf("the key has %d letters", len(key))
	}
	if _, _, _, err := r.Admit(t.Context(), d.Hash); fault.KindOf(err) != fault.KindNotFound {
		t.Errorf("who has read the file is let in: %v", err)
	}
}

// A code is spent, grows old, gives way to the next, and dies of guesses.
func TestCodeIsGoodOnce(t *testing.T) {
	t.Parallel()
	ctx := t.Context()
	for name, spoil := range map[string]func(*room, device.Offer) string{
		"used twice": func(r *room, o device.Offer) string {
			if _, _, err := r.Pair(ctx, strings.ToLower(o.Code), "tablet"); err != nil {
				t.Errorf("in lower case it is not taken: %v", err)
			}
			return o.Code
		},
		"old":       func(r *room, o device.Offer) string { r.clock = o.Until; return o.Code },
		"renewed":   func(r *room, o device.Offer) string { _, _ = r.Offer(); return o.Code },
		"withdrawn": func(r *room, o device.Offer) string { r.Withdraw(); return o.Code },
		"all out":   func(r *room, o device.Offer) string { _ = r.Revoke(ctx, ""); return o.Code },
		"guessed": func(r *room, o device.Offer) string {
			for range 5 {
				_, _, _ = r.Pair(ctx, "AAAAAAAA", "guess")
			}
			return o.Code
		},
		"empty": func(*room, device.Offer) string { return "" },
	} {
		r := newRoom(2)
		code := spoil(r, r.offer(t))
		before := len(r.store.list)
		if _, _, err := r.Pair(ctx, code, "phone"); fault.KindOf(err) != fault.KindInvalid || err == nil {
			t.Errorf("%s: taken (%v)", name, err)
		}
		if len(r.store.list) != before {
			t.Errorf("%s: a device was kept", name)
		}
	}
}

// Four slips of the thumb, and a name that was left out, do not void it.
func TestSlipsAreForgiven(t *testing.T) {
	t.Parallel()
	r := newRoom(3)
	o := r.offer(t)
	for range 4 {
		_, _, _ = r.Pair(t.Context(), "AAAA-AAAA", "phone")
	}
	for _, name := range []string{"", "   ", strings.Repeat("a", 41)} {
		if _, _, err := r.Pair(t.Context(), o.Code, name); err == nil {
			t.Errorf("the name %q is taken", name)
		}
	}
	if _, _, err := r.Pair(t.Context(), o.Code, "phone"); err != nil {
		t.Error(err)
	}
}

func TestShutOutAtOnce(t *testing.T) {
	t.Parallel()
	r := newRoom(4)
	keys := map[string]string{}
	var phone device.Device
	for _, name := range []string{"phone", "tablet"} {
		d, key, err := r.Pair(t.Context(), r.offer(t).Code, name)
		if err != nil {
			t.Fatal(err)
		}
		if keys[name] = key; name == "phone" {
			phone = d
		}
	}
	_, within, done, err := r.Admit(t.Context(), keys["phone"])
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	_, other, doneToo, err := r.Admit(t.Context(), keys["tablet"])
	if err != nil {
		t.Fatal(err)
	}
	defer doneToo()
	if err := r.Revoke(t.Context(), phone.ID); err != nil {
		t.Fatal(err)
	}
	<-within.Done()
	if other.Err() != nil {
		t.Error("the tablet was cut off with the phone")
	}
	if _, _, _, err := r.Admit(t.Context(), keys["phone"]); fault.KindOf(err) != fault.KindNotFound {
		t.Errorf("the phone is still let in: %v", err)
	}
	r.clock = r.clock.Add(time.Hour)
	if err := r.Seen(t.Context(), phone); err != nil || len(r.store.list) != 1 {
		t.Errorf("a late word of the phone brought it back: %v, %v", r.store.list, err)
	}
	if err := r.Revoke(t.Context(), ""); err != nil {
		t.Fatal(err)
	}
	<-other.Done()
}

// Whatever is typed, only the code on offer lets in; and codes are drawn from
// all letters alike.
func TestGuessesProperty(t *testing.T) {
	t.Parallel()
	counts := map[rune]int{}
	r := newRoom(5)
	for range 2000 {
		for _, c := range r.offer(t).Code {
			counts[c]++
		}
	}
	// 16000 draws of 22 letters: 727 each, standard deviation 26.
	if len(counts) != 22 || slices.ContainsFunc(slices.Collect(maps.Values(counts)), func(n int) bool { return n < 727-6*26 || n > 727+6*26 }) {
		t.Errorf("letters are drawn %v", counts)
	}
	rapid.Check(t, func(t *rapid.T) {
		r := newRoom(rapid.Byte().Draw(t, "seed"))
		o := r.offer(t)
		typed := rapid.StringMatching(`[ACEFHJKMPRTWXY2-9a-z -]{0,12}`).Draw(t, "typed")
		_, _, err := r.Pair(context.Background(), typed, "phone")
		same := strings.ToUpper(strings.NewReplacer("-", "", " ", "").Replace(typed)) == o.Code
		if (err == nil) != same {
			t.Fatalf("%q against %q: %v", typed, o.Code, err)
		}
	})
}

package page

import (
	"context"
	"net/http"
	"net/url"

	"vatside/internal/measure"
	"vatside/internal/web/part"
)

// Handler answers one request, or says why not; web alone turns the fault into
// a status.
type Handler func(w http.ResponseWriter, r *http.Request) error

// Place is one of the places named in the head of every page.
type Place struct {
	Name string
	Href string
}

// The places, in the order of the head.
var (
	Bench   = Place{"Bench", "/"}
	Papers  = Place{"Papers", "/papers"}
	Makings = Place{"Makings", "/makings"}
	Store   = Place{"Store", "/store"}
	Studio  = Place{"Studio", "/studio"}
	Knows   = Place{"What this studio knows", "/knows"}

	Handbook = Place{"Handbook", "/handbook"}
)

// Setting is what the frame must know of the studio before any page.
type Setting struct {
	System   measure.System // how the studio reads and types quantities
	Currency string         // ISO 4217
	Name     string
	New      bool // the questions of the first evening are not answered
	Seen     Seen
}

// Seen says which places have been used; those that were not stay out of the
// head, so that a new studio sees the bench and one brief.
type Seen struct {
	Papers, Makings, Store, Studio, Knows bool
}

// Frame sets pages: it knows the assets and asks the studio for the setting.
type Frame struct {
	Asset   func(name string) string // hashed URL of an asset
	Setting func(ctx context.Context) (Setting, error)
}

// Base is what every page struct embeds.
type Base struct {
	Title   string
	Here    string // the place this page belongs to
	Places  []Place
	Back    string // this page's own address, for the unit switch
	Speech  part.Speech
	Setting Setting
	Flash   string
	Alone   bool // nothing else can be reached from here: no places, no units
	Style   string
	Script  string
}

// Base begins a page: the setting, the reader's units and the message left by
// the last act, which is taken away here.
func (f *Frame) Base(w http.ResponseWriter, r *http.Request, title string, here Place) (Base, error) {
	set, err := f.Setting(r.Context())
	if err != nil {
		return Base{}, err
	}
	b := Base{
		Title: title, Here: here.Name, Setting: set,
		Back:   localPath(r),
		Speech: part.Speech{System: system(r, set), Currency: set.Currency},
		Flash:  takeFlash(w, r),
		Style:  f.Asset("vatside.css"),
		Script: f.Asset("main.js"),
	}
	b.Places = []Place{Bench}
	for _, p := range []struct {
		seen  bool
		place Place
	}{{set.Seen.Papers, Papers}, {set.Seen.Makings, Makings}, {set.Seen.Store, Store}, {set.Seen.Studio, Studio}, {set.Seen.Knows, Knows}, {set.Seen.Studio, Handbook}} {
		if p.seen || p.place == here {
			b.Places = append(b.Places, p.place)
		}
	}
	return b, nil
}

// System is the system of units the reader of a request wants.
func (f *Frame) System(r *http.Request) (measure.System, error) {
	set, err := f.Setting(r.Context())
	if err != nil {
		return measure.Metric, err
	}
	return system(r, set), nil
}

// TagLink is what the code on a printed paper holds: the address that finds a
// making by its tag, at the name the paper was asked for by, which is one of the
// program's own.
func TagLink(r *http.Request, tag string) string {
	scheme := "http://"
	if r.TLS != nil {
		scheme = "https://"
	}
	return scheme + r.Host + "/makings?tag=" + url.QueryEscape(tag)
}

// localPath is the page's own address where it can be asked for again; a form
// that was refused sets its own.
func localPath(r *http.Request) string {
	if r.Method != http.MethodGet {
		return "/"
	}
	return r.URL.RequestURI()
}

// Package asset bundles the scripts, the styles and the typeface once, when
// the program first needs them, and serves them under names that carry a hash
// of their content: a browser may keep them for ever, and a new program is
// seen at once.
//
// A script or style that a page names stands in entries; the modules it
// imports need no listing. Sources are the TypeScript of ts/ and the styles of
// css/, embedded, so that building the program needs Go alone. Missing: source
// maps, and compression (the longest file is a font, which hardly shrinks).
package asset

import (
	"bytes"
	"embed"
	"fmt"
	"mime"
	"net/http"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/evanw/esbuild/pkg/api"
)

//go:embed ts css
var sources embed.FS

// Prefix is where the handler is mounted.
const Prefix = "/asset/"

// entries are what pages may name, by the file they are bundled from.
var entries = []string{"ts/main.ts", "ts/vat/vat.ts", "ts/vat/worker.ts", "css/vatside.css"}

// bundle is everything served: content by its hashed name, and the hashed name
// by the plain one.
type bundle struct {
	content map[string][]byte
	hashed  map[string]string
}

// built bundles on first use. Sources and entries are part of the program, so
// a failure is a defect of ours, which the tests of this package find.
var built = sync.OnceValues(func() (bundle, error) { return build(sources, entries) })

// URL returns the address of a bundled file by its plain name, such as
// "main.js" or "vatside.css". A name that is not bundled is a defect of the
// page: URL panics, and a template reports it as an error.
func URL(name string) string {
	b, err := built()
	if err != nil {
		panic("asset: " + err.Error())
	}
	hashed, ok := b.hashed[name]
	if !ok {
		panic(fmt.Sprintf("asset: %q is not among the bundled files", name))
	}
	return Prefix + hashed
}

// Names lists the plain names of all bundled files, sorted.
func Names() ([]string, error) {
	b, err := built()
	if err != nil {
		return nil, err
	}
	var names []string
	for name := range b.hashed {
		names = append(names, name)
	}
	slices.Sort(names)
	return names, nil
}

// Handler serves the bundled files below Prefix, to be kept for ever.
func Handler() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		b, err := built()
		if err != nil {
			http.Error(w, "the scripts and styles of the program are broken: "+err.Error(), http.StatusInternalServerError)
			return
		}
		name := strings.TrimPrefix(r.URL.Path, Prefix)
		content, ok := b.content[name]
		if !ok {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		w.Header().Set("Content-Type", contentType(name))
		http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(content))
	})
}

// Plain serves one bundled file under a name of its own that does not change, to
// be asked for anew each time: a worker is known to the browser by its address.
func Plain(name string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		b, err := built()
		if err != nil {
			http.Error(w, "the scripts and styles of the program are broken: "+err.Error(), http.StatusInternalServerError)
			return
		}
		w.Header().Set("Cache-Control", "no-cache")
		w.Header().Set("Content-Type", contentType(name))
		http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(b.content[b.hashed[name]]))
	}
}

// contentType does not ask the machine it runs on for what it knows: such
// tables differ, and a script under the wrong type is refused by the browser.
func contentType(name string) string {
	switch path.Ext(name) {
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".ttf":
		return "font/ttf"
	case ".svg":
		return "image/svg+xml"
	}
	return mime.TypeByExtension(path.Ext(name))
}

// collect turns what the bundler wrote into a bundle.
func collect(files []api.OutputFile) bundle {
	b := bundle{content: map[string][]byte{}, hashed: map[string]string{}}
	for _, f := range files {
		name := path.Base(strings.ReplaceAll(f.Path, `\`, "/"))
		b.content[name] = f.Contents
		plain, rest, _ := strings.Cut(name, ".")
		_, ext, _ := strings.Cut(rest, ".")
		b.hashed[plain+"."+ext] = name
	}
	return b
}

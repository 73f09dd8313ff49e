package page

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"strconv"
	"sync"

	"vatside/internal/web/part"
)

//go:embed html/*.html
var baseFiles embed.FS

// Template is one page's templates on the base.
type Template struct {
	name string
	set  func() *template.Template
}

// common is what every page stands on: the base and the parts.
var common = sync.OnceValue(func() *template.Template {
	set := template.New("base").Funcs(part.Funcs).Option("missingkey=error")
	template.Must(set.ParseFS(baseFiles, "html/*.html"))
	return template.Must(set.ParseFS(part.Templates, "html/*.html"))
})

// Must sets a page's own files, which define "main", on the base and the parts.
// They are parsed when the page is first asked for: parsed beforehand, a dozen
// pages would make half of the program's start, also of commands that have
// none. It panics then on a fault: a page that does not parse is a defect.
func Must(files fs.FS, patterns ...string) *Template {
	return &Template{name: patterns[0], set: sync.OnceValue(func() *template.Template {
		set := template.Must(common().Clone())
		template.Must(set.ParseFS(files, patterns...))
		if set.Lookup("main") == nil {
			panic(fmt.Sprintf("page: %v define no main", patterns))
		}
		return set
	})}
}

// Write renders the page to a buffer and sends it whole, or sends nothing and
// returns the fault.
func (t *Template) Write(w http.ResponseWriter, status int, data any) error {
	return t.send(w, status, "base", data)
}

func (t *Template) send(w http.ResponseWriter, status int, name string, data any) error {
	var buf bytes.Buffer
	if err := t.set().ExecuteTemplate(&buf, name, data); err != nil {
		return fmt.Errorf("page %s: %w", t.name, err)
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Content-Length", strconv.Itoa(buf.Len()))
	h.Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, err := buf.WriteTo(w)
	if err != nil {
		// The reader went away: nothing to mend, and nothing half sent is seen.
		return nil
	}
	return nil
}

// WritePiece sends one named part of the page alone, for a script to put in
// the place of the one that stands there.
func (t *Template) WritePiece(w http.ResponseWriter, status int, name string, data any) error {
	return t.send(w, status, name, data)
}

// See sends the reader to another page after an act.
func See(w http.ResponseWriter, r *http.Request, to string) error {
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}

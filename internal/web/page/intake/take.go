package intake

import (
	"context"
	"errors"
	"net/http"
	"path"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/intake"
	"vatside/internal/measure"
	"vatside/internal/web/page"
)

// MostBody is the longest request with a file: the file, and what stands
// around it.
const MostBody = intake.MostBytes + 1<<20

// Take takes a file and goes on to what its columns hold.
func (p *Page) Take(w http.ResponseWriter, r *http.Request) error {
	name, sheets, err := readFile(w, r)
	if err != nil {
		f := &page.Form{}
		var tooLong *http.MaxBytesError
		status := http.StatusUnprocessableEntity
		switch {
		case errors.As(err, &tooLong):
			status = http.StatusRequestEntityTooLarge
			err = fault.Invalid("file", "the file is larger than %d MB; take it in in parts", intake.MostBytes>>20)
		case fault.KindOf(err) != fault.KindInvalid:
			return err
		}
		f.Refuse(err)
		return p.start(w, r, status, f)
	}
	sys, err := p.frame.System(r)
	if err != nil {
		return err
	}
	one := p.tray.put(name, sheets)
	one.mu.Lock()
	defer one.mu.Unlock()
	if err := p.guess(r.Context(), one, "", sys); err != nil {
		return err
	}
	return page.See(w, r, "/intake/"+one.id)
}

// readFile reads the file of a form as it comes.
func readFile(w http.ResponseWriter, r *http.Request) (name string, sheets []intake.Sheet, err error) {
	err = page.ReadParts(w, r, func(one *page.Sent) (err error) {
		if one.FormName() != "file" || one.FileName() == "" || sheets != nil {
			return nil
		}
		name = path.Base(strings.ReplaceAll(one.FileName(), `\`, "/"))
		if runes := []rune(name); len(runes) > 100 {
			name = string(runes[:100])
		}
		sheets, err = intake.Open(name, one)
		return err
	})
	if err == nil && sheets == nil {
		err = fault.Invalid("file", "choose a file")
	}
	return name, sheets, err
}

// guess says how the file is most probably read: as a sheet with the same
// headings was last time, else by the headings.
func (p *Page) guess(ctx context.Context, one *waiting, kind intake.Kind, sys measure.System) error {
	one.match = intake.Guess(one.sheets[one.sheet], kind, sys)
	var old intake.Matching
	found, err := p.studio.Matching(ctx, one.match.Headings(), &old)
	if found {
		one.match = one.match.Like(old)
	}
	return err
}

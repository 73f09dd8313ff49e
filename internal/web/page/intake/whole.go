package intake

import (
	"context"
	"errors"
	"net/http"
	"os"
	"path/filepath"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/intake"
	"vatside/internal/keeping"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// MostWhole bounds a studio that was handed out, bytes; ours: a working life
// with its photos.
const MostWhole = 64 << 30

// empty reports whether nothing was written down yet; what was answered on the
// first evening about the studio itself counts for nothing.
func (p *Page) empty(ctx context.Context) (bool, error) {
	papers, err := p.studio.Papers(ctx, studio.PaperFilter{})
	if err != nil || len(papers) > 0 {
		return false, err
	}
	people, err := p.studio.People(ctx)
	if err != nil || len(people) > 0 {
		return false, err
	}
	lots, err := p.studio.Lots(ctx, studio.LotFilter{})
	return len(lots) == 0, err
}

// TakeWhole makes an empty studio the one in a file that was handed out. Its
// photos are there before the records tell of them.
func (p *Page) TakeWhole(w http.ResponseWriter, r *http.Request) error {
	rotten, err := p.takeWhole(w, r)
	var tooLong *http.MaxBytesError
	switch {
	case errors.As(err, &tooLong):
		return err
	case fault.KindOf(err) == fault.KindInvalid, fault.KindOf(err) == fault.KindConflict:
		f := &page.Form{At: map[string]string{"FILE": "whole", "": "whole", "file": "whole"}}
		f.Refuse(fault.Invalid("whole", "%s", strings.TrimSuffix(page.Sentence(err), ".")))
		return p.start(w, r, http.StatusUnprocessableEntity, f)
	case err != nil:
		return err
	}
	says := "The whole studio is here."
	if rotten > 0 {
		says += " Photos that are not what they were are left out."
	}
	page.PutFlash(w, says)
	return page.See(w, r, "/")
}

func (p *Page) takeWhole(w http.ResponseWriter, r *http.Request) (rotten int, err error) {
	switch empty, err := p.empty(r.Context()); {
	case err != nil:
		return 0, err
	case !empty:
		return 0, fault.Conflict("this studio holds records already, and nothing was changed: %s", elsewhere)
	}
	room := "" // the system's
	if p.photos != "" {
		room = filepath.Dir(p.photos) // beside the studio, where there must be room for its photos
	}
	dir, err := os.MkdirTemp(room, "vatside-in-")
	if err != nil {
		return 0, fault.Storage(err, "there is no room to unpack the studio in")
	}
	defer os.RemoveAll(dir) //nolint:errcheck // nothing rests on it
	arrived := false
	err = page.ReadParts(w, r, func(one *page.Sent) error {
		if one.FormName() != "whole" || one.FileName() == "" || arrived {
			return nil
		}
		arrived = true
		return unpackFrom(one, dir)
	})
	switch {
	case err != nil:
		return 0, err
	case !arrived:
		return 0, fault.Invalid("whole", "choose the file that was saved from the other studio")
	}
	if p.photos != "" {
		if rotten, err = keeping.AddPhotos(filepath.Join(dir, intake.PhotoFolder), p.photos); err != nil {
			return 0, err
		}
	}
	_, err = intake.Import(r.Context(), p.studio, dir)
	return rotten, err
}

// elsewhere says what to do where there are records already.
const elsewhere = "start the program with a new folder, vatside serve --data NEW-FOLDER, and take it in there"

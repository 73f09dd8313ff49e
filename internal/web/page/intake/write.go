package intake

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"vatside/internal/fault"
	"vatside/internal/intake"
	"vatside/internal/web/page"
)

// Match takes over what the columns hold and shows what the sheet would do.
func (p *Page) Match(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	one, err := p.tray.get(r.PathValue("id"))
	if err != nil {
		return err
	}
	sys, err := p.frame.System(r)
	if err != nil {
		return err
	}
	one.mu.Lock()
	defer one.mu.Unlock()
	if one.work != nil {
		return page.See(w, r, "/intake/"+one.id)
	}
	sheet, err := strconv.Atoi(f.Get("sheet"))
	if err != nil || sheet < 0 || sheet >= len(one.sheets) {
		sheet = one.sheet
	}
	kind := intake.Kind(f.Get("kind"))
	if sheet != one.sheet {
		kind = ""
	}
	if sheet != one.sheet || kind != one.match.Kind { // other columns, or other things to hold
		one.sheet = sheet
		if err := p.guess(r.Context(), one, kind, sys); err != nil {
			return err
		}
		return page.See(w, r, "/intake/"+one.id)
	}
	var fields, units []string
	for i := range one.match.Columns {
		n := strconv.Itoa(i)
		fields, units = append(fields, f.Get("field-"+n)), append(units, f.Get("unit-"+n))
	}
	said := map[string]string{}
	for _, key := range usual[kind] {
		if v := f.Get("usual-" + key); v != "" {
			said[key] = v
		}
	}
	one.match = one.match.Set(fields, units, said, sys)
	if err := p.studio.KeepMatching(r.Context(), one.match.Headings(), one.match); err != nil {
		return err
	}
	return page.See(w, r, "/intake/"+one.id+"#would")
}

// patience is how long an answer waits for the work; after it a page tells of
// its going on.
const patience = 1500 * time.Millisecond

// Write writes down what a file was shown to do, all of it or nothing.
func (p *Page) Write(w http.ResponseWriter, r *http.Request) error {
	one, err := p.tray.get(r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, one.file, page.Makings)
	if err != nil {
		return err
	}
	one.mu.Lock()
	defer one.mu.Unlock()
	if one.work == nil { // pressed twice it is written once
		one.work = &work{since: p.now(), done: make(chan struct{})}
		go p.write(context.WithoutCancel(r.Context()), one.work, p.source(one, base))
	}
	select {
	case <-one.work.done:
		return p.written(w, r, one)
	case <-time.After(patience):
	case <-r.Context().Done():
	}
	return page.See(w, r, "/intake/"+one.id)
}

func (p *Page) write(ctx context.Context, job *work, s intake.Source) {
	defer close(job.done)
	// Beside a request a defect would end the program; as a fault it ends no more
	// than the work, whose writing is all or nothing.
	defer func() {
		if v := recover(); v != nil {
			job.err = fmt.Errorf("taking in: %v", v)
		}
	}()
	proposal, err := intake.Propose(ctx, p.studio, s)
	if err == nil {
		err = p.studio.KeepMatching(ctx, s.Matching.Headings(), s.Matching)
	}
	if err == nil && proposal.Batch.Import.Added+proposal.Batch.Import.Changed == 0 {
		err = fault.Invalid("", "there is nothing in it to write down")
	}
	if err == nil {
		job.made, err = p.studio.Import(ctx, proposal.Batch)
	}
	job.err = err
}

// written tells how the work ended.
func (p *Page) written(w http.ResponseWriter, r *http.Request, one *waiting) error {
	job := one.work
	if job.err != nil {
		one.work = nil
		switch fault.KindOf(job.err) {
		case fault.KindInvalid, fault.KindOutOfRange, fault.KindConflict:
			f := &page.Form{}
			f.Refuse(job.err)
			return p.look(w, r, http.StatusUnprocessableEntity, one, f)
		}
		return job.err
	}
	p.tray.drop(one.id)
	page.PutFlash(w, fmt.Sprintf("Taken in from %s: %s. It can be undone here as a whole while nothing is built upon it.", one.file, counted(job.made)))
	return page.See(w, r, "/intake")
}

// Undo takes an import back.
func (p *Page) Undo(w http.ResponseWriter, r *http.Request) error {
	was, err := p.studio.UndoImport(r.Context(), r.PathValue("id"))
	switch {
	case err == nil:
		page.PutFlash(w, fmt.Sprintf("Undone: what came from %s is gone, and the studio is as it was before.", was.File))
	case fault.KindOf(err) == fault.KindConflict, fault.KindOf(err) == fault.KindNotFound:
		page.PutFlash(w, page.Sentence(err))
	default:
		return err
	}
	return page.See(w, r, "/intake")
}

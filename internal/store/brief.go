package store

import (
	"context"
	"database/sql"

	"vatside/internal/studio"
)

// Briefs lists briefs, the earliest wanted first, those without a date last.
func (t *Tx) Briefs(ctx context.Context, f studio.BriefFilter) ([]studio.Brief, error) {
	var w where
	if f.ID != "" {
		w.add("id = ?", f.ID)
	}
	if f.PaperID != "" {
		w.add("paper_id = ?", f.PaperID)
	}
	if f.PersonID != "" {
		w.add("person_id = ?", f.PersonID)
	}
	if f.Open {
		w.conds = append(w.conds, "settled = 0")
	}
	return collect(ctx, t, func(rows *sql.Rows) (b studio.Brief, err error) {
		err = rows.Scan(&b.ID, &b.Revision, &b.PaperID, &b.PaperRevision, &b.GoodSheets, jsonColumn{&b.Sheet}, &b.ConfidencePct,
			&b.WantedBy, &b.Remarks, &b.PersonID, &b.Settled, &b.By, timeColumn{&b.Created}, timeColumn{&b.Changed})
		return b, err
	}, `SELECT id, revision, paper_id, paper_revision, good_sheets, sheet_json, confidence_pct,
			coalesce(wanted_by, ''), remarks, coalesce(person_id, ''), settled, changed_by, created_at, changed_at
		FROM brief`+w.sql()+`
		ORDER BY wanted_by IS NULL, wanted_by, created_at, id`, w.args...)
}

// PutBrief writes a brief in place of its earlier revision.
func (t *Tx) PutBrief(ctx context.Context, b studio.Brief) error {
	sheet, err := jsonText(b.Sheet)
	if err != nil {
		return err
	}
	return t.exec(ctx, `INSERT INTO brief (id, revision, paper_id, paper_revision, good_sheets, sheet_json, confidence_pct,
			wanted_by, remarks, person_id, settled, changed_by, created_at, changed_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)
		ON CONFLICT (id) DO UPDATE SET revision = excluded.revision, paper_id = excluded.paper_id,
			paper_revision = excluded.paper_revision, good_sheets = excluded.good_sheets, sheet_json = excluded.sheet_json,
			confidence_pct = excluded.confidence_pct, wanted_by = excluded.wanted_by, remarks = excluded.remarks,
			person_id = excluded.person_id, settled = excluded.settled, changed_by = excluded.changed_by,
			changed_at = excluded.changed_at`,
		b.ID, b.Revision, b.PaperID, b.PaperRevision, b.GoodSheets, sheet, b.ConfidencePct,
		optional(b.WantedBy), b.Remarks, optional(b.PersonID), b.Settled, b.By, second(b.Created), second(b.Changed))
}

// People lists people by name; with an id, only that one.
func (t *Tx) People(ctx context.Context, id string) ([]studio.Person, error) {
	var w where
	if id != "" {
		w.add("id = ?", id)
	}
	return collect(ctx, t, func(rows *sql.Rows) (p studio.Person, err error) {
		err = rows.Scan(&p.ID, &p.Name, &p.Contact, timeColumn{&p.Created})
		return p, err
	}, `SELECT id, name, contact, created_at FROM person`+w.sql()+` ORDER BY folded(name), id`, w.args...)
}

// PutPerson writes a person in place of the entry before.
func (t *Tx) PutPerson(ctx context.Context, p studio.Person) error {
	return t.exec(ctx, `INSERT INTO person (id, name, contact, created_at) VALUES ($1, $2, $3, $4)
		ON CONFLICT (id) DO UPDATE SET name = excluded.name, contact = excluded.contact`,
		p.ID, p.Name, p.Contact, second(p.Created))
}

// ErasePerson erases a person; briefs keep a blank. After the commit the log
// beside the file is emptied too, so that the name is nowhere left in it.
func (t *Tx) ErasePerson(ctx context.Context, id string) error {
	t.emptyLog = true
	return t.exec(ctx, `DELETE FROM person WHERE id = $1`, id)
}

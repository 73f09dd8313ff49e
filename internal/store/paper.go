package store

import (
	"context"
	"database/sql"

	"vatside/internal/studio"
)

// Papers lists papers by name; of one with all its revisions, newest first.
func (t *Tx) Papers(ctx context.Context, f studio.PaperFilter) ([]studio.Paper, error) {
	var w where
	if f.ID != "" {
		w.add("r.paper_id = ?", f.ID)
	}
	if f.Name != "" {
		w.add("instr(folded(r.name), ?) > 0", fold(f.Name))
	}
	switch {
	case f.ID != "" && f.Every:
	case f.ID != "" && f.Revision > 0:
		w.add("r.revision = ?", f.Revision)
	default:
		w.conds = append(w.conds, "r.revision = (SELECT max(revision) FROM paper_revision n WHERE n.paper_id = r.paper_id)")
	}
	return collect(ctx, t, func(rows *sql.Rows) (p studio.Paper, err error) {
		err = rows.Scan(&p.ID, &p.Revision, &p.Name, jsonColumn{&p.Design}, jsonColumn{&p.Sheet}, &p.Note, &p.Change,
			&p.By, timeColumn{&p.Created}, timeColumn{&p.Changed})
		return p, err
	}, `SELECT r.paper_id, r.revision, r.name, r.design_json, r.sheet_json, r.note, r.change,
			r.changed_by, p.created_at, r.changed_at
		FROM paper_revision r JOIN paper p ON p.id = r.paper_id`+w.sql()+`
		ORDER BY folded(r.name), r.paper_id, r.revision DESC`, w.args...)
}

// AppendPaper appends one revision; with the first, the paper itself.
func (t *Tx) AppendPaper(ctx context.Context, p studio.Paper) error {
	design, err := jsonText(p.Design)
	if err != nil {
		return err
	}
	sheet, err := jsonText(p.Sheet)
	if err != nil {
		return err
	}
	if p.Revision == 1 {
		if err := t.exec(ctx, `INSERT INTO paper (id, created_at) VALUES ($1, $2)`, p.ID, second(p.Created)); err != nil {
			return err
		}
	}
	return t.exec(ctx, `INSERT INTO paper_revision (paper_id, revision, name, grammage_conditioned_g_m2, design_json, sheet_json,
			note, change, changed_by, changed_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
		p.ID, p.Revision, p.Name, p.Design.GrammageConditioned, design, sheet, p.Note, p.Change, p.By, second(p.Changed))
}

package store

import (
	"context"
	"database/sql"

	"vatside/internal/studio"
)

// People lists people by name; with an id, only that one.
func (t *Tx) People(ctx context.Context, id string) ([]studio.Person, error) {
	var w where
	if id != "" {
		w.add("id = ?", id)
	}
	return collect(ctx, t, func(rows *sql.Rows) (p studio.Person, err error) {
		err = rows.Scan(&p.ID, &p.Name, &p.Contact, timeColumn{&p.Created})
		return p, err
	}, `SELECT id, name, contact, created_at FROM person`+w.sql()+` ORDER BY lower(name), id`, w.args...)
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

package store

import (
	"context"
	"database/sql"

	"vatside/internal/studio"
)

const eventColumns = `SELECT seq, id, making_id, kind, body_json, made_at, received_at, coalesce(corrects_id, '') FROM making_event`

func scanEvent(rows *sql.Rows) (e studio.Event, err error) {
	var body string
	err = rows.Scan(&e.Seq, &e.ID, &e.MakingID, &e.Kind, &body, timeColumn{&e.At}, timeColumn{&e.Received}, &e.Corrects)
	e.Body = []byte(body)
	return e, err
}

// Events lists the events of a making in the order of their arrival.
func (t *Tx) Events(ctx context.Context, makingID string) ([]studio.Event, error) {
	return collect(ctx, t, scanEvent, eventColumns+` WHERE making_id = $1 ORDER BY seq`, makingID)
}

// EventsByID lists those of the events that there are, of any making.
func (t *Tx) EventsByID(ctx context.Context, ids []string) ([]studio.Event, error) {
	list, err := jsonText(ids)
	if err != nil {
		return nil, err
	}
	return collect(ctx, t, scanEvent, eventColumns+` WHERE id IN (SELECT value FROM json_each($1)) ORDER BY seq`, list)
}

// AppendEvent appends an event and returns its place in the order of arrival.
func (t *Tx) AppendEvent(ctx context.Context, e studio.Event) (int64, error) {
	res, err := t.run(ctx, `INSERT INTO making_event (id, making_id, kind, body_json, made_at, received_at, corrects_id)
		VALUES ($1, $2, $3, $4, $5, $6, $7)`,
		e.ID, e.MakingID, string(e.Kind), string(e.Body), milli(e.At), second(e.Received), optional(e.Corrects))
	if err != nil {
		return 0, storageFault(err, "the entry could not be written")
	}
	seq, err := res.LastInsertId()
	return seq, storageFault(err, "the entry could not be written")
}

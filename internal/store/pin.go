package store

import (
	"context"
	"database/sql"
	"time"

	"vatside/internal/belief"
	"vatside/internal/source"
)

// Pins returns the values the maker fixed, by belief.
func (t *Tx) Pins(ctx context.Context) (map[string]belief.Pin, error) {
	pins := map[string]belief.Pin{}
	_, err := collect(ctx, t, func(rows *sql.Rows) (struct{}, error) {
		var key, grade string
		var p belief.Pin
		err := rows.Scan(&key, &p.Value, &grade, &p.Why)
		if err == nil {
			p.Grade, err = source.ParseGrade(grade)
		}
		pins[key] = p
		return struct{}{}, err
	}, `SELECT belief, value, grade, why FROM belief_pin`)
	return pins, err
}

// PutPin fixes a value in place of the one before.
func (t *Tx) PutPin(ctx context.Context, key string, p belief.Pin, at time.Time) error {
	return t.exec(ctx, `INSERT INTO belief_pin (belief, value, grade, why, pinned_at) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (belief) DO UPDATE SET value = excluded.value, grade = excluded.grade, why = excluded.why,
			pinned_at = excluded.pinned_at`, key, p.Value, p.Grade.String(), p.Why, second(at))
}

// ErasePin sets a value free.
func (t *Tx) ErasePin(ctx context.Context, key string) error {
	return t.exec(ctx, `DELETE FROM belief_pin WHERE belief = $1`, key)
}

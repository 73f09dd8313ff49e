package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"vatside/internal/belief"
	"vatside/internal/source"
	"vatside/internal/studio"
)

// Observations lists observations, oldest first; the maker's reason for
// leaving one out goes before the learner's.
func (t *Tx) Observations(ctx context.Context, f studio.ObservationFilter) ([]belief.Observation, error) {
	var w where
	if f.ID != "" {
		w.add("o.id = ?", f.ID)
	}
	if f.MakingID != "" {
		w.add("o.making_id = ?", f.MakingID)
	}
	if f.Belief != "" {
		w.add("o.belief = ?", f.Belief)
	}
	effects := map[string][]belief.Effect{} // makings of one paper have the same
	return collect(ctx, t, func(rows *sql.Rows) (o belief.Observation, err error) {
		var text string
		err = rows.Scan(&o.ID, &o.Making, &o.Belief, &o.Value, &o.SD, &o.Hits, &o.Trials, timeColumn{&o.At}, &o.Centre, &o.Scatter, &text, &o.Excluded)
		if err != nil || text == "" {
			return o, err
		}
		list, ok := effects[text]
		if !ok {
			if err = json.Unmarshal([]byte(text), &list); err != nil {
				return o, err
			}
			effects[text] = list
		}
		o.Effects = list
		return o, nil
	}, `SELECT o.id, o.making_id, o.belief, o.value, o.sd, o.hits, o.trials, o.observed_at, o.centre, o.scatter, o.effects_json, coalesce(x.reason, o.excluded)
		FROM observation o LEFT JOIN observation_exclusion x ON x.observation_id = o.id`+w.sql()+`
		ORDER BY o.observed_at, o.id`, w.args...)
}

// mostAtOnce is how many observations one statement writes.
const mostAtOnce = 50

// ReplaceObservations puts the list in place of all observations of a making.
func (t *Tx) ReplaceObservations(ctx context.Context, makingID string, list []belief.Observation) error {
	if err := t.exec(ctx, `DELETE FROM observation WHERE making_id = $1`, makingID); err != nil {
		return err
	}
	for some := range slices.Chunk(list, mostAtOnce) {
		var args []any
		for _, o := range some {
			effects := ""
			if o.Effects != nil {
				text, err := json.Marshal(o.Effects)
				if err != nil {
					return err
				}
				effects = string(text)
			}
			args = append(args, o.ID, makingID, o.Belief, o.Value, o.SD, o.Hits, o.Trials, milli(o.At), o.Excluded, o.Centre, o.Scatter, effects)
		}
		row := ", (" + strings.Repeat("?, ", len(args)/len(some)-1) + "?)"
		err := t.exec(ctx, `INSERT INTO observation (id, making_id, belief, value, sd, hits, trials, observed_at, excluded, centre, scatter, effects_json)
			VALUES `+strings.Repeat(row, len(some))[2:], args...)
		if err != nil {
			return err
		}
	}
	return nil
}

// Learner returns by which learner the observations were made, 0 by an older
// program, and the revision of what is known, pins and exclusions among it.
func (t *Tx) Learner(ctx context.Context) (version int, at studio.Revision, err error) {
	at.File = t.file
	err = t.tx.QueryRowContext(ctx, `SELECT learner, revision FROM learned WHERE one = 1`).Scan(&version, &at.Change)
	return version, at, storageFault(err, "what was learned could not be read")
}

// SetLearner writes by which learner they are made now.
func (t *Tx) SetLearner(ctx context.Context, version int) error {
	return t.exec(ctx, `UPDATE learned SET learner = $1 WHERE one = 1`, version)
}

// ExcludeObservation writes why an observation is left out; an empty reason
// takes it in again.
func (t *Tx) ExcludeObservation(ctx context.Context, makingID, id, reason string, at time.Time) error {
	if reason == "" {
		return t.exec(ctx, `DELETE FROM observation_exclusion WHERE observation_id = $1`, id)
	}
	return t.exec(ctx, `INSERT INTO observation_exclusion (observation_id, making_id, reason, decided_at) VALUES ($1, $2, $3, $4)
		ON CONFLICT (observation_id) DO UPDATE SET reason = excluded.reason, decided_at = excluded.decided_at`,
		id, makingID, reason, second(at))
}

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

package store

import (
	"context"
	"database/sql"
	"encoding/json"

	"vatside/internal/cookery"
)

// Cooks returns the store as package cookery takes it.
func (s *Store) Cooks() cookery.Store { return cooks{s} }

type cooks struct{ s *Store }

// Cooks lists cooks, the newest first.
func (c cooks) Cooks(ctx context.Context, id string) (list []cookery.Cook, err error) {
	err = c.s.Read(ctx, func(t *Tx) error {
		list, err = collect(ctx, t, func(rows *sql.Rows) (one cookery.Cook, err error) {
			var request, answer string
			err = rows.Scan(&one.ID, &one.Fibre, &one.LotID, &one.FromLotG, &one.DryG, &one.Alkali, &one.AlkaliPct, &one.SimmerC,
				jsonColumn{&one.Plant}, &request, &answer, jsonColumn{&one.Present}, timeColumn{&one.Begun})
			one.Request, one.Answer = []byte(request), []byte(answer)
			return one, err
		}, `SELECT id, fibre, coalesce(lot_id, ''), from_lot_g, fibre_bone_dry_g, alkali, alkali_pct_of_dry_fibre, simmer_c,
				plant_json, request_json, answer_json, present_json, begun_at
			FROM cook WHERE $1 IN ('', id) ORDER BY begun_at DESC, rowid DESC`, id)
		return err
	})
	return list, err
}

// PutCook writes a cook.
func (c cooks) PutCook(ctx context.Context, one cookery.Cook) error {
	plant, err := json.Marshal(one.Plant)
	if err != nil {
		return err
	}
	present, err := json.Marshal(one.Present)
	if err != nil {
		return err
	}
	return c.s.Write(ctx, func(t *Tx) error {
		return t.exec(ctx, `INSERT INTO cook (id, fibre, lot_id, from_lot_g, fibre_bone_dry_g, alkali, alkali_pct_of_dry_fibre, simmer_c,
				plant_json, request_json, answer_json, present_json, begun_at)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13) ON CONFLICT (id) DO NOTHING`,
			one.ID, one.Fibre, optional(one.LotID), one.FromLotG, one.DryG, one.Alkali, one.AlkaliPct, one.SimmerC,
			string(plant), string(one.Request), string(one.Answer), string(present), second(one.Begun))
	})
}

// Entries lists what happened, in the order of arrival.
func (c cooks) Entries(ctx context.Context, cookID string) (list []cookery.Entry, err error) {
	err = c.s.Read(ctx, func(t *Tx) error {
		list, err = collect(ctx, t, func(rows *sql.Rows) (e cookery.Entry, err error) {
			err = rows.Scan(&e.Seq, &e.ID, &e.CookID, &e.Kind, jsonColumn{&e.Body}, timeColumn{&e.At}, timeColumn{&e.Received}, &e.Corrects)
			return e, err
		}, `SELECT seq, id, cook_id, kind, body_json, made_at, received_at, coalesce(corrects_id, '')
			FROM cook_entry WHERE $1 IN ('', cook_id) ORDER BY seq`, cookID)
		return err
	})
	return list, err
}

// Append writes what happened, once.
func (c cooks) Append(ctx context.Context, e cookery.Entry) error {
	body, err := jsonText(e.Body)
	if err != nil {
		return err
	}
	return c.s.Write(ctx, func(t *Tx) error {
		return t.exec(ctx, `INSERT INTO cook_entry (id, cook_id, kind, body_json, made_at, received_at, corrects_id)
			VALUES ($1, $2, $3, $4, $5, $6, $7) ON CONFLICT (id) DO NOTHING`,
			e.ID, e.CookID, string(e.Kind), body, milli(e.At), second(e.Received), optional(e.Corrects))
	})
}

// Safety returns the studio's own numbers; empty where none were entered.
func (c cooks) Safety(ctx context.Context) (f cookery.Safety, err error) {
	err = c.s.Read(ctx, func(t *Tx) error {
		list, err := collect(ctx, t, func(rows *sql.Rows) (one cookery.Safety, err error) {
			err = rows.Scan(&one.Emergency, &one.Poison, &one.Doctor, &one.Water, &one.Authority, &one.LowPH, &one.HighPH)
			return one, err
		}, `SELECT emergency, poison, doctor, water, authority, low_ph, high_ph FROM cook_safety`)
		if len(list) > 0 {
			f = list[0]
		}
		return err
	})
	return f, err
}

// PutSafety keeps the studio's own numbers.
func (c cooks) PutSafety(ctx context.Context, f cookery.Safety) error {
	return c.s.Write(ctx, func(t *Tx) error {
		return t.exec(ctx, `INSERT INTO cook_safety (id, emergency, poison, doctor, water, authority, low_ph, high_ph)
			VALUES (1, $1, $2, $3, $4, $5, $6, $7)
			ON CONFLICT (id) DO UPDATE SET emergency = excluded.emergency, poison = excluded.poison, doctor = excluded.doctor,
				water = excluded.water, authority = excluded.authority, low_ph = excluded.low_ph, high_ph = excluded.high_ph`,
			f.Emergency, f.Poison, f.Doctor, f.Water, f.Authority, f.LowPH, f.HighPH)
	})
}

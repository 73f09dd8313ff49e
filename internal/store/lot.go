package store

import (
	"context"
	"database/sql"
	"math"

	"vatside/internal/studio"
)

// Lots lists lots, the oldest first, each with the sum of its movements, to a
// microgram: what adding in binary leaves over is nothing on the shelf.
func (t *Tx) Lots(ctx context.Context, f studio.LotFilter) ([]studio.Lot, error) {
	var w where
	if f.ID != "" {
		w.add("l.id = ?", f.ID)
	}
	if f.Name != "" {
		w.add("l.name = ?", f.Name)
	}
	if f.FromMaking != "" {
		w.add("l.from_making_id = ?", f.FromMaking)
	}
	if f.Open {
		w.conds = append(w.conds, "coalesce(v.sum_g, 0) > 0")
	}
	return collect(ctx, t, func(rows *sql.Rows) (l studio.Lot, err error) {
		var price *int64
		err = rows.Scan(&l.ID, &l.Name, &l.What, &l.Form, &l.MoisturePct, &price, &l.Currency, &l.Since, &l.KeepBy, &l.FromMaking,
			&l.Note, &l.SheetG, &l.GrammageG, &l.Cooked, &l.AmountG, &l.Revision, &l.By, timeColumn{&l.Created}, timeColumn{&l.Changed})
		if price != nil {
			p := float64(*price) / 100
			l.PriceKg = &p
		}
		return l, err
	}, `SELECT l.id, l.name, l.what, l.form, l.moisture_pct_wet_basis, l.price_hundredths_per_kg, l.currency, l.since, coalesce(l.keep_by, ''),
			coalesce(l.from_making_id, ''), l.note, coalesce(l.sheet_g, 0), coalesce(l.grammage_g_m2, 0), l.cooked, coalesce(v.sum_g, 0), l.revision, l.changed_by, l.created_at, l.changed_at
		FROM lot l LEFT JOIN (SELECT lot_id, round(sum(mass_g), 6) + 0.0 AS sum_g FROM lot_movement GROUP BY lot_id) v ON v.lot_id = l.id`+w.sql()+`
		ORDER BY l.since, l.created_at, l.rowid`, w.args...)
}

// PutLot writes what is said of a lot in place of what was; its amount is not
// written.
func (t *Tx) PutLot(ctx context.Context, l studio.Lot) error {
	var price any
	if l.PriceKg != nil {
		price = int64(math.Round(*l.PriceKg * 100))
	}
	return t.exec(ctx, `INSERT INTO lot (id, name, what, form, moisture_pct_wet_basis, price_hundredths_per_kg, currency, since, keep_by,
			from_making_id, note, revision, changed_by, created_at, changed_at, sheet_g, grammage_g_m2, cooked)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, nullif($16, 0.0), nullif($17, 0.0), $18)
		ON CONFLICT (id) DO UPDATE SET name = excluded.name, what = excluded.what, form = excluded.form,
			moisture_pct_wet_basis = excluded.moisture_pct_wet_basis, price_hundredths_per_kg = excluded.price_hundredths_per_kg,
			currency = excluded.currency, since = excluded.since, cooked = excluded.cooked, keep_by = excluded.keep_by, note = excluded.note,
			revision = excluded.revision, changed_by = excluded.changed_by, changed_at = excluded.changed_at`,
		l.ID, l.Name, l.What, string(l.Form), l.MoisturePct, price, l.Currency, l.Since, optional(l.KeepBy),
		optional(l.FromMaking), l.Note, l.Revision, l.By, second(l.Created), second(l.Changed), l.SheetG, l.GrammageG, l.Cooked)
}

// Movements lists movements in the order of their arrival.
func (t *Tx) Movements(ctx context.Context, f studio.MovementFilter) ([]studio.Movement, error) {
	var w where
	if f.ID != "" {
		w.add("id = ?", f.ID)
	}
	if f.LotID != "" {
		w.add("lot_id = ?", f.LotID)
	}
	if f.MakingID != "" {
		w.add("making_id = ?", f.MakingID)
	}
	return collect(ctx, t, func(rows *sql.Rows) (m studio.Movement, err error) {
		err = rows.Scan(&m.Seq, &m.ID, &m.LotID, &m.Kind, &m.MassG, &m.MakingID, &m.CookID, &m.Note, timeColumn{&m.At}, timeColumn{&m.Received})
		return m, err
	}, `SELECT seq, id, lot_id, kind, mass_g, coalesce(making_id, ''), coalesce(cook_id, ''), note, made_at, received_at FROM lot_movement`+w.sql()+` ORDER BY seq`, w.args...)
}

// AppendMovement appends a change of a lot's amount.
func (t *Tx) AppendMovement(ctx context.Context, m studio.Movement) error {
	return t.exec(ctx, `INSERT INTO lot_movement (id, lot_id, kind, mass_g, making_id, note, made_at, received_at, cook_id)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
		m.ID, m.LotID, string(m.Kind), m.MassG, optional(m.MakingID), m.Note, milli(m.At), second(m.Received), optional(m.CookID))
}

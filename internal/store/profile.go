package store

import (
	"context"
	"database/sql"

	"vatside/internal/studio"
)

// Profile returns the studio's profile, or that of a studio that has saved
// none.
func (t *Tx) Profile(ctx context.Context) (studio.Profile, error) {
	list, err := collect(ctx, t, func(rows *sql.Rows) (p studio.Profile, err error) {
		err = rows.Scan(&p.Name, &p.System, &p.Currency, jsonColumn{&p.Kit}, jsonColumn{&p.DefaultSheet},
			&p.ConfidencePct, &p.Answered, &p.Revision, &p.By, timeColumn{&p.Changed})
		return p, err
	}, `SELECT name, measure_system, currency, kit_json, default_sheet_json,
		confidence_pct, answered, revision, changed_by, changed_at FROM studio_profile`)
	if err != nil || len(list) == 0 {
		return studio.NewProfile(), err
	}
	return list[0], nil
}

// PutProfile writes the profile in place of the one before.
func (t *Tx) PutProfile(ctx context.Context, p studio.Profile) error {
	kit, err := jsonText(p.Kit)
	if err != nil {
		return err
	}
	sheet, err := jsonText(p.DefaultSheet)
	if err != nil {
		return err
	}
	return t.exec(ctx, `INSERT INTO studio_profile (id, name, measure_system, currency, kit_json, default_sheet_json,
			confidence_pct, answered, revision, changed_by, changed_at)
		VALUES (1, $1, $2, $3, $4, $5, $6, $7, $8, $9, $10)
		ON CONFLICT (id) DO UPDATE SET name = excluded.name, measure_system = excluded.measure_system,
			currency = excluded.currency, kit_json = excluded.kit_json, default_sheet_json = excluded.default_sheet_json,
			confidence_pct = excluded.confidence_pct, answered = excluded.answered, revision = excluded.revision,
			changed_by = excluded.changed_by, changed_at = excluded.changed_at`,
		p.Name, p.System, p.Currency, kit, sheet, p.ConfidencePct, p.Answered, p.Revision, p.By, second(p.Changed))
}

package store

import (
	"context"
	"database/sql"
	"strconv"

	"vatside/internal/figure"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// Makings lists makings, newest first.
func (t *Tx) Makings(ctx context.Context, f studio.MakingFilter) ([]studio.Making, error) {
	var w where
	if f.ID != "" {
		w.add("m.id = ?", f.ID)
	}
	if f.Tag != "" {
		w.add("m.tag = ?", f.Tag)
	}
	if f.BriefID != "" {
		w.add("m.brief_id = ?", f.BriefID)
	}
	if f.PaperID != "" {
		w.add("m.paper_id = ?", f.PaperID)
	}
	if f.Open {
		w.conds = append(w.conds, "g.stage <> 'closed'")
	}
	if f.With != "" {
		w.add("EXISTS (SELECT 1 FROM making_event e WHERE e.kind = ? AND e.making_id = m.id)", string(f.With))
	}
	frozen := "m.request_json, m.plan_json"
	if f.Light {
		frozen = "'{}', '{}'"
	}
	planColumn := func(p *plan.Plan) sql.Scanner { return jsonColumn{p} }
	if f.NoSums {
		planColumn = func(p *plan.Plan) sql.Scanner { return withoutSums{p} }
	}
	limit := ""
	if f.Limit > 0 {
		limit = " LIMIT " + strconv.Itoa(f.Limit) + " OFFSET " + strconv.Itoa(max(0, f.Skip))
	}
	return collect(ctx, t, func(rows *sql.Rows) (m studio.Making, err error) {
		err = rows.Scan(&m.ID, &m.Tag, &m.BriefID, &m.PaperID, &m.PaperRevision, &m.PaperName,
			jsonColumn{&m.Request}, planColumn(&m.Plan), timeColumn{&m.Created},
			&m.Progress.Stage, &m.Progress.Couched, &m.Progress.Good, timeColumn{&m.Progress.Since},
			&m.Progress.Furnish, &m.Progress.Use, &m.Progress.GrammageG, &m.Progress.LongMM, &m.Progress.ShortMM,
			&m.Progress.ShrinkPct, &m.Progress.CaliperMM, &m.Progress.GoodPct, &m.Progress.HandsMin)
		return m, err
	}, `SELECT m.id, m.tag, m.brief_id, m.paper_id, m.paper_revision, r.name,
			`+frozen+`, g.begun_at, g.stage, g.couched, g.good, g.since`+gistColumns+`
		FROM making m
		JOIN making_progress g ON g.making_id = m.id
		JOIN paper_revision r ON r.paper_id = m.paper_id AND r.revision = m.paper_revision`+w.sql()+`
		ORDER BY g.begun_at DESC, g.nth DESC`+limit, w.args...)
}

// withoutSums scans a plan and passes over how its figures were summed: four
// fifths of it.
type withoutSums struct{ plan *plan.Plan }

func (c withoutSums) Scan(v any) error {
	var short struct {
		*plan.Plan
		Figures map[string]struct {
			figure.Figure
			Sum passedOver `json:"sum"`
		} `json:"figures"`
	}
	short.Plan = c.plan
	if err := (jsonColumn{&short}).Scan(v); err != nil {
		return err
	}
	if short.Figures != nil {
		c.plan.Figures = make(map[string]figure.Figure, len(short.Figures))
	}
	for key, f := range short.Figures {
		c.plan.Figures[key] = f.Figure
	}
	return nil
}

type passedOver struct{}

func (*passedOver) UnmarshalJSON([]byte) error { return nil }

// AppendMaking appends a making; what it was planned with is never written
// again.
func (t *Tx) AppendMaking(ctx context.Context, m studio.Making) error {
	request, err := jsonText(m.Request)
	if err != nil {
		return err
	}
	planned, err := jsonText(m.Plan)
	if err != nil {
		return err
	}
	err = t.exec(ctx, `INSERT INTO making (id, tag, brief_id, paper_id, paper_revision, request_json, plan_json, created_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		m.ID, m.Tag, m.BriefID, m.PaperID, m.PaperRevision, request, planned, second(m.Created))
	if err != nil {
		return err
	}
	return t.PutProgress(ctx, m.ID, m.Progress)
}

// gistColumns are the columns of a gist, of making_progress g.
const gistColumns = `, g.furnish, g.use, g.grammage_conditioned_g_m2, g.long_mm, g.short_mm, g.shrink_pct, g.caliper_mm, g.good_pct, g.hands_on_min`

// PutProgress writes how far a making has come, and what it is found by.
func (t *Tx) PutProgress(ctx context.Context, makingID string, p studio.Progress) error {
	var since any
	if !p.Since.IsZero() {
		since = milli(p.Since)
	}
	err := t.exec(ctx, `INSERT INTO making_progress (making_id, begun_at, stage, couched, good, since,
			furnish, use, grammage_conditioned_g_m2, long_mm, short_mm, shrink_pct, caliper_mm, good_pct, hands_on_min)
		VALUES ($1, (SELECT created_at FROM making WHERE id = $1), $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)
		ON CONFLICT (making_id) DO UPDATE SET stage = excluded.stage, couched = excluded.couched,
			good = excluded.good, since = excluded.since, furnish = excluded.furnish, use = excluded.use,
			grammage_conditioned_g_m2 = excluded.grammage_conditioned_g_m2, long_mm = excluded.long_mm, short_mm = excluded.short_mm,
			shrink_pct = excluded.shrink_pct, caliper_mm = excluded.caliper_mm, good_pct = excluded.good_pct, hands_on_min = excluded.hands_on_min`,
		makingID, string(p.Stage), p.Couched, p.Good, since,
		p.Furnish, p.Use, p.GrammageG, p.LongMM, p.ShortMM, p.ShrinkPct, p.CaliperMM, p.GoodPct, p.HandsMin)
	if err != nil {
		return err
	}
	return t.exec(ctx, `INSERT OR REPLACE INTO making_words (rowid, words) SELECT nth, $2 FROM making_progress WHERE making_id = $1`, makingID, p.Words)
}

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

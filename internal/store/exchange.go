package store

import (
	"context"
	"database/sql"
	"encoding/base64"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"vatside/internal/fault"
	"vatside/internal/studio"
)

// Imports lists what was taken in, the newest first.
func (t *Tx) Imports(ctx context.Context, id string) ([]studio.Import, error) {
	var w where
	if id != "" {
		w.add("id = ?", id)
	}
	return collect(ctx, t, func(rows *sql.Rows) (i studio.Import, err error) {
		err = rows.Scan(&i.ID, &i.File, &i.Kind, &i.Added, &i.Changed, timeColumn{&i.At})
		return i, err
	}, `SELECT id, file, kind, added, changed, made_at FROM import`+w.sql()+` ORDER BY made_at DESC, rowid DESC`, w.args...)
}

// AppendImport begins an import.
func (t *Tx) AppendImport(ctx context.Context, i studio.Import) error {
	return t.exec(ctx, `INSERT INTO import (id, file, kind, added, changed, made_at) VALUES ($1, $2, $3, $4, $5, $6)`,
		i.ID, i.File, i.Kind, i.Added, i.Changed, second(i.At))
}

// inPlace are the records that an import may change where they stand. What
// they were is kept beside the import.
var inPlace = []studio.Imported{studio.ImportedProfile, studio.ImportedPerson, studio.ImportedLot}

// NoteImported remembers records as they are before an import writes them.
func (t *Tx) NoteImported(ctx context.Context, importID string, what studio.Imported, ids []string) error {
	if len(ids) == 0 {
		return nil
	}
	list, err := jsonText(ids)
	if err != nil {
		return err
	}
	before, person := "NULL", "NULL"
	if slices.Contains(inPlace, what) {
		columns, err := t.columns(ctx, string(what))
		if err != nil {
			return err
		}
		var pairs []string
		for _, c := range columns {
			pairs = append(pairs, fmt.Sprintf("'%s', r.%s", c.name, c.name))
		}
		before = fmt.Sprintf("(SELECT json_object(%s) FROM %s r WHERE r.id = j.value)", strings.Join(pairs, ", "), what)
	}
	if what == studio.ImportedPerson {
		person = "j.value"
	}
	return t.exec(ctx, `INSERT INTO import_item (import_id, record, id, before_json, person_id)
		SELECT $1, $2, j.value, `+before+`, `+person+` FROM json_each($3) j`, importID, string(what), list)
}

// builtUpon are the questions whether something rests on an import, with what
// is said when it does. Each asks with the import's id.
var builtUpon = []struct{ question, says string }{
	{`SELECT count(*) FROM import_item i JOIN making_event e ON e.making_id = i.id WHERE i.import_id = $1 AND i.record = 'making'
		AND (substr(e.id, 1, length(i.id) + 1) <> i.id || '/' OR EXISTS (SELECT 1 FROM import_item o WHERE o.record = 'making_event' AND o.id = e.id))`,
		"something was written down to %d of its makings since"},
	{`SELECT count(*) FROM import_item i JOIN making m ON m.brief_id = i.id WHERE i.import_id = $1 AND i.record = 'brief'
		AND NOT EXISTS (SELECT 1 FROM import_item o WHERE o.import_id = $1 AND o.record = 'making' AND o.id = m.id)`,
		"%d makings were begun from its wishes since"},
	{`SELECT count(*) FROM import_item i JOIN brief b ON i.id = b.paper_id || '/' || b.paper_revision WHERE i.import_id = $1 AND i.record = 'paper_revision'
		AND NOT EXISTS (SELECT 1 FROM import_item o WHERE o.import_id = $1 AND o.record = 'brief' AND o.id = b.id)`,
		"%d briefs ask for its papers since"},
	{`SELECT count(*) FROM import_item i JOIN paper_revision p ON i.id = p.paper_id || '/' || (p.revision - 1) WHERE i.import_id = $1 AND i.record = 'paper_revision'`,
		"%d of its papers were changed since"},
	{`SELECT count(*) FROM import_item i JOIN brief b ON b.person_id = i.id WHERE i.import_id = $1 AND i.record = 'person' AND i.before_json IS NULL
		AND NOT EXISTS (SELECT 1 FROM import_item o WHERE o.import_id = $1 AND o.record = 'brief' AND o.id = b.id)`,
		"%d briefs name its customers since"},
	{`SELECT count(DISTINCT i.id) FROM import_item i JOIN import_item o ON o.record = 'person' AND o.id = i.id AND o.rowid > i.rowid
		WHERE i.import_id = $1 AND i.record = 'person'`,
		"a later import says more of %d of its customers: undo that one first"},
	{`SELECT count(*) FROM import_item i JOIN lot_movement v ON v.lot_id = i.id WHERE i.import_id = $1 AND i.record = 'lot' AND i.before_json IS NULL
		AND NOT EXISTS (SELECT 1 FROM import_item o WHERE o.import_id = $1 AND o.record = 'lot_movement' AND o.id = v.id)`,
		"its lots were used or counted since, %d times"},
	{`SELECT count(*) FROM import_item i JOIN lot l ON l.from_making_id = i.id WHERE i.import_id = $1 AND i.record = 'making'`,
		"%d lots were kept from its makings since"},
	{`SELECT count(*) FROM import_item i JOIN lot l ON l.id = i.id WHERE i.import_id = $1 AND i.record = 'lot'
		AND l.revision <> coalesce(json_extract(i.before_json, '$.revision'), 0) + 1`,
		"%d of its lots were changed since"},
	{`SELECT count(*) FROM import_item i JOIN brief b ON b.id = i.id WHERE i.import_id = $1 AND i.record = 'brief' AND b.revision <> 1`,
		"%d of its wishes were changed since"},
	{`SELECT count(*) FROM import_item i JOIN studio_profile p WHERE i.import_id = $1 AND i.record = 'studio_profile'
		AND p.revision <> coalesce(json_extract(i.before_json, '$.revision'), 0) + 1`,
		"the studio's equipment or fibres were changed since"},
}

// gone are the statements that take away what an import added, in an order in
// which nothing is left pointing at what is gone.
var gone = []string{
	`DELETE FROM lot_movement WHERE id IN (SELECT id FROM import_item WHERE import_id = $1 AND record = 'lot_movement')`,
	`DELETE FROM making_event WHERE id IN (SELECT id FROM import_item WHERE import_id = $1 AND record = 'making_event')`,
	`DELETE FROM making_event WHERE making_id IN (SELECT id FROM import_item WHERE import_id = $1 AND record = 'making')`,
	`DELETE FROM making_words WHERE rowid IN (SELECT g.nth FROM making_progress g JOIN import_item i ON i.id = g.making_id WHERE i.import_id = $1 AND i.record = 'making')`,
	`DELETE FROM making WHERE id IN (SELECT id FROM import_item WHERE import_id = $1 AND record = 'making')`,
	`DELETE FROM lot WHERE id IN (SELECT id FROM import_item WHERE import_id = $1 AND record = 'lot' AND before_json IS NULL)`,
	`DELETE FROM brief WHERE id IN (SELECT id FROM import_item WHERE import_id = $1 AND record = 'brief')`,
	`DELETE FROM paper_revision WHERE paper_id || '/' || revision IN (SELECT id FROM import_item WHERE import_id = $1 AND record = 'paper_revision')`,
	`DELETE FROM paper WHERE id || '/1' IN (SELECT id FROM import_item WHERE import_id = $1 AND record = 'paper_revision')`,
	`DELETE FROM studio_profile WHERE EXISTS (SELECT 1 FROM import_item WHERE import_id = $1 AND record = 'studio_profile' AND before_json IS NULL)`,
}

// UndoImport takes away what an import added, puts back what it changed, and
// returns the makings that lost entries.
func (t *Tx) UndoImport(ctx context.Context, id string) ([]string, error) {
	for _, b := range builtUpon {
		var n int
		if err := t.tx.QueryRowContext(ctx, b.question, id).Scan(&n); err != nil {
			return nil, storageFault(err, "the import could not be undone")
		}
		if n > 0 {
			says := b.says
			if strings.Contains(says, "%d") {
				says = fmt.Sprintf(says, n)
			}
			return nil, fault.Conflict("this import cannot be undone any more: %s", says)
		}
	}
	makings, err := collect(ctx, t, scanText, `SELECT DISTINCT e.making_id FROM import_item i JOIN making_event e ON e.id = i.id
		WHERE i.import_id = $1 AND i.record = 'making_event' ORDER BY 1`, id)
	if err != nil {
		return nil, err
	}
	if err := t.exec(ctx, `UPDATE import SET undoing = 1 WHERE id = $1`, id); err != nil {
		return nil, err
	}
	for _, statement := range gone {
		if _, err := t.tx.ExecContext(ctx, statement, id); err != nil {
			var lite *sqlite.Error
			if errors.As(err, &lite) && lite.Code()&0xff == sqlite3.SQLITE_CONSTRAINT {
				return nil, fault.Conflict("this import cannot be undone any more: something was built upon it since")
			}
			return nil, storageFault(err, "the import could not be undone")
		}
	}
	for _, what := range inPlace {
		if err := t.putBack(ctx, id, string(what)); err != nil {
			return nil, err
		}
	}
	t.emptyLog = true // a name that came by mistake is nowhere left
	err = t.exec(ctx, `DELETE FROM person WHERE id IN (SELECT id FROM import_item WHERE import_id = $1 AND record = 'person' AND before_json IS NULL)`, id)
	if err != nil {
		return nil, err
	}
	return makings, t.exec(ctx, `DELETE FROM import WHERE id = $1`, id)
}

func scanText(rows *sql.Rows) (s string, err error) {
	err = rows.Scan(&s)
	return s, err
}

// putBack writes rows as they were before an import.
func (t *Tx) putBack(ctx context.Context, importID, table string) error {
	columns, err := t.columns(ctx, table)
	if err != nil {
		return err
	}
	var set []string
	for _, c := range columns {
		if c.name != "id" {
			set = append(set, fmt.Sprintf("%s = json_extract(i.before_json, '$.%s')", c.name, c.name))
		}
	}
	return t.exec(ctx, `UPDATE `+table+` AS r SET `+strings.Join(set, ", ")+` FROM import_item i
		WHERE i.import_id = $1 AND i.record = '`+table+`' AND i.before_json IS NOT NULL AND i.id = CAST(r.id AS TEXT)`, importID)
}

// column is a column of a table: its type, and whether blank means nothing.
type column struct {
	name, kind string
	null       bool
}

func (t *Tx) columns(ctx context.Context, table string) ([]column, error) {
	return collect(ctx, t, func(rows *sql.Rows) (c column, err error) {
		var notNull, key int
		err = rows.Scan(&c.name, &c.kind, &notNull, &key)
		c.null = notNull == 0 && key == 0
		return c, err
	}, `SELECT name, type, "notnull", pk FROM pragma_table_info($1) ORDER BY cid`, table)
}

// notOwn are the tables that are not the studio's own: what is worked out from
// others, what the program brings, and the account of imports.
const notOwn = `'making_progress', 'observation', 'learned', 'event_kind', 'goose_db_version', 'import', 'import_item', 'import_matching'`

func (t *Tx) ownTables(ctx context.Context) ([]string, error) {
	return collect(ctx, t, scanText, `SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite%' AND name NOT IN (`+notOwn+`) ORDER BY name`)
}

// Tables hands over the studio's tables in the order of their names, rows in
// the order in which they were written.
func (t *Tx) Tables(ctx context.Context, each func(studio.Table) error) error {
	names, err := t.ownTables(ctx)
	if err != nil {
		return err
	}
	for _, name := range names {
		columns, err := t.columns(ctx, name)
		if err != nil {
			return err
		}
		table := studio.Table{Name: name}
		for _, c := range columns {
			table.Columns = append(table.Columns, c.name)
			table.Text = append(table.Text, c.kind == "TEXT" || c.kind == "ANY")
		}
		table.Rows, err = collect(ctx, t, func(rows *sql.Rows) ([]string, error) { return scanRow(rows, len(columns)) },
			`SELECT `+strings.Join(table.Columns, ", ")+` FROM `+name+` ORDER BY rowid`)
		if err != nil {
			return err
		}
		if err := each(table); err != nil {
			return err
		}
	}
	return nil
}

// scanRow reads a row as text from which the same value is read again.
func scanRow(rows *sql.Rows, n int) ([]string, error) {
	cells, at := make([]any, n), make([]any, n)
	for i := range cells {
		at[i] = &cells[i]
	}
	if err := rows.Scan(at...); err != nil {
		return nil, err
	}
	out := make([]string, n)
	for i, c := range cells {
		switch v := c.(type) {
		case nil:
		case string:
			out[i] = v
		case int64:
			out[i] = strconv.FormatInt(v, 10)
		case float64:
			out[i] = strconv.FormatFloat(v, 'g', -1, 64)
		case []byte:
			out[i] = base64.StdEncoding.EncodeToString(v)
		default:
			return nil, fmt.Errorf("a value of type %T", c)
		}
	}
	return out, nil
}

// FillTable writes the rows of a table that has none. The profile is put in
// the place of one that is there.
func (t *Tx) FillTable(ctx context.Context, table studio.Table) error {
	names, err := t.ownTables(ctx)
	if err != nil {
		return err
	}
	if !slices.Contains(names, table.Name) {
		return fault.Invalid("", "there is no table %q in a studio; was this written by a newer program?", table.Name)
	}
	if table.Name == string(studio.ImportedProfile) {
		err = t.exec(ctx, `DELETE FROM studio_profile`)
	} else {
		var n int
		err = t.tx.QueryRowContext(ctx, `SELECT count(*) FROM `+table.Name).Scan(&n)
		if n > 0 {
			return fault.Conflict("a whole studio is taken in only where there is none yet; this one holds records already")
		}
	}
	if err == nil { // the tables come in the order of their names
		err = t.exec(ctx, `PRAGMA defer_foreign_keys = 1`)
	}
	if err != nil {
		return storageFault(err, "the studio could not be written")
	}
	kinds, places, err := t.match(ctx, table)
	if err != nil {
		return err
	}
	insert, err := t.tx.PrepareContext(ctx, `INSERT INTO `+table.Name+` (`+strings.Join(table.Columns, ", ")+`) VALUES (`+strings.Join(places, ", ")+`)`)
	if err != nil {
		return storageFault(err, "the studio could not be written")
	}
	defer insert.Close() //nolint:errcheck // the transaction ends it too
	for i, row := range table.Rows {
		values, err := valuesOf(row, kinds)
		if err == nil {
			_, err = insert.ExecContext(ctx, values...)
		}
		if err != nil {
			return fault.Invalid("", "row %d of the table %s cannot be a studio's: %v", i+1, table.Name, err)
		}
	}
	return nil
}

// match finds the columns of a table that is to be filled.
func (t *Tx) match(ctx context.Context, table studio.Table) (kinds []column, places []string, err error) {
	columns, err := t.columns(ctx, table.Name)
	if err != nil {
		return nil, nil, err
	}
	for i, name := range table.Columns {
		at := slices.IndexFunc(columns, func(c column) bool { return c.name == name })
		if at < 0 || slices.Index(table.Columns, name) != i {
			return nil, nil, fault.Invalid("", "the table %s has no column %q, or has it twice; was this written by a newer program?", table.Name, name)
		}
		kinds = append(kinds, columns[at])
		places = append(places, "$"+strconv.Itoa(i+1))
	}
	return kinds, places, nil
}

func valuesOf(row []string, kinds []column) ([]any, error) {
	if len(row) != len(kinds) {
		return nil, fmt.Errorf("it has %d cells instead of %d", len(row), len(kinds))
	}
	out := make([]any, len(row))
	for i, c := range row {
		switch {
		case c == "" && kinds[i].null:
		case kinds[i].kind == "BLOB":
			b, err := base64.StdEncoding.DecodeString(c)
			if err != nil {
				return nil, err
			}
			out[i] = b
		default:
			out[i] = c // the file reads numbers out of text, or refuses it
		}
	}
	return out, nil
}

// Matching returns how a sheet with those headings was read last; "" if none
// was.
func (t *Tx) Matching(ctx context.Context, headings string) (string, error) {
	list, err := collect(ctx, t, scanText, `SELECT matching_json FROM import_matching WHERE headings = $1`, headings)
	if err != nil || len(list) == 0 {
		return "", err
	}
	return list[0], nil
}

// PutMatching remembers how a sheet with those headings is read.
func (t *Tx) PutMatching(ctx context.Context, headings, matching string, at time.Time) error {
	return t.exec(ctx, `INSERT INTO import_matching (headings, matching_json, used_at) VALUES ($1, $2, $3)
		ON CONFLICT (headings) DO UPDATE SET matching_json = excluded.matching_json, used_at = excluded.used_at`, headings, matching, second(at))
}

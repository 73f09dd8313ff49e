package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"encoding/json"
	"strconv"
	"strings"
	"time"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"
	"modernc.org/sqlite"

	"vatside/internal/fault"
)

// Times are UTC text of fixed width, so that they sort as they are.
const (
	secondText = "2006-01-02T15:04:05Z"
	milliText  = "2006-01-02T15:04:05.000Z"
)

func second(t time.Time) string { return t.UTC().Format(secondText) }

func milli(t time.Time) string { return t.UTC().Format(milliText) }

// where collects conditions; the ? of each becomes its numbered placeholder.
type where struct {
	conds []string
	args  []any
}

func (w *where) add(cond string, arg any) {
	w.args = append(w.args, arg)
	w.conds = append(w.conds, strings.Replace(cond, "?", "$"+strconv.Itoa(len(w.args)), 1))
}

func (w *where) sql() string {
	if len(w.conds) == 0 {
		return ""
	}
	return " WHERE " + strings.Join(w.conds, " AND ")
}

// exec runs one statement.
func (t *Tx) exec(ctx context.Context, query string, args ...any) error {
	_, err := t.run(ctx, query, args...)
	return storageFault(err, "the record could not be written")
}

// run runs one statement. One that comes again in the same transaction is read
// once only: an import writes the same few many thousand times.
func (t *Tx) run(ctx context.Context, query string, args ...any) (sql.Result, error) {
	stmt, again := t.read[query]
	if !again {
		if t.read == nil {
			t.read = map[string]*sql.Stmt{}
		}
		t.read[query] = nil
		return t.tx.ExecContext(ctx, query, args...)
	}
	if stmt == nil {
		var err error
		if stmt, err = t.tx.PrepareContext(ctx, query); err != nil {
			return nil, err
		}
		t.read[query] = stmt // closed with the transaction
	}
	return stmt.ExecContext(ctx, args...)
}

// collect runs a query and reads every row with scan.
func collect[T any](ctx context.Context, t *Tx, scan func(*sql.Rows) (T, error), query string, args ...any) ([]T, error) {
	rows, err := t.tx.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, storageFault(err, "the record could not be read")
	}
	defer rows.Close() //nolint:errcheck // Err below tells
	var list []T
	for rows.Next() {
		one, err := scan(rows)
		if err != nil {
			return nil, storageFault(err, "the record could not be read")
		}
		list = append(list, one)
	}
	return list, storageFault(rows.Err(), "the record could not be read")
}

// jsonText writes v for a column of JSON.
func jsonText(v any) (string, error) {
	b, err := json.Marshal(v)
	if err != nil {
		return "", &fault.Error{Kind: fault.KindInternal, Text: "the record holds a number that cannot be written", Err: err}
	}
	return string(b), nil
}

// timeColumn scans either form of time; null leaves the zero time.
type timeColumn struct{ t *time.Time }

func (c timeColumn) Scan(v any) error {
	if v == nil {
		*c.t = time.Time{}
		return nil
	}
	text, _ := v.(string)
	t, err := time.Parse(time.RFC3339Nano, text)
	*c.t = t.UTC()
	return err
}

// jsonColumn scans a column of JSON into v.
type jsonColumn struct{ v any }

func (c jsonColumn) Scan(v any) error {
	text, _ := v.(string)
	return json.Unmarshal([]byte(text), c.v)
}

// optional writes the empty text as null.
func optional(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// The database's own lower() knows only the letters a to z. folded() is for
// questions, never for the schema: other programs have no such function.
func init() {
	sqlite.MustRegisterDeterministicScalarFunction("folded", 1, func(_ *sqlite.FunctionContext, args []driver.Value) (driver.Value, error) {
		text, ok := args[0].(string)
		if !ok {
			return args[0], nil
		}
		return fold(text), nil
	})
}

// fold brings text to the form in which it is compared: in any case, with and
// without accents, as the index of words has it.
func fold(text string) string {
	if strings.IndexFunc(text, func(r rune) bool { return r > unicode.MaxASCII }) < 0 {
		return strings.ToLower(text)
	}
	// a chain cannot be shared between connections
	out, _, err := transform.String(transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), cases.Fold(), norm.NFC), text)
	if err != nil {
		return text
	}
	return out
}

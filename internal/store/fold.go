package store

import (
	"database/sql/driver"
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"
	"modernc.org/sqlite"
)

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

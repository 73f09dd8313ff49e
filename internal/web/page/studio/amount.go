package studio

import (
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/web/part"
)

// amount asks for a quantity in the reader's units.
func amount[T any](at string, fd part.Field, kind measure.Kind, unit string, of val[T]) blank[T] {
	fd.Kind, fd.Mode = part.Number, "decimal"
	if kind == measure.OfCount {
		fd.Mode = "numeric"
	}
	b := blank[T]{Field: fd, at: at, kind: kind, unit: unit}
	b.write = func(s part.Speech, v *T) string {
		if n := of.get(v); n != nil {
			return number(s, *n, kind, unit)
		}
		return ""
	}
	b.read = func(s part.Speech, field, typed string, v *T) error {
		if typed == "" {
			of.set(v, nil)
			return nil
		}
		n, err := quantity(s, field, typed, kind, fd.Label)
		if err == nil {
			of.set(v, &n)
		}
		return err
	}
	return b
}

// asked is a quantity that is worked with and not kept.
func asked[T any](by string, fd part.Field, kind measure.Kind, unit string) blank[T] {
	fd.Kind, fd.Mode = part.Number, "decimal"
	return blank[T]{Field: fd, by: by, kind: kind, unit: unit, write: func(part.Speech, *T) string { return "" }}
}

func quantity(s part.Speech, field, typed string, kind measure.Kind, label string) (float64, error) {
	if kind == measure.OfCount {
		n, err := part.Count(field, typed, 0, 100_000, strings.ToLower(label))
		return float64(n), err
	}
	return s.Read(field, typed, kind)
}

// words asks for a text or for one of a few words.
func words[T any](at string, fd part.Field, of func(*T) *string) blank[T] {
	if fd.Kind == "" {
		fd.Kind = part.Text
	}
	return blank[T]{Field: fd, at: at,
		write: func(_ part.Speech, v *T) string { return *of(v) },
		read:  func(_ part.Speech, _, typed string, v *T) error { *of(v) = typed; return nil }}
}

// size asks for two sides at once.
func size[T any](at string, fd part.Field, long, short val[T]) blank[T] {
	fd.Kind = part.Text
	return blank[T]{Field: fd, at: at, kind: measure.OfLength, unit: "mm",
		write: func(s part.Speech, v *T) string {
			if a, b := long.get(v), short.get(v); a != nil && b != nil {
				return s.SizeName(*a, *b)
			}
			return ""
		},
		read: func(s part.Speech, field, typed string, v *T) error {
			if typed == "" {
				long.set(v, nil)
				short.set(v, nil)
				return nil
			}
			a, b, err := s.ReadSize(field, typed)
			if err != nil {
				var c, d measure.Length
				if c, d, err = measure.ReadSize(typed, s.System); err != nil {
					return fault.Invalid(field, "%s", fault.All(err)[0].Text)
				}
				a, b = float64(max(c, d)), float64(min(c, d))
			}
			long.set(v, &a)
			short.set(v, &b)
			return nil
		}}
}

// number writes a number as it is typed: exactly where it is kept in the unit
// it is shown in, rounded with its unit elsewhere.
func number(s part.Speech, v float64, kind measure.Kind, unit string) string {
	shown := shownUnit(kind, unit, s)
	if !s.US() || shown == unit {
		return part.Written(v)
	}
	n, u := s.Show(v, unit)
	if u == shown || strings.TrimSuffix(shown, "s") == u {
		return n
	}
	return n + " " + u
}

// shownUnit is the unit of a bare number in the reader's system.
func shownUnit(kind measure.Kind, unit string, s part.Speech) string {
	if u := s.Bare(kind); u != "" && s.US() {
		return u
	}
	return unit
}

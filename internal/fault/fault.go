// Package fault holds the kinds of error Vatside tells apart.
//
// It knows nothing of HTTP, SQL or exit codes: only web maps kinds to
// statuses, only cli to exit codes. Texts are one plain sentence that says
// what would be right.
package fault

import (
	"errors"
	"fmt"
	"strings"
)

// Kind is what went wrong, told apart by what the caller can do about it.
type Kind int

// The kinds, from the caller's mistakes to ours.
const (
	KindInternal   Kind = iota // a defect of ours
	KindInvalid                // a field or key holds something that cannot be meant
	KindOutOfRange             // a number outside what the formula or the trade allows
	KindNotFound               // no such record
	KindConflict               // somebody else changed it first
	KindBusy                   // try again shortly
	KindInfeasible             // asked rightly, but it cannot be done
	KindStorage                // the file could not be read or written
)

// String returns the kind's name for logs and tests.
func (k Kind) String() string {
	names := [...]string{"internal", "invalid", "out of range", "not found", "conflict", "busy", "infeasible", "storage"}
	if k < 0 || int(k) >= len(names) {
		return "internal"
	}
	return names[k]
}

// Error is one fault. Field is the JSON path of the request key or the name of
// the form field it belongs to ("" where it belongs to none).
type Error struct {
	Kind  Kind
	Field string
	Text  string
	Err   error
}

// Error returns the field, where there is one, and the sentence.
func (e *Error) Error() string {
	if e.Field == "" {
		return e.Text
	}
	return e.Field + ": " + e.Text
}

// Unwrap returns the cause, or nil.
func (e *Error) Unwrap() error { return e.Err }

// Invalid returns a fault of a field whose content cannot be meant.
func Invalid(field, format string, args ...any) error {
	return &Error{Kind: KindInvalid, Field: field, Text: fmt.Sprintf(format, args...)}
}

// OutOfRange returns a fault of a number outside its range; the sentence
// carries the range.
func OutOfRange(field, format string, args ...any) error {
	return &Error{Kind: KindOutOfRange, Field: field, Text: fmt.Sprintf(format, args...)}
}

// NotFound returns a fault for a record that does not exist.
func NotFound(format string, args ...any) error {
	return &Error{Kind: KindNotFound, Text: fmt.Sprintf(format, args...)}
}

// Conflict returns a fault for a record that was changed in between.
func Conflict(format string, args ...any) error {
	return &Error{Kind: KindConflict, Text: fmt.Sprintf(format, args...)}
}

// Busy returns a fault that goes away by itself.
func Busy(format string, args ...any) error {
	return &Error{Kind: KindBusy, Text: fmt.Sprintf(format, args...)}
}

// Infeasible returns a fault for a request that is right but cannot be met.
func Infeasible(field, format string, args ...any) error {
	return &Error{Kind: KindInfeasible, Field: field, Text: fmt.Sprintf(format, args...)}
}

// Storage wraps an error of the file underneath.
func Storage(err error, format string, args ...any) error {
	return &Error{Kind: KindStorage, Text: fmt.Sprintf(format, args...), Err: err}
}

// List is several faults at once, one to a field, in the order found.
type List []*Error

// Error joins the sentences.
func (l List) Error() string {
	texts := make([]string, len(l))
	for i, e := range l {
		texts[i] = e.Error()
	}
	return strings.Join(texts, "; ")
}

// Unwrap lets errors.Is and errors.As look into the list.
func (l List) Unwrap() []error {
	errs := make([]error, len(l))
	for i, e := range l {
		errs[i] = e
	}
	return errs
}

// Add appends err, flattening lists; nil is ignored, a foreign error becomes
// an internal fault.
func (l *List) Add(err error) {
	if err == nil {
		return
	}
	var list List
	if errors.As(err, &list) {
		*l = append(*l, list...)
		return
	}
	var one *Error
	if errors.As(err, &one) {
		*l = append(*l, one)
		return
	}
	*l = append(*l, &Error{Kind: KindInternal, Text: err.Error(), Err: err})
}

// OrNil returns the list as an error, or nil when it is empty.
func (l List) OrNil() error {
	if len(l) == 0 {
		return nil
	}
	return l
}

// First returns the first error of several checks, nil when there is none.
func First(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// KindOf returns the kind of err: of a list, the kind of its first fault; of a
// foreign error, KindInternal.
func KindOf(err error) Kind {
	var one *Error
	if errors.As(err, &one) {
		return one.Kind
	}
	return KindInternal
}

// Refused reports whether what was asked for was refused, by the mistake of
// whoever asked or because it cannot be done; nothing of ours is broken then.
func Refused(err error) bool {
	switch KindOf(err) {
	case KindInvalid, KindOutOfRange, KindInfeasible:
		return true
	}
	return false
}

// All returns every fault in err, in order; a foreign error comes as one
// internal fault, nil as none.
func All(err error) List {
	var l List
	l.Add(err)
	return l
}

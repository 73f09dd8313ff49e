package ask

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/google/jsonschema-go/jsonschema"

	"vatside/internal/fault"
)

// reader holds a request against its schema.
type reader struct {
	root   *jsonschema.Schema
	faults fault.List
}

// mostFaults is how many faults one reading tells. Ours: more than anybody
// mends before asking again.
const mostFaults = 25

func (r *reader) wrong(n *node, path, format string, args ...any) {
	n.bad = true
	r.add(fault.Invalid(path, format, args...))
}

func (r *reader) add(err error) {
	if len(r.faults) < mostFaults {
		r.faults.Add(err)
	}
}

// check compares a value with what belongs there.
func (r *reader) check(n *node, s *jsonschema.Schema) {
	if len(s.OneOf) > 0 {
		i := slices.IndexFunc(s.OneOf, func(one *jsonschema.Schema) bool { return fits(n, one) })
		if i < 0 {
			r.wrong(n, n.path, "%s; this is %s.", s.Description, n.told())
			return
		}
		if one := s.OneOf[i]; n.kind == isText && !slices.Contains(one.Enum, any(n.text)) {
			r.wrong(n, n.path, "%s; this is %s.", s.Description, n.told())
			return
		}
		s = s.OneOf[i]
	}
	if !fits(n, s) {
		r.wrong(n, n.path, "%s; this is %s.", wanted(n.path, s), n.told())
		return
	}
	switch n.kind {
	case isObject:
		r.object(n, s)
	case isList:
		r.list(n, s)
	case isNumber:
		r.number(n, s)
	case isText:
		if len(s.Enum) > 0 && !slices.Contains(s.Enum, any(n.text)) {
			r.wrong(n, n.path, "It must be one of %s; this says %q.", words(s.Enum), cut(n.text))
		}
	}
}

func (r *reader) object(n *node, s *jsonschema.Schema) {
	for _, key := range n.keys {
		child := n.of[key]
		if len(r.faults) >= mostFaults { // told enough; what is left is not read
			child.bad = true
			continue
		}
		if path, ok := n.twice[key]; ok {
			r.wrong(child, path, "This key is given twice: keep one.")
			continue
		}
		if of := s.Properties[key]; of != nil {
			r.check(child, of)
			continue
		}
		if open(s.AdditionalProperties) && s.PropertyNames == nil {
			r.check(child, s.AdditionalProperties)
			continue
		}
		if s.PropertyNames != nil && slices.Contains(s.PropertyNames.Enum, any(key)) {
			r.check(child, s.AdditionalProperties)
			continue
		}
		r.wrong(child, child.path, "%s", r.unknown(key, n.path, s))
	}
	for _, key := range s.Required {
		if _, there := n.of[key]; !there {
			r.add(fault.Invalid(under(n.path, key), "This key is missing: %s.", lower(wanted(key, s.Properties[key]))))
		}
	}
}

// open reports whether a schema of further keys allows any.
func open(s *jsonschema.Schema) bool { return s != nil && s.Not == nil }

func (r *reader) list(n *node, s *jsonschema.Schema) {
	least, most := 0, Most
	if s.MinItems != nil {
		least = *s.MinItems
	}
	if s.MaxItems != nil {
		most = *s.MaxItems
	}
	switch many := len(n.items); {
	case least == most && many != most:
		r.wrong(n, n.path, "%s: %d entries; this has %d.", wanted(n.path, s), most, many)
	case many < least:
		r.wrong(n, n.path, "%s; this list is empty.", wanted(n.path, s))
	case many > most:
		r.wrong(n, n.path, "A list of at most %d entries; this has %d.", most, many)
	}
	if n.bad {
		return
	}
	before := len(r.faults)
	for _, item := range n.items {
		r.check(item, s.Items)
	}
	// A list of fixed length is kept whole or not at all.
	n.bad = least == most && len(r.faults) > before
}

func (r *reader) number(n *node, s *jsonschema.Schema) {
	v, err := strconv.ParseFloat(n.text, 64)
	if err != nil || math.IsInf(v, 0) {
		r.wrong(n, n.path, "%s; %s is too large to reckon with.", wanted(n.path, s), cut(n.text))
		return
	}
	if s.Type == "integer" {
		if v != math.Trunc(v) || math.Abs(v) > 1<<53 {
			r.wrong(n, n.path, "%s; this says %s.", wanted(n.path, s), cut(n.text))
			return
		}
		n.text = strconv.FormatFloat(v, 'f', -1, 64) // 5e1 is a whole number too
	}
}

// fits reports whether a value is of the schema's type.
func fits(n *node, s *jsonschema.Schema) bool {
	switch s.Type {
	case "object":
		return n.kind == isObject
	case "array":
		return n.kind == isList
	case "number", "integer":
		return n.kind == isNumber
	case "string":
		return n.kind == isText
	case "boolean":
		return n.kind == isBool
	default:
		return true
	}
}

// told says in words what a value is.
func (n *node) told() string {
	switch n.kind {
	case isNull:
		return "null (leave the key out instead)"
	case isBool:
		return fmt.Sprint(n.yes)
	case isNumber:
		return "the number " + cut(n.text)
	case isText:
		return fmt.Sprintf("the text %q", cut(n.text))
	case isList:
		return "a list"
	default:
		return "an object"
	}
}

// wanted says what belongs at a place, with its unit and an example.
func wanted(path string, s *jsonschema.Schema) string {
	such := ""
	if len(s.Examples) > 0 {
		such = ", such as " + compact(s.Examples[0])
	}
	if s.Description != "" && s.Type == "" {
		return s.Description
	}
	switch s.Type {
	case "object":
		return "Give an object" + such
	case "array":
		return "Give a list" + such
	case "number":
		return "Give a number" + inUnit(path) + such
	case "integer":
		return "Give a whole number" + such
	case "string":
		if len(s.Enum) > 0 {
			return "Give one of the words " + words(s.Enum)
		}
		return "Give a text" + such
	default:
		return "Give true or false"
	}
}

func words(list []any) string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = fmt.Sprint(w)
	}
	return strings.Join(out, ", ")
}

// cut shortens what was typed for a message.
func cut(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

package ask

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"vatside/internal/fault"
)

// Bounds of a request.
const (
	Most     = 1 << 20 // bytes
	mostDeep = 20      // objects and lists within each other; the deepest key of a request stands at 6
)

// kind is what a JSON value is.
type kind int

const (
	isNull kind = iota
	isBool
	isNumber
	isText
	isList
	isObject
)

// node is one JSON value with its place.
type node struct {
	kind  kind
	path  string
	text  string // of a text, and of a number as written
	yes   bool
	items []*node           // of a list
	keys  []string          // of an object, in the order written
	of    map[string]*node  // of an object; a key given twice keeps the last
	twice map[string]string // keys given more than once, with their path
	bad   bool              // left out when the rest is read
}

// parse reads one JSON value and nothing after it.
func parse(b []byte) (*node, error) {
	switch {
	case len(b) > Most:
		return nil, fault.Invalid("", "A request may have at most 1 MB; this is longer.")
	case !utf8.Valid(b):
		return nil, fault.Invalid("", "A request is JSON in UTF-8; this is not readable text.")
	case len(bytes.TrimSpace(b)) == 0:
		return nil, fault.Invalid("", "There is no request: give one JSON object.")
	}
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.UseNumber()
	n, err := value(dec, "", 0)
	if err != nil {
		return nil, explain(b, dec, err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return nil, fault.Invalid("", "After the request there is more (line %d): give one JSON object and nothing after it.", lineOf(b, dec.InputOffset()))
	}
	return n, nil
}

// value reads the next value of the decoder.
func value(dec *json.Decoder, path string, deep int) (*node, error) {
	if deep > mostDeep {
		return nil, fault.Invalid("", "The request is nested more than %d deep, which no request is.", mostDeep)
	}
	t, err := dec.Token()
	if err != nil {
		return nil, err
	}
	n := &node{path: path}
	switch t := t.(type) {
	case json.Delim:
		if t == '[' {
			return n, n.list(dec, deep)
		}
		return n, n.object(dec, deep)
	case json.Number:
		n.kind, n.text = isNumber, t.String()
	case string:
		n.kind, n.text = isText, t
	case bool:
		n.kind, n.yes = isBool, t
	}
	return n, nil
}

func (n *node) list(dec *json.Decoder, deep int) error {
	n.kind = isList
	for dec.More() {
		item, err := value(dec, n.path+"["+strconv.Itoa(len(n.items))+"]", deep+1)
		if err != nil {
			return err
		}
		n.items = append(n.items, item)
	}
	_, err := dec.Token()
	return err
}

func (n *node) object(dec *json.Decoder, deep int) error {
	n.kind, n.of, n.twice = isObject, map[string]*node{}, map[string]string{}
	for dec.More() {
		t, err := dec.Token()
		if err != nil {
			return err
		}
		key, _ := t.(string) // a syntax error otherwise
		child, err := value(dec, under(n.path, key), deep+1)
		if err != nil {
			return err
		}
		if _, there := n.of[key]; there {
			n.twice[key] = child.path
		} else {
			n.keys = append(n.keys, key)
		}
		n.of[key] = child
	}
	_, err := dec.Token()
	return err
}

// under returns the path of a key. A key that is no plain word is quoted.
func under(path, key string) string {
	if len(key) > 60 {
		key = strings.ToValidUTF8(key[:60], "") + "…"
	}
	if q := strconv.Quote(key); q != `"`+key+`"` || key == "" || strings.ContainsAny(key, ". []") {
		key = q
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

// explain turns an error of the JSON reader into a sentence with its line.
func explain(b []byte, dec *json.Decoder, err error) error {
	var known *fault.Error
	if errors.As(err, &known) {
		return err
	}
	at := dec.InputOffset()
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		at = syntax.Offset
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || strings.Contains(err.Error(), "unexpected end of JSON") {
		return fault.Invalid("", "The request ends too early (line %d): a bracket or a quotation mark is not closed.", lineOf(b, int64(len(b))))
	}
	return fault.Invalid("", "The request is not JSON from line %d on: %s.", lineOf(b, at), strings.TrimPrefix(err.Error(), "json: "))
}

func lineOf(b []byte, at int64) int {
	return 1 + bytes.Count(b[:min(max(at, 0), int64(len(b)))], []byte("\n"))
}

// write writes the value again, without what is bad.
func (n *node) write(w *bytes.Buffer) {
	switch n.kind {
	case isNull:
		w.WriteString("null")
	case isBool:
		w.WriteString(strconv.FormatBool(n.yes))
	case isNumber:
		w.WriteString(n.text)
	case isText:
		q, _ := json.Marshal(n.text) // a string always can
		w.Write(q)
	case isList:
		w.WriteByte('[')
		between := ""
		for _, item := range n.items {
			if item.bad {
				continue
			}
			w.WriteString(between)
			item.write(w)
			between = ","
		}
		w.WriteByte(']')
	case isObject:
		w.WriteByte('{')
		between := ""
		for _, key := range n.keys {
			if n.of[key].bad {
				continue
			}
			q, _ := json.Marshal(key)
			w.WriteString(between)
			w.Write(q)
			w.WriteByte(':')
			n.of[key].write(w)
			between = ","
		}
		w.WriteByte('}')
	}
}

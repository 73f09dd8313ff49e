package ask

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"sync"

	"github.com/google/jsonschema-go/jsonschema"

	"vatside/internal/fault"
)

// draft is the JSON Schema that forms are written in.
const draft = "https://json-schema.org/draft/2020-12/schema"

// Form is one kind of request and its answer.
type Form[Request, Answer any] struct {
	schemas func() (request, answer *jsonschema.Schema) // made when first asked for
	check   func(Request) error
}

// newForm returns the form of two Go types. Custom are the types that write
// their JSON themselves, check is asked last, and amend adds to the request
// what types cannot say.
func newForm[Request, Answer any](title string, custom func() map[reflect.Type]*jsonschema.Schema, check func(Request) error, amend func(request *jsonschema.Schema)) *Form[Request, Answer] {
	return &Form[Request, Answer]{check: check, schemas: sync.OnceValues(func() (request, answer *jsonschema.Schema) {
		request, answer = must[Request](custom()), must[Answer](custom())
		request.Schema, answer.Schema = draft, draft
		request.Title, answer.Title = title+": request", title+": answer"
		each(request, said)
		each(answer, func(s *jsonschema.Schema) {
			if s.AdditionalProperties != nil && !open(s.AdditionalProperties) {
				s.AdditionalProperties = nil // further keys may be added to answers
			}
		})
		amend(request)
		return request, answer
	})}
}

// must makes the schema of a type. Only a type that JSON cannot hold fails,
// which is a defect that every start would show.
func must[T any](custom map[reflect.Type]*jsonschema.Schema) *jsonschema.Schema {
	s, err := jsonschema.For[T](&jsonschema.ForOptions{TypeSchemas: custom})
	if err != nil {
		panic("ask: " + err.Error())
	}
	return s
}

// said takes null from what a key may hold: what a request does not say it
// leaves out.
func said(s *jsonschema.Schema) {
	if len(s.Types) == 2 && s.Types[0] == "null" {
		s.Type, s.Types = s.Types[1], nil
	}
}

// each visits a schema and all within it.
func each(s *jsonschema.Schema, visit func(*jsonschema.Schema)) {
	if s == nil {
		return
	}
	visit(s)
	for _, p := range s.Properties {
		each(p, visit)
	}
	for _, one := range s.OneOf {
		each(one, visit)
	}
	each(s.Items, visit)
	if open(s.AdditionalProperties) {
		each(s.AdditionalProperties, visit)
	}
}

// Read reads a request. Faults: a fault.List of Invalid and OutOfRange, each
// with the path of its key and a sentence that says what would be right.
func (f *Form[Request, Answer]) Read(b []byte) (Request, error) {
	var req Request
	n, err := parse(b)
	if err != nil {
		return req, err
	}
	if n.kind != isObject {
		return req, fault.Invalid("", "A request is one JSON object; this is %s.", n.told())
	}
	schema, _ := f.schemas()
	r := reader{root: schema}
	r.check(n, schema)
	var text bytes.Buffer
	n.write(&text)
	if err := json.Unmarshal(text.Bytes(), &req); err != nil {
		if len(r.faults) == 0 {
			r.faults.Add(fault.Invalid("", "The request cannot be read: %s.", strings.TrimPrefix(err.Error(), "json: ")))
		}
		return req, r.faults
	}
	// What the sound part says is checked too, so that one reading tells all;
	// but not where a key was already found wrong or missing.
	for _, more := range fault.All(f.check(req)) {
		if len(r.faults) < mostFaults && !r.touched(more.Field) {
			r.faults = append(r.faults, more)
		}
	}
	return req, r.faults.OrNil()
}

// touched reports whether a fault is already known at a place, above it or
// below it.
func (r *reader) touched(path string) bool {
	for _, f := range r.faults {
		if path == f.Field || within(path, f.Field) || within(f.Field, path) {
			return true
		}
	}
	return false
}

func within(path, outer string) bool {
	rest, ok := strings.CutPrefix(path, outer)
	return ok && outer != "" && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// Schemas returns the JSON Schemas of the request and of the answer as one
// JSON object.
func (f *Form[Request, Answer]) Schemas() ([]byte, error) {
	request, answer := f.schemas()
	return json.MarshalIndent(struct {
		Request *jsonschema.Schema `json:"request"`
		Answer  *jsonschema.Schema `json:"answer"`
	}{request, answer}, "", "  ")
}

// at returns the schema at a path such as paper.furnish[].share_pct. A path
// that leads nowhere is a defect of the table it stands in.
func at(s *jsonschema.Schema, path string) *jsonschema.Schema {
	for _, key := range strings.Split(path, ".") {
		name, list := strings.CutSuffix(key, "[]")
		s = s.Properties[name]
		if s != nil && list {
			s = s.Items
		}
		if s == nil {
			panic(fmt.Sprintf("ask: there is no key %s", path))
		}
	}
	return s
}

func compact(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return fmt.Sprint(v)
	}
	return string(b)
}

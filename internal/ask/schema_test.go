package ask_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"vatside/internal/ask"
	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/recharge"
)

// compiled reads printed schemas with a validator that is not the one they
// were made with.
func compiled(t testing.TB, print func() ([]byte, error)) (request, answer *jsonschema.Schema) {
	t.Helper()
	b, err := print()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	for _, part := range []string{"request", "answer"} {
		s := doc.(map[string]any)[part]
		if got := s.(map[string]any)["$schema"]; got != "https://json-schema.org/draft/2020-12/schema" {
			t.Errorf("%s is written in %v", part, got)
		}
		if err := c.AddResource(part+".json", s); err != nil {
			t.Fatal(err)
		}
	}
	return c.MustCompile("request.json"), c.MustCompile("answer.json")
}

func instance(t testing.TB, text []byte) any {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestSchemasOfPlan(t *testing.T) {
	t.Parallel()
	request, answer := compiled(t, ask.Plan.Schemas)
	if err := request.Validate(instance(t, contract(t))); err != nil {
		t.Errorf("the contract's request: %v", err)
	}
	for _, c := range [][2]string{
		{`"vat_l": 80`, `"vat_ml": 80000`}, {`"vat_l": 80`, `"vat_l": "80"`}, {`"vat_l": 80`, `"vat_l": 80000`}, {`"western"`, `"eastern"`},
		{`"good_sheets": 50`, `"good_sheets": 50.5`}, {`"good_sheets": 50,`, ``}, {`"good_sheets": 50`, `"good_sheets": 50, "have": {"wet_g": 10, "solids_pct": [8, 15]}`},
		{`"stack"`, `"oven"`}, {`"deckle"`, `"torn"`}, {`"shrink_long_pct"`, `"shrink_pct"`}, {`"fibre": "abaca", `, ``},
	} {
		text := strings.Replace(string(contract(t)), c[0], c[1], 1)
		if request.Validate(instance(t, []byte(text))) == nil {
			t.Errorf("%s instead of %s passes", c[1], c[0])
		}
		if _, err := ask.Plan.Read([]byte(text)); err == nil {
			t.Errorf("%s instead of %s is read", c[1], c[0])
		}
	}
	free := bytes.Replace(contract(t), []byte(`"known": {`), []byte(`"known": {}, "x": {`), 1)
	var r map[string]any
	if err := json.Unmarshal(free, &r); err != nil {
		t.Fatal(err)
	}
	delete(r, "x")
	pail := map[string]any{"paper": r["paper"], "sheet": r["sheet"], "have": map[string]any{"wet_g": 12247, "solids_pct": []int{8, 15}, "dry_g": 1814}}
	for name, req := range map[string]any{"fixed": json.RawMessage(contract(t)), "free": r, "pail": pail} {
		text, err := json.Marshal(req)
		if err != nil {
			t.Fatal(err)
		}
		read, err := ask.Plan.Read(text)
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Make(read, belief.Known{})
		if err != nil {
			t.Fatal(err)
		}
		valid(t, name, answer, p)
	}
}

func TestSchemasOfVat(t *testing.T) {
	t.Parallel()
	request, answer := compiled(t, ask.Vat.Schemas)
	for rule, good := range map[string]bool{
		`"none"`: true, `"advised"`: true, `{"every": 3, "solids_g": 35, "stock_g_l": 30}`: true, `[{"before_sheet": 4, "stock_ml": 1166, "solids_g": 35}]`: true,
		`"often"`: false, `3`: false, `{"every": 3}`: false, `[{"stock_ml": 1166}]`: false,
	} {
		text := []byte(strings.Replace(vatRequest, `"none"`, rule, 1))
		if err := request.Validate(instance(t, text)); (err == nil) != good {
			t.Errorf("%s: %v", rule, err)
		}
		if !good {
			continue
		}
		r, err := ask.Vat.Read(text)
		if err != nil {
			t.Fatal(err)
		}
		a, err := recharge.Make(r)
		if err != nil {
			t.Fatal(err)
		}
		valid(t, rule, answer, a)
	}
}

// valid holds an answer against its schema, and asks besides that the schema
// names every key of it.
func valid(t *testing.T, name string, s *jsonschema.Schema, answer any) {
	t.Helper()
	text, err := json.Marshal(answer)
	if err != nil {
		t.Fatal(err)
	}
	v := instance(t, text)
	if err := s.Validate(v); err != nil {
		t.Errorf("%s: %v", name, err)
	}
	for _, lost := range unnamed(v, s, "") {
		t.Errorf("%s: the schema does not name %s", name, lost)
	}
}

// unnamed lists the keys of a value that its schema does not name.
func unnamed(v any, s *jsonschema.Schema, path string) (out []string) {
	switch v := v.(type) {
	case map[string]any:
		for k, child := range v {
			of := s.Properties[k]
			if more, ok := s.AdditionalProperties.(*jsonschema.Schema); ok && of == nil {
				of = more
			}
			if of == nil {
				out = append(out, path+"."+k)
				continue
			}
			out = append(out, unnamed(child, of, path+"."+k)...)
		}
	case []any:
		items := s.Items2020
		for _, child := range v {
			if items == nil {
				return append(out, path+"[]")
			}
			out = append(out, unnamed(child, items, path+"[]")...)
		}
	}
	return out
}

// The ranges of a request's schema are those its package checks: at each end a
// number passes, just outside it is refused.
func TestRangesAgree(t *testing.T) {
	t.Parallel()
	tryRanges(t, 10, ask.Plan.Schemas, ask.Plan.Read)
	tryRanges(t, 10, ask.Vat.Schemas, ask.Vat.Read)
}

func tryRanges[R any](t *testing.T, least int, print func() ([]byte, error), read func([]byte) (R, error)) {
	t.Helper()
	b, err := print()
	if err != nil {
		t.Fatal(err)
	}
	var doc struct{ Request map[string]any }
	if err := json.Unmarshal(b, &doc); err != nil {
		t.Fatal(err)
	}
	tried := 0
	var walk func(s map[string]any, path string, wrap func(string) string)
	walk = func(s map[string]any, path string, wrap func(string) string) {
		for key, of := range asMap(s["properties"]) {
			of, at := asMap(of), strings.TrimPrefix(path+"."+key, ".")
			inside := func(v string) string { return wrap(fmt.Sprintf("{%q: %s}", key, v)) }
			walk(of, at, inside)
			if items := asMap(of["items"]); items != nil {
				walk(items, at+"[0]", func(v string) string { return inside("[" + v + "]") })
			}
			low, hasLow := of["minimum"].(float64)
			high, hasHigh := of["maximum"].(float64)
			if !hasLow && !hasHigh {
				continue
			}
			tried++
			step := 1.0
			if of["type"] == "number" {
				step = (high - low) * 1e-6
			}
			for v, good := range map[float64]bool{low: true, high: true, low - step: false, high + step: false} {
				_, err := read([]byte(inside(strconv.FormatFloat(v, 'f', -1, 64))))
				refused := false
				for _, f := range fault.All(err) {
					refused = refused || f.Field == at && f.Kind == fault.KindOutOfRange
				}
				if refused == good && !(at == "vat_least_l" && v == high) { // at most vat_l, which is missing here
					t.Errorf("%s = %v: refused %v, but the schema says %v to %v: %v", at, v, refused, low, high, err)
				}
			}
		}
	}
	walk(doc.Request, "", func(v string) string { return v })
	if tried < least {
		t.Errorf("only %d ranges tried: the walk is broken", tried)
	}
}

func asMap(v any) map[string]any {
	m, _ := v.(map[string]any)
	return m
}

package ask_test

import (
	"strings"
	"testing"

	"vatside/internal/ask"
	"vatside/internal/rehearsal"
)

const simulateRequest = `{"vat_l": 80, "formed_area_m2": 0.0994, "target_formed_g_m2": 86, "sheets": 20, "policy": "advised", "recharge_every": 1, "first_weighed": 3, "weigh_every": 10, "result_delay_sheets": 0, "runs": 5, "seed": 1}`

func TestSchemasOfSimulate(t *testing.T) {
	t.Parallel()
	request, answer := compiled(t, ask.Simulate.Schemas)
	for _, policy := range rehearsal.Policies {
		text := []byte(strings.Replace(simulateRequest, "advised", policy, 1))
		if err := request.Validate(instance(t, text)); err != nil {
			t.Errorf("%s: %v", policy, err)
		}
		r, err := ask.Simulate.Read(text)
		if err != nil {
			t.Fatal(err)
		}
		a, err := rehearsal.Make(r)
		if err != nil {
			t.Fatal(err)
		}
		valid(t, policy, answer, a)
	}
	if _, err := ask.Simulate.Read([]byte(strings.Replace(simulateRequest, `"sheets": 20, `, "", 1))); err == nil {
		t.Error("a request without sheets is read")
	}
}

func TestRangesOfSimulateAgree(t *testing.T) {
	t.Parallel()
	tryRanges(t, 20, ask.Simulate.Schemas, ask.Simulate.Read)
}

package measure_test

import (
	"testing"

	"vatside/internal/measure"
)

// Factors from their definitions: 1 in = 25.4 mm, 1 US gal = 3.785411784 L,
// 1 lb = 453.59237 g, 1 psi = 6.894757 kPa.
func TestRetell(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ metric, us string }{
		{"a vat of 37.854 L; stock of 30 g/L", "a vat of 10 US gal; stock of 4.01 oz/US gal"},
		{"cut to 508 × 254 mm loses 7 %", "cut to 20 × 10 in loses 7 %"},
		{"only 68.95 kPa on sheets", "only 10 psi on sheets"},
		{"a room at 20 °C and 50 % RH", "a room at 68 °F and 50 % RH"},
		{"weighs 100 g/m².", "weighs 100 g/m²."},
		{"drains in 5 days", "drains in 5 days"},
	} {
		if got := measure.Retell(c.metric, measure.US); got != c.us {
			t.Errorf("%q is retold %q, want %q", c.metric, got, c.us)
		}
		if got := measure.Retell(c.metric, measure.Metric); got != c.metric {
			t.Errorf("%q is changed to %q for a metric reader", c.metric, got)
		}
	}
}

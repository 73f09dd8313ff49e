package measure

import (
	"math"
	"strings"
	"testing"

	"vatside/internal/fault"
)

func TestInside(t *testing.T) {
	t.Parallel()
	for _, v := range []Mass{0.1, 5, 1_000_000} {
		if err := Inside("fibre", "the fibre", v, 0.1, 1_000_000, "g"); err != nil {
			t.Error(err)
		}
	}
	for _, v := range []Mass{Mass(math.NaN()), Mass(math.Inf(1)), Mass(math.Inf(-1)), 0, -1, 0.0999, 1_000_001} {
		err := Inside("fibre", "the fibre", v, 0.1, 1_000_000, "g")
		if fault.KindOf(err) != fault.KindOutOfRange || !strings.Contains(err.Error(), "fibre: the fibre must be between 0.1 and 1000000 g; this says ") {
			t.Errorf("%v g: %v", float64(v), err)
		}
	}
}

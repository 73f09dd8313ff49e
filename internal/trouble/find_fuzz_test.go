package trouble

import (
	"strings"
	"testing"

	"vatside/internal/fault"
)

// Whatever is typed, there is one symptom or a fault of the field.
func FuzzFind(f *testing.F) {
	for _, said := range []string{"", "the", "one thick corner", "\xff", "'''", "Ränder", strings.Repeat("thin ", 400)} {
		f.Add(said)
	}
	f.Fuzz(func(t *testing.T, said string) {
		s, err := Find("symptom", said)
		if (err == nil) == (s.Key == "") || err != nil && fault.KindOf(err) != fault.KindInvalid {
			t.Fatalf("%q: %q, %v", said, s.Key, err)
		}
	})
}

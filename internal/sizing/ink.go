package sizing

import (
	"slices"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/source"
)

// InkStrip is what a line of ink does on the paper, drawn with the same pen and
// ink every time and looked at after a minute: from 1, waterleaf, to 6, too hard.
// It is this program's own scale, good for comparing a studio's papers.
type InkStrip int

// The steps of the scale.
const (
	SoaksThrough InkStrip = iota + 1 // at once, and shows on the back
	Spreads                          // the line grows to twice its width or more
	Feathers                         // hairs run out along the fibres
	SoftEdge                         // woolly only under the lens
	Sharp                            // a clean edge
	Beads                            // stands in drops and dries slowly
)

var inkWords = [...]string{"soaks through", "spreads", "feathers", "soft edge", "sharp", "beads"}

// InkStrips returns the scale, the softest first.
func InkStrips() []InkStrip {
	return []InkStrip{SoaksThrough, Spreads, Feathers, SoftEdge, Sharp, Beads}
}

// String returns the word; "" of what is not on the scale.
func (s InkStrip) String() string {
	if s < SoaksThrough || s > Beads {
		return ""
	}
	return inkWords[s-1]
}

// ForPen reports whether the paper takes a pen without feathering.
func (s InkStrip) ForPen() bool { return s == SoftEdge || s == Sharp }

// ParseInkStrip reads a step by its word or its number.
func ParseInkStrip(field, text string) (InkStrip, error) {
	if i := slices.Index(inkWords[:], source.Plain(text)); i >= 0 {
		return SoaksThrough + InkStrip(i), nil
	}
	if n, err := strconv.Atoi(strings.TrimSpace(text)); err == nil && InkStrip(n).String() != "" {
		return InkStrip(n), nil
	}
	return 0, fault.Invalid(field, "write what the ink does, as a word or a number from 1 to 6: %s", strings.Join(inkWords[:], ", "))
}

// MarshalText writes the word.
func (s InkStrip) MarshalText() ([]byte, error) {
	if s.String() == "" {
		return nil, fault.Invalid("", "An ink strip must be from 1 to 6; this says %d.", int(s))
	}
	return []byte(s.String()), nil
}

// UnmarshalText reads the word or the number.
func (s *InkStrip) UnmarshalText(b []byte) error {
	v, err := ParseInkStrip("", string(b))
	if err == nil {
		*s = v
	}
	return err
}

package paperwork

import (
	"fmt"
	"strings"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"

	"vatside/internal/typeface"
)

// faces is the type a card is set in: the studio's own for Latin, a second
// for strings with letters outside it.
type faces struct {
	main, mainBold     []byte
	second, secondBold []byte
	mainHas, secondHas *coverage
}

// loadFaces returns the type with fresh coverage tables, which are not safe
// to share between cards set at the same time.
func loadFaces() (*faces, error) {
	f := &faces{
		main: typeface.Regular, mainBold: typeface.Bold,
		second: dejavusanscondensed.TTF, secondBold: dejavusanscondensedbold.TTF,
	}
	var err error
	if f.mainHas, err = newCoverage(f.main); err != nil {
		return nil, fmt.Errorf("the main typeface cannot be read: %w", err)
	}
	if f.secondHas, err = newCoverage(f.second); err != nil {
		return nil, fmt.Errorf("the second typeface cannot be read: %w", err)
	}
	return f, nil
}

// missingSign stands for a letter that neither typeface holds. Both hold it
// in the fallback face.
const missingSign = '□'

// coverage answers which runes a typeface holds.
type coverage struct {
	font *sfnt.Font
	seen map[rune]bool
	buf  sfnt.Buffer
}

func newCoverage(ttf []byte) (*coverage, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, err
	}
	return &coverage{font: f, seen: map[rune]bool{}}, nil
}

// has reports whether the face has a glyph for r. The PDF writer addresses
// glyphs by two bytes, so nothing beyond U+FFFF counts as held.
func (c *coverage) has(r rune) bool {
	if known, ok := c.seen[r]; ok {
		return known
	}
	g, err := c.font.GlyphIndex(&c.buf, r)
	held := err == nil && g != 0 && r <= 0xFFFF
	c.seen[r] = held
	return held
}

func (c *coverage) all(s string) bool {
	for _, r := range s {
		if !c.has(r) {
			return false
		}
	}
	return true
}

// sameLook maps signs that the main face holds under another number.
var sameLook = strings.NewReplacer(
	"\u202f", "\u00a0", // narrow no-break space
	"\u2007", "\u00a0", // figure space
	"\u00b5", "\u03bc", // micro sign
	"\t", " ", "\r", " ", "\n", " ",
)

// tidy composes accents, joins lines, and drops what cannot be seen.
func tidy(s string) string {
	s = sameLook.Replace(norm.NFC.String(s))
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, s)
}

// rightToLeft reports scripts that would be printed in the wrong order.
func rightToLeft(r rune) bool {
	return unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana)
}

// settable returns s as it can be set, whether the fallback face must set it,
// and how many letters had to be replaced.
func settable(s string, main, fallback *coverage) (text string, second bool, lost int) {
	s = tidy(s)
	if main.all(s) {
		return s, false, 0
	}
	text = strings.Map(func(r rune) rune {
		if fallback.has(r) && !rightToLeft(r) {
			return r
		}
		lost++
		return missingSign
	}, s)
	return text, true, lost
}

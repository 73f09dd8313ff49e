package studio

import (
	"io"
	"strings"

	"vatside/internal/fault"
)

// Tag codes are letter digit - digit letter, such as K7-3F, and once those run
// out letter digit digit - digit digit letter. What is easily taken for
// another sign in handwriting is left out: no 0 and 1; no B (8), D and O and Q
// (0), G (6), I and L (1), N (M), S (5), U and V (W), Z (2).
const (
	tagLetters = "ACEFHJKMPRTWXY"
	tagDigits  = "23456789"
)

// drawTag returns a random code: one of 12,544 short or of 802,816 long ones.
func (s *Service) drawTag(long bool) string {
	shape := "ad-da"
	if long {
		shape = "add-dda"
	}
	pick := func(from string) byte {
		var b [1]byte
		for {
			if _, err := io.ReadFull(s.Random, b[:]); err != nil {
				panic("studio: no random bytes: " + err.Error())
			}
			// Bytes past the last whole round would favour the first signs.
			if n := 256 / len(from) * len(from); int(b[0]) < n {
				return from[int(b[0])%len(from)]
			}
		}
	}
	var tag strings.Builder
	for _, sign := range shape {
		switch sign {
		case 'a':
			tag.WriteByte(pick(tagLetters))
		case 'd':
			tag.WriteByte(pick(tagDigits))
		default:
			tag.WriteByte('-')
		}
	}
	return tag.String()
}

// ReadTag returns a tag code as it is printed from what a person typed: in any
// case, with or without the dash. Faults: Invalid.
func ReadTag(typed string) (string, error) {
	bare := strings.Map(func(r rune) rune {
		if r == '-' || r == ' ' || r == '.' {
			return -1
		}
		return r
	}, strings.ToUpper(strings.TrimSpace(typed)))
	shape := map[int]string{4: "adda", 6: "adddda"}[len(bare)]
	for i := range len(shape) {
		set := tagLetters
		if shape[i] == 'd' {
			set = tagDigits
		}
		if !strings.Contains(set, bare[i:i+1]) {
			shape = ""
			break
		}
	}
	if shape == "" {
		return "", fault.Invalid("tag", "a tag code is a letter, a digit, a digit and a letter, such as K7-3F; it never has 0, 1, B, D, G, I, L, N, O, Q, S, U, V or Z in it")
	}
	return bare[:len(bare)/2] + "-" + bare[len(bare)/2:], nil
}

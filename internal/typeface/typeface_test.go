package typeface

import (
	"encoding/binary"
	"testing"
)

// The OpenType specification: a TrueType file begins with version 0x00010000,
// and usWeightClass stands at offset 4 of the table OS/2.
func TestWeights(t *testing.T) {
	t.Parallel()
	for want, font := range map[uint16][]byte{400: Regular, 600: SemiBold, 700: Bold} {
		if len(font) < 12 || binary.BigEndian.Uint32(font) != 0x00010000 {
			t.Fatalf("the weight %d is no TrueType file", want)
		}
		if got := weight(font); got != want {
			t.Errorf("the file for weight %d says %d", want, got)
		}
	}
	if len(Files()) != 3 || License == "" {
		t.Error("a file or the licence is missing")
	}
}

func weight(font []byte) uint16 {
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		entry := font[12+16*i:]
		if string(entry[:4]) == "OS/2" {
			return binary.BigEndian.Uint16(font[binary.BigEndian.Uint32(entry[8:])+4:])
		}
	}
	return 0
}

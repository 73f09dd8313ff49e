package studio

import (
	"crypto/rand"
	"strings"
	"testing"

	"vatside/internal/fault"
)

func TestTagsReadBack(t *testing.T) {
	t.Parallel()
	s := &Service{Random: rand.Reader}
	for i := range 2000 {
		tag := s.drawTag(i%2 == 1)
		if strings.ContainsAny(tag, "01BDGILNOQSUVZ") {
			t.Fatalf("tag %s has a sign that is taken for another", tag)
		}
		for _, typed := range []string{tag, strings.ToLower(tag), strings.ReplaceAll(tag, "-", ""), " " + strings.ReplaceAll(tag, "-", " - ")} {
			if got, err := ReadTag(typed); err != nil || got != tag {
				t.Fatalf("%q read as %q, %v; want %s", typed, got, err, tag)
			}
		}
	}
}

func FuzzReadTag(f *testing.F) {
	for _, s := range []string{"", "K7-3F", "k73f", "K0-3F", "7K-F3", "K73-33F", "ſ7-3F", "K７-3F", "--", "K7-3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		tag, err := ReadTag(typed)
		if err != nil {
			if fault.KindOf(err) != fault.KindInvalid || tag != "" {
				t.Errorf("%q: %q, %v", typed, tag, err)
			}
			return
		}
		if again, err := ReadTag(tag); err != nil || again != tag {
			t.Errorf("%q reads as %q, which reads as %q", typed, tag, again)
		}
	})
}

func TestOnceShortTagsRunOut(t *testing.T) {
	t.Parallel()
	s := &Service{Random: rand.Reader}
	if short, long := s.drawTag(false), s.drawTag(true); len(short) != 5 || len(long) != 7 {
		t.Errorf("short %s, long %s", short, long)
	}
}

package source_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"vatside/internal/source"
)

func TestTable(t *testing.T) {
	t.Parallel()
	files := fstest.MapFS{
		"two.csv":   {Data: []byte("what,words\nfelt,wool|boiled\nboard,\n")},
		"torn.csv":  {Data: []byte("what,words\nfelt\n")},
		"empty.csv": {Data: nil},
	}
	var got []string
	err := source.Table(files, "two.csv", 2, func(r []string) error {
		got = append(got, r[0]+":"+strings.Join(source.Entries(r[1]), "+"))
		return nil
	})
	if err != nil || !slices.Equal(got, []string{"felt:wool+boiled", "board:"}) {
		t.Errorf("%v, %v", got, err)
	}
	for _, name := range []string{"torn.csv", "empty.csv", "none.csv"} {
		if err := source.Table(files, name, 2, func([]string) error { return nil }); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

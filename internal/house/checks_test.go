package house

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"vatside/internal/testkit/published"
)

// Every topic of check values has a test that takes its rows, and the share of
// them that is held is told.
func TestCheckValues(t *testing.T) {
	t.Parallel()
	tables, err := filepath.Glob(filepath.Join(root, "published", "check-*.csv"))
	if err != nil || len(tables) == 0 {
		t.Fatalf("no check values: %v", err)
	}
	var tests strings.Builder
	for _, p := range project(t).pkgs {
		for _, f := range p.files {
			if f.test {
				b, err := os.ReadFile(filepath.Join(root, f.path))
				if err != nil {
					t.Fatal(err)
				}
				tests.Write(b)
			}
		}
	}
	all, held := 0, 0
	for _, file := range tables {
		topic := strings.TrimSuffix(strings.TrimPrefix(filepath.Base(file), "check-"), ".csv")
		if !strings.Contains(tests.String(), `published.Checks(t, "`+topic+`")`) {
			t.Errorf("no test takes the check values of %s", topic)
		}
		rows := published.File(t, file)
		last := len(rows[0]) - 1
		here, left := len(rows)-1, 0
		for _, r := range rows[1:] {
			if r[last] != "" {
				left++
			}
		}
		all, held = all+here, held+here-left
		t.Logf("%-16s %3d of %3d held", topic, here-left, here)
	}
	t.Logf("check values: %d of %d held (%.0f %%)", held, all, 100*float64(held)/float64(all))
}

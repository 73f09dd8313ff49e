package intake

import (
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"vatside/internal/demo"
	"vatside/internal/fault"
	"vatside/internal/studio"
)

// handOut writes a studio into a new folder.
func handOut(t *testing.T, u *studio.Service) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "out")
	if err := Export(t.Context(), u, dir); err != nil {
		t.Fatal(err)
	}
	return dir
}

// files are the contents of a folder by path.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(file)
		rel, _ := filepath.Rel(dir, file)
		out[rel] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A studio handed out and taken in elsewhere is the same: its folder byte for
// byte, what it holds, what it has learned and what it plans.
func TestRoundTrip(t *testing.T) {
	t.Parallel()
	u, file := newStudio(t)
	if err := demo.Fill(t.Context(), file.Records(), today); err != nil {
		t.Fatal(err)
	}
	take(t, u, propose(t, u, open(t, notebook), ""))
	odd := []string{"=1+1", "+49 30 1", "-", "@home", "'quoted'", "''", "file: made up", "tab\tand\nline", "cr\r\nlf", `\u000d`, "和紙 ½ “”", strings.Repeat("long ", 10_000)[:19_000]}
	for _, text := range odd {
		if _, err := u.SavePerson(t.Context(), studio.Person{Name: strings.ToValidUTF8(text[:min(60, len(text))], ""), Contact: text}); err != nil {
			t.Fatal(err)
		}
	}
	first := handOut(t, u)

	twin, _ := newStudio(t)
	if _, err := Import(t.Context(), twin, first); err != nil {
		t.Fatal(err)
	}
	if got, want := contents(t, twin), contents(t, u); got != want {
		t.Error("the studio taken in holds something else than the one handed out")
	}
	was, now := files(t, first), files(t, handOut(t, twin))
	delete(was, bookName) // a spreadsheet carries the time it was written
	delete(now, bookName)
	for name, text := range was {
		if now[name] != text {
			t.Errorf("%s is not the same", name)
		}
	}
	if len(was) != len(now) {
		t.Errorf("%d files, and %d", len(was), len(now))
	}
	briefs, err := u.Briefs(t.Context(), studio.BriefFilter{Open: true})
	if err != nil || len(briefs) == 0 {
		t.Fatal(len(briefs), err)
	}
	for _, b := range briefs {
		req1, plan1, err1 := u.PlanBrief(t.Context(), b)
		req2, plan2, err2 := twin.PlanBrief(t.Context(), b)
		if err1 != nil || err2 != nil || !reflect.DeepEqual(req1, req2) || !reflect.DeepEqual(plan1, plan2) {
			t.Errorf("the plan of %s differs: %v, %v", b.Remarks, err1, err2)
		}
	}
	if _, err := Import(t.Context(), twin, first); fault.KindOf(err) != fault.KindConflict {
		t.Errorf("taken in once more: %v", err)
	}
}

// What is no studio's folder leaves the studio as it was.
func TestImportRefuses(t *testing.T) {
	t.Parallel()
	u, file := newStudio(t)
	if err := demo.Fill(t.Context(), file.Records(), today); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(dir string) error{
		"no makings": func(dir string) error { return os.Remove(filepath.Join(dir, "makings.csv")) },
		"a cell cut off": func(dir string) error {
			return writeFile(filepath.Join(dir, "lots.csv"), []byte("id,name\nonly one\n"))
		},
		"a strange column": func(dir string) error {
			return writeFile(filepath.Join(dir, "customers.csv"), []byte("id,name,shoe_size\na,b,40\n"))
		},
		"a strange table": func(dir string) error {
			return writeFile(filepath.Join(dir, "shoes.csv"), []byte("id\na\n"))
		},
		"a number that is none": func(dir string) error {
			return writeFile(filepath.Join(dir, "pins.csv"), []byte("belief,value,grade,why,pinned_at\nb,much,practice,,2026-01-01T00:00:00Z\n"))
		},
		"a brief of no paper": func(dir string) error { return writeFile(filepath.Join(dir, "papers.csv"), []byte("id,created_at\n")) },
		"a file from outside": func(dir string) error {
			return writeFile(filepath.Join(dir, "customers.csv"), []byte("id,name,contact,created_at\na,b,file: ../../secret,2026-01-01T00:00:00Z\n"))
		},
	} {
		dir := handOut(t, u)
		if err := change(dir); err != nil {
			t.Fatal(err)
		}
		empty, _ := newStudio(t)
		before := contents(t, empty)
		if _, err := Import(t.Context(), empty, dir); err == nil {
			t.Errorf("%s: taken in", name)
		} else {
			t.Logf("%s: %v", name, err)
		}
		if contents(t, empty) != before {
			t.Errorf("%s: something was kept", name)
		}
	}
}

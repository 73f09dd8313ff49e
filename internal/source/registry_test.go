package source

import (
	"regexp"
	"strings"
	"testing"
)

func TestRegistry(t *testing.T) {
	t.Parallel()
	all, err := parse(sourcesCSV)
	if err != nil {
		t.Fatal(err)
	}
	kebab := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	for _, s := range all {
		if !kebab.MatchString(s.Key) {
			t.Errorf("key %q is not lower-case words joined by hyphens", s.Key)
		}
		if strings.Contains(s.Title+s.Where+s.Note, "://") {
			t.Errorf("%s: a source is named by title and place, not by address", s.Key)
		}
		got, ok := Get(s.Key)
		if !ok || got != s {
			t.Errorf("Get(%q) = %v, %v", s.Key, got, ok)
		}
		if s.Grade == Measured && s.Key != KeyStudio {
			t.Errorf("%s: only this studio's own record is graded measured", s.Key)
		}
	}
	if len(All()) != len(all) {
		t.Errorf("All returns %d of %d sources", len(All()), len(all))
	}
}

// The ways of knowing have the grades that the help text of the program
// promises (docs, evidence grades).
func TestWaysOfKnowing(t *testing.T) {
	t.Parallel()
	want := map[string]Grade{
		KeyDefinition: Standard, KeyDerived: Standard, KeyBrief: Standard, KeyStudio: Measured,
		KeyMaker: Practice, KeyPractice: Practice, KeyMemory: Memory,
	}
	for key, grade := range want {
		if got := Must(key).Grade; got != grade {
			t.Errorf("%s is graded %v, want %v", key, got, grade)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	t.Parallel()
	head := "key,title,where,year,grade,note\n"
	for name, text := range map[string]string{
		"no heading":    "a,b,c,1990,paper,n\n",
		"doubled key":   head + "a,b,c,1990,paper,n\na,d,e,1991,paper,n\n",
		"unknown grade": head + "a,b,c,1990,gospel,n\n",
		"empty field":   head + "a,b, ,1990,paper,n\n",
		"short line":    head + "a,b,c,1990,paper\n",
		"nothing":       "",
	} {
		if _, err := parse(text); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func TestUnknownKey(t *testing.T) {
	t.Parallel()
	if s, ok := Get("hearsay"); ok {
		t.Errorf("Get of an unknown key returned %v", s)
	}
	defer func() {
		if recover() == nil {
			t.Error("Must of an unknown key did not panic")
		}
	}()
	Must("hearsay")
}

func TestAllIsACopy(t *testing.T) {
	t.Parallel()
	All()[0].Title = "changed"
	if All()[0].Title == "changed" {
		t.Error("a caller can change the registry")
	}
}

func TestGradeText(t *testing.T) {
	t.Parallel()
	for g := Standard; g <= Memory; g++ {
		text, err := g.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var back Grade
		if err := back.UnmarshalText(text); err != nil || back != g {
			t.Errorf("%v read back as %v, %v", g, back, err)
		}
	}
	if Grade(-1).String() != "memory" || Grade(99).String() != "memory" {
		t.Error("an unknown grade must read as the worst")
	}
	if Worse(Paper, Memory) != Memory || Worse(Practice, Standard) != Practice {
		t.Error("Worse must return the worse grade")
	}
}

func TestCite(t *testing.T) {
	t.Parallel()
	if got, want := Must("drying-flax-2006").Cite(), "Drying Flax Paper, Hand Papermaking, vol. 21 no. 2, 2006"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := Must(KeyPractice).Cite(); strings.Contains(got, "undated") {
		t.Errorf("%q says what says nothing", got)
	}
}

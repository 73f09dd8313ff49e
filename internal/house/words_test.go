package house

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

// unwanted are patterns that no file of the project may hold, and why. They
// are written in pieces, so that this file does not hold them either.
var unwanted = []struct{ pattern, why string }{
	{`TO` + `DO|FIX` + `ME`, "unfinished work belongs into an issue, not into the source"},
	{`(?:^|[\s"'(=:])/(?:ro` + `ot|ho` + `me|wo` + `rk|tm` + `p|Us` + `ers)/`, "a path of one machine"},
	{`(?:^|[^\w./])sha` + `red/|\.\./sha` + `red/(?:[^f]|$)`, "a folder that is not part of the project"},
	{`\b(?:hou` + `se|prod` + `uct|sta` + `ck|tra` + `de|raw-` + `fibre)\.md\b`, "a document that is not part of the project"},
	{`(?i)npm` + `js\.(?:org|com)|pro` + `xy\.gol` + `ang|sum\.gol` + `ang|deb` + `ian\.org|yarn` + `pkg`, "the name of a download host"},
	{`(?i)clau` + `de|anth` + `ropic|open` + `ai|chat` + `gpt|copi` + `lot|lang` + `uage model|\bll` + `ms?\b`, "the project speaks of itself alone"},
	{`\bA` + `I\b|(?i)sub-?ag` + `ent|coding ag` + `ent|ai ag` + `ent|pro` + `mpt engineer`, "the project speaks of itself alone"},
	{`(?i)se` + `ed document|the br` + `ief says|as instr` + `ucted`, "the project speaks of itself alone"},
}

// sums are files of hashes, in which any few letters turn up by chance; only
// host names are looked for in them.
func sums(file string) bool {
	return path.Ext(file) == ".sum" || path.Base(file) == "package-lock.json"
}

func TestWords(t *testing.T) {
	t.Parallel()
	var rules []*regexp.Regexp
	for _, u := range unwanted {
		rules = append(rules, regexp.MustCompile(u.pattern))
	}
	for _, file := range project(t).files {
		b, err := os.ReadFile(filepath.Join(root, file))
		if err != nil || !utf8.Valid(b) || strings.IndexByte(string(b), 0) >= 0 {
			continue // gone meanwhile, or no text
		}
		if sums(file) {
			if strings.Contains(string(b), "://") && path.Base(file) != "package-lock.json" || strings.Contains(string(b), `"resolved"`) {
				t.Errorf("%s records where it was downloaded from", file)
			}
			continue
		}
		for i, line := range strings.Split(string(b), "\n") {
			for r, rule := range rules {
				if found := rule.FindString(line); found != "" {
					t.Errorf("%s:%d: %q: %s", file, i+1, strings.TrimSpace(found), unwanted[r].why)
				}
			}
		}
	}
}

// The patterns, on lines whose verdict is known.
func TestUnwanted(t *testing.T) {
	t.Parallel()
	for line, want := range map[string]bool{
		"// TO" + "DO later":                    true,
		`open("/tm` + `p/x")`:                   true,
		"see ../sha" + "red/x.md":               true,
		"see ../sha" + "red/fetched/x":          false,
		"an A" + "I did it":                     true,
		"a sizing agent, User-Agent, a session": false,
		"parts are shared by pages":             false,
		"Algiers is HOT; 5 % Al":                false,
		"stackof.md and glossary.md":            false,
	} {
		got := false
		for _, u := range unwanted {
			got = got || regexp.MustCompile(u.pattern).MatchString(line)
		}
		if got != want {
			t.Errorf("%q: refused %v, want %v", line, got, want)
		}
	}
}

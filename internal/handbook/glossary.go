package handbook

import (
	"strings"
	"sync"

	"vatside/docs"
)

// Term is one word of the glossary.
type Term struct {
	Word, Meaning string
	Ours          bool // not a word of the trade
}

// Glossary returns the words of the trade and ours, in the order of the
// alphabet. It is the caller's to read, not to change.
var Glossary = sync.OnceValue(func() []Term {
	var out []Term
	for line := range strings.Lines(docs.Glossary) {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		if len(cells) != 2 || strings.Contains(cells[0], "---") || strings.TrimSpace(cells[0]) == "word" {
			continue
		}
		t := Term{Word: strings.TrimSpace(cells[0]), Meaning: strings.ReplaceAll(strings.TrimSpace(cells[1]), "*", "")}
		t.Word, t.Ours = strings.CutSuffix(t.Word, " (ours)")
		out = append(out, t)
	}
	return out
})

// ID is the term's anchor on the page.
func (t Term) ID() string {
	return strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(t.Word), ",", ""), " ", "-")
}

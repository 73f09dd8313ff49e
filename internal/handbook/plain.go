package handbook

import (
	"regexp"
	"strings"

	"vatside/internal/source"
)

// Promise is one line of a contract under a heading that needs no explaining.
type Promise struct{ Name, Text string }

// Promises are the lines of the contract in plain words, the sources apart.
func (f Formula) Promises() []Promise {
	c := f.Contract
	list := []Promise{
		{"What it gives", c.Quantity},
		{"What goes in", c.Inputs},
		{"Where it holds", refused.ReplaceAllString(c.Valid, "${1}outside it is refused")},
		{"Taken for granted", c.Assumes},
		{"How far off it may be", c.Error},
		{"Checked against", c.Checked},
	}
	for i := range list {
		list[i].Text = upper(f.plainly(list[i].Text))
	}
	return list
}

// SourceNote is what the contract says of its sources beyond naming them, "" if
// nothing.
func (f Formula) SourceNote() string {
	rest := document.ReplaceAllString(f.Contract.Source, "")
	rest = key.ReplaceAllStringFunc(rest, func(k string) string {
		if _, ok := source.Get(k); ok {
			return ""
		}
		return k
	})
	if strings.Trim(rest, "[]();,. ") == "" || strings.Trim(rest, "[]();,. ") == "from" {
		return ""
	}
	return key.ReplaceAllStringFunc(f.plainly(f.Contract.Source), func(k string) string {
		if s, ok := source.Get(k); ok && strings.Contains(k, "-") {
			return "“" + s.Title + "”"
		}
		return k
	})
}

var (
	// refused is how contracts say what happens outside the range.
	refused  = regexp.MustCompile(`(; |^)outside: fault\.\w+(?:(?: or |, )fault\.\w+)*`)
	kinds    = regexp.MustCompile(`: fault\.\w+|,? (?:else|with) fault\.\w+`)
	document = regexp.MustCompile(`\b(?:docs/models/(\w+)\.md|published/([\w-]+)\.csv)`)
	camel    = regexp.MustCompile(`\b(?:[a-z]+\.)?[A-Z][a-z]+(?:[A-Z][a-z]*)+\b`)
)

// plainly says in words of the trade what a comment says in names of the code.
func (f Formula) plainly(text string) string {
	text = kinds.ReplaceAllString(text, ": it is refused")
	text = document.ReplaceAllStringFunc(text, func(file string) string {
		m := document.FindStringSubmatch(file)
		if m[1] != "" {
			return "the notes on " + m[1]
		}
		return "table " + strings.ReplaceAll(m[2], "-", " ")
	})
	return camel.ReplaceAllStringFunc(text, func(name string) string {
		for full := range byName() {
			if full == name || strings.HasPrefix(full, f.Package+".") && strings.HasSuffix(full, "."+name) {
				return "“" + capital(words(name[strings.LastIndex(name, ".")+1:])) + "”"
			}
		}
		return name
	})
}

// Package handbook is the program's own handbook: every formula of the trade
// packages with what it rests on, ready to be tried with one's own numbers;
// the glossary; and the registry of sources by grade.
//
// The formulas are read out of the source's own contracts by tools/handbook,
// so that the handbook cannot say other than what is reckoned with. Sources:
// each formula names its own. Missing: formulas that take lists or functions
// are described, not tried.
package handbook

import (
	"regexp"
	"slices"
	"strings"
	"sync"

	"vatside/internal/source"
)

// Step is one step of the trade with its formulas.
type Step struct {
	Name     string
	What     string
	Formulas []Formula
}

// Formula is one formula and its contract, as its source states it.
type Formula struct {
	Package, Name string   // Name holds the package: vat.Consistency
	About         []string // what it returns, and what else is to be said
	Lines         []string // the formula itself
	Contract      Contract

	Params, Results []Param
}

// Contract is what a formula promises.
type Contract struct {
	Quantity, Inputs, Valid, Assumes, Error, Source, Checked string
}

// Param is one parameter or result as the source declares it. Fields are those
// of a struct.
type Param struct {
	Name, Type, Note string
	Fields           []Param
}

// Steps returns the trade steps that have formulas, in the order of the trade.
// They are the caller's to read, not to change.
func Steps() []Step { return steps }

var byName = sync.OnceValue(func() map[string]Formula {
	out := map[string]Formula{}
	for _, s := range steps {
		for _, f := range s.Formulas {
			out[f.Name] = f
		}
	}
	return out
})

// Get returns the formula of that name.
func Get(name string) (Formula, bool) {
	f, ok := byName()[name]
	return f, ok
}

// Title is the formula's name as words: "Sheets in tolerance".
func (f Formula) Title() string {
	return capital(words(f.bare()))
}

// Means is what it returns, in one line: "the vat consistency that gives a
// formed grammage".
func (f Formula) Means() string {
	if len(f.About) == 0 {
		return f.Contract.Quantity
	}
	first, _, _ := strings.Cut(f.About[0], ". ")
	for _, verb := range []string{" returns ", " is ", " are ", " "} {
		if rest, ok := strings.CutPrefix(first, f.bare()+verb); ok {
			first = rest
			break
		}
	}
	return capital(f.plainly(strings.TrimSuffix(first, ".") + "."))
}

// More is what else its comment says, beyond the one line.
func (f Formula) More() []string {
	if len(f.About) == 0 {
		return nil
	}
	var out []string
	if _, rest, ok := strings.Cut(f.About[0], ". "); ok {
		out = append(out, f.plainly(rest))
	}
	for _, text := range f.About[1:] {
		out = append(out, f.plainly(text))
	}
	return out
}

// bare is the function's name alone.
func (f Formula) bare() string { return f.Name[strings.LastIndex(f.Name, ".")+1:] }

// Unverified reports whether nothing outside the program could confirm it yet.
func (f Formula) Unverified() bool {
	return strings.Contains(strings.ToLower(f.Contract.Checked), "unverified")
}

var key = regexp.MustCompile(`[a-z0-9]+(?:-[a-z0-9]+)*`)

// Sources are the entries of the registry that its contract names, each once.
func (f Formula) Sources() []source.Source {
	var out []source.Source
	for _, k := range key.FindAllString(f.Contract.Source, -1) {
		if s, ok := source.Get(k); ok && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// Grade is the worst grade among its sources.
func (f Formula) Grade() source.Grade {
	g := source.Standard
	for _, s := range f.Sources() {
		g = source.Worse(g, s.Grade)
	}
	return g
}

var citing = sync.OnceValue(func() map[string][]Formula {
	out := map[string][]Formula{}
	for _, s := range steps {
		for _, f := range s.Formulas {
			for _, src := range f.Sources() {
				out[src.Key] = append(out[src.Key], f)
			}
		}
	}
	return out
})

// Citing returns the formulas that name a source.
func Citing(k string) []Formula { return citing()[k] }

// words parts a name at its humps: SheetsInTolerance, sheets in tolerance.
func words(name string) string {
	text := strings.ToLower(hump.ReplaceAllString(strings.ReplaceAll(name, "_", " "), "$1 $2"))
	if rest, ok := strings.CutSuffix(text, " ph"); ok {
		return rest + " pH"
	}
	return text
}

var hump = regexp.MustCompile(`(\p{Ll}|\d)(\p{Lu})`)

// upper begins a text as a sentence; a symbol such as g or rh keeps its case.
func upper(s string) string {
	first, _, _ := strings.Cut(s, " ")
	if r := []rune(first); len(r) < 4 && first != "the" && first != "a" && first != "an" && first != "as" || strings.ContainsAny(first, "_.") {
		return s
	}
	return capital(s)
}

func capital(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return ""
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

package house

import (
	"fmt"
	"go/ast"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"vatside/internal/source"
)

// contractLines are demanded of every formula, in this order.
var contractLines = []string{"Quantity", "Inputs", "Valid", "Assumes", "Error", "Source", "Checked"}

var (
	item     = regexp.MustCompile(`(?m)^\s*- ([A-Z][a-z]+): *`)
	citation = regexp.MustCompile(`\[[^\]\s]+\]|[a-z0-9]+(?:-[a-z0-9]+)*`) // [key], or the bare key
	dated    = regexp.MustCompile(`-(?:18|19|20)\d\d$`)                    // a word that can only be a key
	document = regexp.MustCompile(`\b(?:docs|published)/[\w./-]*\w\.(?:md|csv)\b`)
)

// contract splits a doc comment into the lines of its contract.
func contract(doc string) (map[string]string, []string) {
	_, text, found := strings.Cut(doc, "\nContract:\n")
	if !found {
		return nil, nil
	}
	marks := item.FindAllStringSubmatchIndex(text, -1)
	lines, order := map[string]string{}, []string(nil)
	for i, m := range marks {
		end := len(text)
		if i+1 < len(marks) {
			end = marks[i+1][0]
		}
		name := text[m[2]:m[3]]
		lines[name] = strings.Join(strings.Fields(text[m[1]:end]), " ")
		order = append(order, name)
	}
	return lines, order
}

// broken says what is wrong with a formula's comment, "" if nothing.
func broken(doc string) string {
	lines, order := contract(doc)
	if lines == nil {
		return "has no paragraph \"Contract:\""
	}
	if !slices.Equal(order, contractLines) {
		return fmt.Sprintf("has the contract lines %v, want %v", order, contractLines)
	}
	for _, name := range contractLines {
		if lines[name] == "" {
			return "has nothing after " + name + ":"
		}
	}
	known := false
	for _, word := range citation.FindAllString(lines["Source"], -1) {
		key := strings.Trim(word, "[]")
		_, ok := source.Get(key)
		if !ok && (word != key || dated.MatchString(key)) {
			return fmt.Sprintf("cites %s, which is not in the registry of sources", word)
		}
		known = known || ok
	}
	if !known {
		return "names no key of the registry as its source; ways of knowing, such as derived or practice, are keys too"
	}
	for _, file := range document.FindAllString(doc, -1) {
		if !exists(file) {
			return "names " + file + ", which does not exist"
		}
	}
	return ""
}

// formula is an exported function of layer 1 that returns a quantity.
type formula struct {
	name string // package.Function
	doc  string
	at   string
}

func formulas(t *testing.T) []formula {
	t.Helper()
	tr := project(t)
	quantity := quantities(tr)
	if len(quantity) < 20 {
		t.Fatalf("only %d quantities found in internal/measure: the search is broken", len(quantity))
	}
	var out []formula
	for _, p := range tr.pkgs {
		if level, _, ok := layerOf(strings.TrimPrefix(p.dir, "internal/")); !ok || level != 1 {
			continue
		}
		for _, f := range p.sources() {
			measure := f.localName(module + "/internal/measure")
			for _, d := range f.ast.Decls {
				fn, ok := d.(*ast.FuncDecl)
				if !ok || !fn.Name.IsExported() || !returnsQuantity(fn, measure, quantity) || isGetter(fn) {
					continue
				}
				out = append(out, formula{path.Base(p.dir) + "." + funcName(fn), fn.Doc.Text(), f.path})
			}
		}
	}
	return out
}

// quantities are the types of measure that have a unit.
func quantities(tr *tree) map[string]bool {
	found := map[string]bool{}
	if p := tr.byDir["internal/measure"]; p != nil {
		for _, f := range p.sources() {
			for _, d := range f.ast.Decls {
				if fn, ok := d.(*ast.FuncDecl); ok && fn.Name.Name == "Unit" && fn.Recv != nil {
					found[receiver(fn)] = true
				}
			}
		}
	}
	return found
}

func returnsQuantity(fn *ast.FuncDecl, measure string, quantity map[string]bool) bool {
	if fn.Type.Results == nil || measure == "" {
		return false
	}
	for _, r := range fn.Type.Results.List {
		if sel, ok := r.Type.(*ast.SelectorExpr); ok {
			if x, ok := sel.X.(*ast.Ident); ok && x.Name == measure && quantity[sel.Sel.Name] {
				return true
			}
		}
	}
	return false
}

// isGetter reports whether a method only hands out a field: no formula.
func isGetter(fn *ast.FuncDecl) bool {
	if fn.Recv == nil || fn.Body == nil || len(fn.Body.List) != 1 {
		return false
	}
	ret, ok := fn.Body.List[0].(*ast.ReturnStmt)
	if !ok || len(ret.Results) != 1 {
		return false
	}
	_, ok = ret.Results[0].(*ast.SelectorExpr)
	return ok
}

// funcName is the function's name, with its receiver where it has one.
func funcName(fn *ast.FuncDecl) string {
	if fn.Recv == nil {
		return fn.Name.Name
	}
	return receiver(fn) + "." + fn.Name.Name
}

func receiver(fn *ast.FuncDecl) string {
	typ := fn.Recv.List[0].Type
	if star, ok := typ.(*ast.StarExpr); ok {
		typ = star.X
	}
	switch x := typ.(type) {
	case *ast.IndexExpr:
		typ = x.X
	case *ast.IndexListExpr:
		typ = x.X
	}
	if id, ok := typ.(*ast.Ident); ok {
		return id.Name
	}
	return ""
}

func TestContracts(t *testing.T) {
	t.Parallel()
	for _, f := range formulas(t) {
		if why := broken(f.doc); why != "" {
			t.Errorf("%s: %s %s", f.at, f.name, why)
		}
	}
}

// A formula that nobody could check says so in its contract and is listed
// under "Unverified" in docs/models/README.md; and nothing else is.
func TestUnverifiedAreListed(t *testing.T) {
	t.Parallel()
	_, section, found := strings.Cut(read(t, "docs/models/README.md"), "\n## Unverified\n")
	if !found {
		t.Fatal("docs/models/README.md has no section \"## Unverified\"")
	}
	section, _, _ = strings.Cut(section, "\n## ")
	listed := map[string]bool{}
	for _, m := range regexp.MustCompile("(?m)^- `([\\w.]+)`").FindAllStringSubmatch(section, -1) {
		listed[m[1]] = true
	}
	for _, f := range formulas(t) {
		lines, _ := contract(f.doc)
		unverified := strings.Contains(strings.ToLower(lines["Checked"]), "unverified")
		if unverified && !listed[f.name] {
			t.Errorf("%s: %s is unverified but not listed so in docs/models/README.md", f.at, f.name)
		}
		if !unverified && listed[f.name] {
			t.Errorf("%s: %s is listed as unverified in docs/models/README.md but names its check", f.at, f.name)
		}
		delete(listed, f.name)
	}
	for name := range listed {
		t.Errorf("docs/models/README.md lists %s as unverified, but there is no such formula", name)
	}
}

// The judge itself, on contracts whose verdict is known.
func TestBroken(t *testing.T) {
	t.Parallel()
	good := "F returns x.\n\n\tx = y\n\nContract:\n\n  - Quantity: mass, g\n  - Inputs: y g\n  - Valid: y ≥ 0\n  - Assumes: nothing\n  - Error: exact\n  - Source: [definition]\n  - Checked: round trip\n"
	if why := broken(good); why != "" {
		t.Errorf("a sound contract %s", why)
	}
	for name, c := range map[string]struct{ old, now, want string }{
		"no contract":  {"Contract:", "It is so:", "no paragraph"},
		"line missing": {"  - Error: exact\n", "", "contract lines"},
		"line empty":   {"Inputs: y g", "Inputs:", "nothing after Inputs"},
		"unknown key":  {"[definition]", "[hearsay-1850]", "hearsay-1850"},
		"dated key":    {"[definition]", "hearsay-1850, p. 3", "hearsay-1850"},
		"no source":    {"[definition]", "everybody knows", "as its source"},
		"no document":  {"[definition]", "derived, docs/models/none.md", "docs/models/none.md"},
	} {
		if got := broken(strings.Replace(good, c.old, c.now, 1)); !strings.Contains(got, c.want) {
			t.Errorf("%s: got %q, want it to speak of %q", name, got, c.want)
		}
	}
}

func TestEveryPackageHasAComment(t *testing.T) {
	t.Parallel()
	for _, p := range project(t).pkgs {
		count := 0
		for _, f := range p.sources() {
			if f.ast.Doc.Text() != "" {
				count++
			}
		}
		if count != 1 && len(p.sources()) > 0 {
			t.Errorf("%s has %d package comments, want one", p.dir, count)
		}
	}
}

func TestEveryExportedNameHasAComment(t *testing.T) {
	t.Parallel()
	for _, p := range project(t).pkgs {
		for _, f := range p.sources() {
			if f.generated {
				continue
			}
			for _, name := range undocumented(f.ast) {
				t.Errorf("%s: %s has no comment", f.path, name)
			}
		}
	}
}

// undocumented lists exported names without a comment. A group of constants or
// variables may share one.
func undocumented(f *ast.File) []string {
	var out []string
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Name.IsExported() && d.Doc.Text() == "" && (d.Recv == nil || ast.IsExported(receiver(d))) {
				out = append(out, funcName(d))
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch s := spec.(type) {
				case *ast.TypeSpec:
					if s.Name.IsExported() && s.Doc.Text() == "" && (d.Doc.Text() == "" || len(d.Specs) > 1) {
						out = append(out, s.Name.Name)
					}
				case *ast.ValueSpec:
					for _, name := range s.Names {
						if name.IsExported() && s.Doc.Text()+s.Comment.Text()+d.Doc.Text() == "" {
							out = append(out, name.Name)
						}
					}
				}
			}
		}
	}
	return out
}

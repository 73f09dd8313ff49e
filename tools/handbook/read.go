package main

import (
	"fmt"
	"go/ast"
	"go/doc/comment"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// trade is one package of layer 1: its name, its title as the design has it,
// and its formulas in the order of files and lines.
type trade struct {
	name, title string
	fields      map[string][]param // of structs
	formulas    []formula
}

// formula is one exported function or method with a contract.
type formula struct {
	receiver string // "Balance" or "*Balance"; "" of a function
	name     string
	generic  bool
	about    []string // paragraphs before the contract
	lines    []string // formula lines
	contract map[string]string
	params   []param
	results  []param
}

type param struct{ name, typ, note string }

// row is one line of the table of layer 1: | `vat` | what it does |
var row = regexp.MustCompile("(?m)^\\| `(\\w+)` \\| (.+) \\|$")

// packages lists layer 1 in the order of docs/design.md.
func packages(root string) ([]trade, error) {
	design, err := os.ReadFile(filepath.Join(root, "docs", "design.md"))
	if err != nil {
		return nil, err
	}
	_, section, found := strings.Cut(string(design), "\n### Layer 1")
	if !found {
		return nil, fmt.Errorf("docs/design.md has no section on layer 1")
	}
	section, _, _ = strings.Cut(section, "\n### ")
	var out []trade
	for _, m := range row.FindAllStringSubmatch(section, -1) {
		out = append(out, trade{name: m[1], title: strings.ReplaceAll(m[2], "`", "")})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("docs/design.md names no package of layer 1")
	}
	return out, nil
}

// read fills a package with what its sources say.
func (t *trade) read(root string) error {
	files, err := filepath.Glob(filepath.Join(root, "internal", t.name, "*.go"))
	if err != nil {
		return err
	}
	slices.Sort(files)
	t.fields = map[string][]param{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, d := range f.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if fo, ok := read(d); ok {
					t.formulas = append(t.formulas, fo)
				}
			case *ast.GenDecl:
				t.structs(d)
			}
		}
	}
	return nil
}

func (t *trade) structs(d *ast.GenDecl) {
	for _, spec := range d.Specs {
		if ts, ok := spec.(*ast.TypeSpec); ok {
			if st, ok := ts.Type.(*ast.StructType); ok {
				if list := params(st.Fields); open(list) {
					t.fields[ts.Name.Name] = list
				}
			}
		}
	}
}

// open reports whether every field can be set from outside.
func open(list []param) bool {
	return !slices.ContainsFunc(list, func(p param) bool { return !ast.IsExported(p.name) })
}

// read takes a function as a formula if it is exported and has a contract.
func read(fn *ast.FuncDecl) (formula, bool) {
	fo := formula{name: fn.Name.Name, generic: fn.Type.TypeParams != nil, contract: map[string]string{}}
	if !fn.Name.IsExported() || !strings.Contains(fn.Doc.Text(), "\nContract:\n") {
		return fo, false
	}
	if fn.Recv != nil {
		fo.receiver = spell(fn.Recv.List[0].Type)
		if !ast.IsExported(strings.TrimPrefix(fo.receiver, "*")) {
			return fo, false
		}
	}
	fo.params, fo.results = params(fn.Type.Params), params(fn.Type.Results)
	fo.document(fn.Doc.Text())
	return fo, true
}

// document splits a comment into prose, formula lines and contract.
func (fo *formula) document(text string) {
	said := false // the contract began
	for _, block := range new(comment.Parser).Parse(text).Content {
		switch b := block.(type) {
		case *comment.Paragraph:
			if p := prose(b.Text); p == "Contract:" {
				said = true
			} else {
				fo.about = append(fo.about, p)
			}
		case *comment.Code:
			for line := range strings.Lines(b.Text) {
				fo.lines = append(fo.lines, inPlain(strings.TrimSpace(line)))
			}
		case *comment.List:
			for _, item := range b.Items {
				var text []string
				for _, c := range item.Content {
					if p, ok := c.(*comment.Paragraph); ok {
						text = append(text, prose(p.Text))
					}
				}
				line := strings.Join(text, " ")
				if name, rest, ok := strings.Cut(line, ": "); ok && said {
					fo.contract[name] = rest
				} else {
					fo.about = append(fo.about, line)
				}
			}
		}
	}
}

// prose is a run of text on one line.
func prose(text []comment.Text) string {
	var b strings.Builder
	for _, t := range text {
		switch t := t.(type) {
		case comment.Plain:
			b.WriteString(string(t))
		case comment.Italic:
			b.WriteString(string(t))
		case *comment.DocLink:
			b.WriteString("[" + prose(t.Text) + "]")
		case *comment.Link:
			b.WriteString(prose(t.Text))
		}
	}
	return inPlain(strings.Join(strings.Fields(b.String()), " "))
}

// inPlain says for readers what a word of the code means.
func inPlain(text string) string { return strings.ReplaceAll(text, "prior", "starting value") }

// params lists names and types; an unnamed one has the name "".
func params(list *ast.FieldList) []param {
	if list == nil {
		return nil
	}
	var out []param
	for _, f := range list.List {
		p := param{typ: spell(f.Type), note: strings.TrimSpace(f.Doc.Text() + f.Comment.Text())}
		if len(f.Names) == 0 {
			out = append(out, p)
		}
		for _, n := range f.Names {
			p.name = n.Name
			out = append(out, p)
		}
	}
	return out
}

// spell writes a type as the source does; those that cannot be tried anyway
// are only hinted at.
func spell(x ast.Expr) string {
	switch x := x.(type) {
	case *ast.Ident:
		return x.Name
	case *ast.SelectorExpr:
		return spell(x.X) + "." + x.Sel.Name
	case *ast.StarExpr:
		return "*" + spell(x.X)
	case *ast.ArrayType:
		return "[]" + spell(x.Elt)
	case *ast.Ellipsis:
		return "..." + spell(x.Elt)
	case *ast.FuncType:
		return "func"
	case *ast.MapType:
		return "map"
	}
	return "any"
}

// full is the name of a formula in the handbook.
func (t trade) full(fo formula) string {
	if r := strings.TrimPrefix(fo.receiver, "*"); r != "" {
		return path.Base(t.name) + "." + r + "." + fo.name
	}
	return path.Base(t.name) + "." + fo.name
}

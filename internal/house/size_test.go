package house

import (
	"fmt"
	"go/ast"
	"path"
	"strings"
	"testing"
)

// The limits. What is above one is split, not argued with.
const (
	fileLimit      = 500
	handlerLimit   = 150
	functionLimit  = 80
	templateLimit  = 120
	packageLimit   = 15
	interfaceLimit = 5
)

// exempt from a limit, each with its reason: a file by its path, a function or
// interface by path and name ("internal/x/y.go: F"), a package by its folder.
var exempt = map[string]string{}

// offenders collects what is over a limit and not exempt, and notes which
// exemptions were needed.
type offenders struct {
	t    *testing.T
	used map[string]bool
}

func (o *offenders) check(what string, size, limit int, of string) {
	o.t.Helper()
	if size <= limit {
		return
	}
	if exempt[what] != "" {
		o.used[what] = true
		return
	}
	o.t.Errorf("%s has %d %s; the limit is %d", what, size, of, limit)
}

func TestSizes(t *testing.T) {
	t.Parallel()
	tr := project(t)
	o := &offenders{t, map[string]bool{}}
	for _, p := range tr.pkgs {
		o.check(p.dir, len(p.sources()), packageLimit, "source files")
		for _, f := range p.files {
			if f.generated {
				continue
			}
			limit := fileLimit
			if strings.HasPrefix(f.path, "internal/web/page/") && !f.test {
				limit = handlerLimit
			}
			o.check(f.path, f.lines, limit, "lines")
			for what, size := range functions(tr, f) {
				o.check(f.path+": "+what, size, functionLimit, "lines")
			}
			for what, size := range interfaces(f.ast) {
				o.check(f.path+": "+what, size, interfaceLimit, "methods")
			}
		}
	}
	for _, file := range tr.files {
		switch limit := 0; path.Ext(file) {
		case ".html", ".tmpl", ".gohtml":
			if strings.HasPrefix(file, "internal/") && !strings.Contains(file, "/testdata/") {
				limit = templateLimit
			}
			if limit > 0 {
				o.check(file, strings.Count(read(t, file), "\n"), limit, "lines")
			}
		case ".ts", ".css", ".sql", ".sh":
			o.check(file, strings.Count(read(t, file), "\n"), fileLimit, "lines")
		}
	}
	for what := range exempt {
		if !o.used[what] {
			t.Errorf("%s no longer needs its exemption", what)
		}
	}
}

// functions returns the length of each named function of a file. In a test the
// table of cases does not count: it is data.
func functions(tr *tree, f *goFile) map[string]int {
	out := map[string]int{}
	for _, d := range f.ast.Decls {
		if fn, ok := d.(*ast.FuncDecl); ok {
			out[funcName(fn)] = span(tr, fn)
			if f.test {
				out[funcName(fn)] -= data(tr, fn)
			}
		}
	}
	return out
}

func span(tr *tree, n ast.Node) int {
	return tr.fset.Position(n.End()).Line - tr.fset.Position(n.Pos()).Line + 1
}

// data is the number of lines inside composite literals.
func data(tr *tree, fn *ast.FuncDecl) int {
	lines := 0
	ast.Inspect(fn, func(n ast.Node) bool {
		lit, ok := n.(*ast.CompositeLit)
		if ok {
			lines += span(tr, lit) - 1
		}
		return !ok
	})
	return lines
}

// interfaces returns the number of methods of each interface a file declares.
// One that only lists types constrains; it asks for no methods.
func interfaces(f *ast.File) map[string]int {
	out := map[string]int{}
	count := 0
	ast.Inspect(f, func(n ast.Node) bool {
		if spec, ok := n.(*ast.TypeSpec); ok {
			if i, ok := spec.Type.(*ast.InterfaceType); ok {
				out[spec.Name.Name] = methods(i)
				return false
			}
		}
		if i, ok := n.(*ast.InterfaceType); ok {
			count++
			out[fmt.Sprintf("interface without a name %d", count)] = methods(i)
		}
		return true
	})
	return out
}

func methods(i *ast.InterfaceType) int {
	n := 0
	for _, field := range i.Methods.List {
		if _, ok := field.Type.(*ast.FuncType); ok {
			n += len(field.Names)
		}
	}
	return n
}

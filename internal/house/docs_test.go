package house

import (
	"go/ast"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// docs/design.md is the picture of the whole: it names every package. Page
// packages are named by docs/pages.md, one heading to a page.
func TestDesignNamesEveryPackage(t *testing.T) {
	t.Parallel()
	design, pages := read(t, "docs/design.md"), read(t, "docs/pages.md")
	for _, p := range project(t).pkgs {
		name := strings.TrimPrefix(p.dir, "internal/")
		where, text := "docs/design.md", design
		if strings.HasPrefix(name, "web/page/") {
			where, text = "docs/pages.md", pages
		}
		if !strings.Contains(text, "`"+name+"`") {
			t.Errorf("%s does not name `%s`", where, name)
		}
	}
}

// ... and no package that is not there: names in its first column are folders.
func TestDesignNamesOnlyPackages(t *testing.T) {
	t.Parallel()
	tr := project(t)
	for _, m := range regexp.MustCompile("(?m)^\\| `([\\w/]+)` \\|").FindAllStringSubmatch(read(t, "docs/design.md"), -1) {
		if tr.byDir["internal/"+m[1]] == nil && tr.byDir[m[1]] == nil {
			t.Errorf("docs/design.md describes `%s`, which does not exist", m[1])
		}
	}
}

// Each trade step has a page on its models, and the list of pages names it.
func TestModelsArePaged(t *testing.T) {
	t.Parallel()
	list := read(t, "docs/models/README.md")
	for _, p := range project(t).pkgs {
		name := strings.TrimPrefix(p.dir, "internal/")
		if level, _, ok := layerOf(name); !ok || level != 1 || len(p.sources()) == 0 {
			continue
		}
		file := "docs/models/" + name + ".md"
		if !exists(file) {
			t.Errorf("%s has no page %s", p.dir, file)
		}
		if !strings.Contains(list, "("+name+".md)") {
			t.Errorf("docs/models/README.md does not link %s.md", name)
		}
	}
}

// Every link from one document to another file of the project leads somewhere.
func TestLinks(t *testing.T) {
	t.Parallel()
	link := regexp.MustCompile(`\]\(([^)\s#]+)(#[^)\s]*)?\)`)
	for _, file := range project(t).files {
		if path.Ext(file) != ".md" {
			continue
		}
		for _, m := range link.FindAllStringSubmatch(read(t, file), -1) {
			if !strings.Contains(m[1], "://") && !exists(path.Join(path.Dir(file), m[1])) {
				t.Errorf("%s links %s, which does not exist", file, m[1])
			}
		}
	}
}

// Every URL of the program is explained in docs/pages.md.
func TestPagesNameEveryURL(t *testing.T) {
	t.Parallel()
	p := project(t).byDir["internal/web"]
	if p == nil {
		return // there are no pages yet
	}
	i := slices.IndexFunc(p.files, func(f *goFile) bool { return path.Base(f.path) == "routes.go" })
	if i < 0 {
		t.Fatal("internal/web has no routes.go")
	}
	pages, found := read(t, "docs/pages.md"), 0
	for _, url := range patterns(p.files[i].ast) {
		found++
		if !strings.Contains(pages, "`"+url+"`") {
			t.Errorf("docs/pages.md does not name `%s`", url)
		}
	}
	if found == 0 {
		t.Error("no URL found in routes.go: the search is broken")
	}
}

var pattern = regexp.MustCompile(`^"(?:[A-Z]+ )?(/[^\s"]*)"$`)

// patterns lists the URL patterns a file names, without method.
func patterns(f *ast.File) []string {
	var out []string
	ast.Inspect(f, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok {
			if m := pattern.FindStringSubmatch(lit.Value); m != nil {
				url := strings.TrimSuffix(m[1], "{$}")
				if !slices.Contains(out, url) {
					out = append(out, url)
				}
			}
		}
		return true
	})
	return out
}

// Every command is explained in README.md or docs/commands.md.
func TestCommandsAreNamed(t *testing.T) {
	t.Parallel()
	p := project(t).byDir["internal/cli"]
	if p == nil {
		return // there are no commands yet
	}
	var files []*ast.File
	for _, f := range p.sources() {
		files = append(files, f.ast)
	}
	text := read(t, "docs/commands.md")
	if exists("README.md") {
		text += read(t, "README.md")
	}
	names := commands(files)
	if len(names) == 0 {
		t.Error("no command found in internal/cli: the search is broken")
	}
	for _, name := range names {
		if !regexp.MustCompile(`vatside ` + regexp.QuoteMeta(name) + `\b`).MatchString(text) {
			t.Errorf("neither README.md nor docs/commands.md names \"vatside %s\"", name)
		}
	}
}

// commands reads the commands out of struct fields tagged cmd:"", the way kong
// does: the name is the tag name or the field's own, in lower case with
// hyphens, and a command within a command follows it.
func commands(files []*ast.File) []string {
	structs, inner := map[string]*ast.StructType{}, map[string]bool{}
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			if spec, ok := n.(*ast.TypeSpec); ok {
				if s, ok := spec.Type.(*ast.StructType); ok {
					structs[spec.Name.Name] = s
				}
			}
			return true
		})
	}
	for _, s := range structs {
		for _, field := range s.Fields.List {
			if id, ok := field.Type.(*ast.Ident); ok && isCommand(field) {
				inner[id.Name] = true
			}
		}
	}
	var out []string
	var walk func(s *ast.StructType, before string)
	walk = func(s *ast.StructType, before string) {
		for _, field := range s.Fields.List {
			sub, _ := field.Type.(*ast.StructType)
			if id, ok := field.Type.(*ast.Ident); ok {
				sub = structs[id.Name]
			}
			if !isCommand(field) || tag(field, "hidden") {
				continue
			}
			name := before + commandName(field)
			if sub == nil || !holdsCommands(sub) || tag(field, "default") {
				out = append(out, name)
			}
			if sub != nil {
				walk(sub, name+" ")
			}
		}
	}
	for name, s := range structs {
		if !inner[name] {
			walk(s, "")
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func holdsCommands(s *ast.StructType) bool {
	return slices.ContainsFunc(s.Fields.List, isCommand)
}

func isCommand(field *ast.Field) bool { return tag(field, "cmd") }

// tag reports whether a field's tag has that key.
func tag(field *ast.Field, key string) bool {
	if field.Tag == nil {
		return false
	}
	_, ok := reflect.StructTag(strings.Trim(field.Tag.Value, "`")).Lookup(key)
	return ok
}

var hump = regexp.MustCompile(`([a-z0-9])([A-Z])`)

func commandName(field *ast.Field) string {
	if name := reflect.StructTag(strings.Trim(field.Tag.Value, "`")).Get("name"); name != "" {
		return name
	}
	if len(field.Names) == 0 {
		return ""
	}
	return strings.ToLower(hump.ReplaceAllString(field.Names[0].Name, "$1-$2"))
}

package house

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"
	"sync"
	"testing"
)

// root is the folder of go.mod, as seen from this package.
const root = "../.."

// module is the import path of the project.
const module = "vatside"

// goFile is one parsed source file. Path is relative to the root, with slashes.
type goFile struct {
	path      string
	test      bool
	generated bool
	lines     int
	ast       *ast.File
}

// pkg is one folder of Go files. Dir is relative to the root.
type pkg struct {
	dir   string
	files []*goFile
}

// sources are the files that are part of the program.
func (p *pkg) sources() []*goFile {
	var out []*goFile
	for _, f := range p.files {
		if !f.test {
			out = append(out, f)
		}
	}
	return out
}

type tree struct {
	fset  *token.FileSet
	files []string // every file, relative to the root
	pkgs  []*pkg
	byDir map[string]*pkg
}

// skipped are folders that hold nothing of ours.
var skipped = []string{".git", "node_modules", "bin", "dist"}

var generated = regexp.MustCompile(`^// Code generated .* DO NOT EDIT\.$`)

// load walks and parses the project once for all tests.
var load = sync.OnceValues(func() (*tree, error) {
	t := &tree{fset: token.NewFileSet(), byDir: map[string]*pkg{}}
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if slices.Contains(skipped, d.Name()) {
				return filepath.SkipDir
			}
			return nil
		}
		rel, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		t.files = append(t.files, rel)
		if strings.HasSuffix(rel, ".go") && !strings.Contains(rel, "/testdata/") {
			return t.parse(rel)
		}
		return nil
	})
	sort.Slice(t.pkgs, func(i, j int) bool { return t.pkgs[i].dir < t.pkgs[j].dir })
	return t, err
})

func (t *tree) parse(rel string) error {
	f, err := parser.ParseFile(t.fset, filepath.Join(root, rel), nil, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		return err
	}
	g := &goFile{path: rel, test: strings.HasSuffix(rel, "_test.go"), ast: f, lines: t.fset.File(f.Pos()).LineCount()}
	for _, group := range f.Comments {
		for _, c := range group.List {
			if c.Pos() < f.Package && generated.MatchString(c.Text) {
				g.generated = true
			}
		}
	}
	dir := path.Dir(rel)
	p := t.byDir[dir]
	if p == nil {
		p = &pkg{dir: dir}
		t.byDir[dir] = p
		t.pkgs = append(t.pkgs, p)
	}
	p.files = append(p.files, g)
	return nil
}

func project(t *testing.T) *tree {
	t.Helper()
	tr, err := load()
	if err != nil {
		t.Fatal(err)
	}
	if len(tr.pkgs) < 5 {
		t.Fatalf("only %d packages found: the walk is broken", len(tr.pkgs))
	}
	return tr
}

// read returns the text of a file of the project; a missing file fails.
func read(t *testing.T, rel string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(root, rel))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// exists reports whether the project has that file.
func exists(rel string) bool {
	_, err := os.Stat(filepath.Join(root, rel))
	return err == nil
}

// imports lists what a file imports.
func (g *goFile) imports() []string {
	var out []string
	for _, spec := range g.ast.Imports {
		out = append(out, strings.Trim(spec.Path.Value, `"`))
	}
	return out
}

// localName is what a file calls an imported package, "" if it imports it not.
func (g *goFile) localName(importPath string) string {
	for _, spec := range g.ast.Imports {
		if strings.Trim(spec.Path.Value, `"`) != importPath {
			continue
		}
		if spec.Name != nil {
			return spec.Name.Name
		}
		base := path.Base(importPath)
		if base == "v2" {
			base = path.Base(path.Dir(importPath))
		}
		return base
	}
	return ""
}

package house

import (
	"fmt"
	"go/ast"
	"path"
	"slices"
	"strings"
	"testing"
)

// layers is the picture of docs/design.md: what each package may rest on. A
// package imports lower layers, or a neighbour named below.
var layers = []struct {
	level    int
	packages string
}{
	{0, "measure fault num source figure typeface"},
	{1, "fibre cooking furnish beating sheet vat pressing sizing drying finishing optics lookthrough cutting schedule costing class trouble"},
	{2, "belief plan recharge run rehearsal studio again watch cookery handbook device"},
	{3, "store keeping intake paperwork jobs photo ask demo network"},
	{4, "web web/asset web/part web/page web/page/* cli"},
}

// neighbours are the imports allowed inside one layer. Layer 3 has none: its
// packages meet only in the commands and pages above them.
var neighbours = map[string]string{
	"measure": "fault",
	"figure":  "measure fault source",

	"beating": "fibre", // a fibre beats in its own way
	"cooking": "fibre", // yield and dose go by fibre
	"furnish": "fibre", // a blend is of fibres

	"plan":      "belief",
	"recharge":  "plan",
	"rehearsal": "run",
	"studio":    "plan belief run",
	"again":     "plan studio",
	"watch":     "run studio",
	"cookery":   "belief",

	"web":        "web/asset web/part web/page web/page/*",
	"web/part":   "web/asset",
	"web/page":   "web/part web/asset",
	"web/page/*": "web/page web/part web/asset", // pages do not know each other
	"cli":        "web",
}

// forbidden are imports that a layer does not know of.
var forbidden = []struct {
	below int // layers under this one
	names string
	why   string
}{
	{3, "database/sql net net/http html/template os os/exec os/signal log log/slog flag", "layers 0 to 2 compute; they know no file, network, page or log"},
	{4, "net/http html/template", "only pages and commands speak HTTP"},
}

// nonNames say nothing about what is inside.
var nonNames = []string{"util", "utils", "common", "helper", "helpers", "model", "models", "type", "types", "misc", "shared", "base"}

// layerOf returns the layer of a package by its folder below internal/, and
// the row's own way of writing it.
func layerOf(name string) (level int, as string, ok bool) {
	for _, row := range layers {
		for _, p := range strings.Fields(row.packages) {
			if match, _ := path.Match(p, name); match {
				return row.level, p, true
			}
		}
	}
	return 0, "", false
}

// mayImport says whether the arrow from one package to another is allowed,
// and if not, why.
func mayImport(from, to string) error {
	if to == "testkit" || strings.HasPrefix(to, "testkit/") || to == "house" {
		return fmt.Errorf("%s is for tests only", to)
	}
	high, as, ok := layerOf(from)
	if !ok {
		return fmt.Errorf("%s stands in no layer: give it a place in internal/house and docs/design.md", from)
	}
	low, _, ok := layerOf(to)
	if !ok {
		return fmt.Errorf("%s stands in no layer", to)
	}
	if low < high {
		return nil
	}
	if low == high {
		for _, n := range strings.Fields(neighbours[as]) {
			if match, _ := path.Match(n, to); match {
				return nil
			}
		}
		return fmt.Errorf("a neighbour in layer %d that the table of neighbours does not name", low)
	}
	return fmt.Errorf("upward, from layer %d to layer %d", high, low)
}

func TestLayers(t *testing.T) {
	t.Parallel()
	for _, p := range project(t).pkgs {
		name, internal := strings.CutPrefix(p.dir, "internal/")
		if !internal || name == "house" || strings.HasPrefix(name, "testkit") {
			continue
		}
		if _, _, ok := layerOf(name); !ok && len(p.sources()) > 0 {
			t.Errorf("%s stands in no layer: give it a place in internal/house/layers_test.go and docs/design.md", p.dir)
			continue
		}
		for _, f := range p.sources() {
			for _, imp := range f.imports() {
				if to, ours := strings.CutPrefix(imp, module+"/internal/"); ours {
					if err := mayImport(name, to); err != nil {
						t.Errorf("%s imports %s: %v", f.path, to, err)
					}
				}
			}
		}
	}
}

// The rule itself, on arrows whose answer is known.
func TestMayImport(t *testing.T) {
	t.Parallel()
	for arrow, want := range map[string]bool{
		"plan>vat": true, "plan>belief": true, "vat>plan": false, "belief>plan": false, "store>studio": true,
		"store>jobs": false, "web>store": true, "web/page/making>web/part": true, "web/page/making>web/page/order": false,
		"web/page/making>web": false, "cli>web": true, "web>cli": false, "measure>figure": false, "sheet>testkit/near": false,
		"sheet>unheard": false, "unheard>sheet": false,
	} {
		from, to, _ := strings.Cut(arrow, ">")
		if got := mayImport(from, to) == nil; got != want {
			t.Errorf("%s importing %s: allowed %v, want %v", from, to, got, want)
		}
	}
}

func TestForbiddenImports(t *testing.T) {
	t.Parallel()
	for _, p := range project(t).pkgs {
		level, _, ok := layerOf(strings.TrimPrefix(p.dir, "internal/"))
		if !ok {
			continue
		}
		for _, f := range p.sources() {
			for _, imp := range f.imports() {
				for _, rule := range forbidden {
					if level < rule.below && slices.Contains(strings.Fields(rule.names), imp) {
						t.Errorf("%s imports %s: %s", f.path, imp, rule.why)
					}
				}
				if imp == "database/sql" && p.dir != "internal/store" {
					t.Errorf("%s imports %s: SQL stands in internal/store alone", f.path, imp)
				}
			}
		}
	}
}

// clock and chance are what makes the same question have two answers.
var (
	clock  = []string{"Now", "Since", "Until", "After", "AfterFunc", "NewTimer", "NewTicker", "Tick", "Sleep"}
	seeded = []string{"New", "NewPCG", "NewSource", "NewChaCha8", "NewZipf"}
)

func TestNoClockAndNoUnseededChanceBelowLayer3(t *testing.T) {
	t.Parallel()
	for _, p := range project(t).pkgs {
		level, _, ok := layerOf(strings.TrimPrefix(p.dir, "internal/"))
		if !ok || level > 2 {
			continue
		}
		for _, f := range p.sources() {
			timeName := f.localName("time")
			randName := f.localName("math/rand/v2")
			if old := f.localName("math/rand"); old != "" {
				randName = old
			}
			ast.Inspect(f.ast, func(n ast.Node) bool {
				call, ok := n.(*ast.SelectorExpr)
				if !ok {
					return true
				}
				x, ok := call.X.(*ast.Ident)
				if !ok {
					return true
				}
				switch {
				case timeName != "" && x.Name == timeName && slices.Contains(clock, call.Sel.Name):
					t.Errorf("%s reads the clock with time.%s: let the caller pass the time", f.path, call.Sel.Name)
				case randName != "" && x.Name == randName && ast.IsExported(call.Sel.Name) && !slices.Contains(seeded, call.Sel.Name) && isFunc(call.Sel.Name):
					t.Errorf("%s draws without a seed with rand.%s", f.path, call.Sel.Name)
				}
				return true
			})
		}
	}
}

// isFunc tells the functions of math/rand from its types.
func isFunc(name string) bool {
	return !slices.Contains([]string{"Rand", "Source", "Source64", "PCG", "ChaCha8", "Zipf"}, name)
}

func TestNames(t *testing.T) {
	t.Parallel()
	for _, p := range project(t).pkgs {
		for _, f := range p.files {
			name := strings.TrimSuffix(f.ast.Name.Name, "_test")
			if slices.Contains(nonNames, name) || slices.Contains(nonNames, path.Base(p.dir)) {
				t.Errorf("%s: %q does not say what is inside", f.path, name)
			}
			if name != path.Base(p.dir) && name != "main" && p.dir != "." {
				t.Errorf("%s: package %s stands in the folder %s", f.path, name, p.dir)
			}
		}
	}
}

// main wires parts; what it decides belongs into a package with tests.
func TestMainIsSmall(t *testing.T) {
	t.Parallel()
	p := project(t).byDir["cmd/vatside"]
	if p == nil {
		t.Fatal("there is no cmd/vatside")
	}
	lines := 0
	for _, f := range p.sources() {
		lines += f.lines
	}
	if lines > 120 {
		t.Errorf("cmd/vatside has %d lines; the limit is 120", lines)
	}
}

package house

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"testing"
)

// The readers of these tests, on small sources whose content is known: a
// reader that sees nothing would let everything pass.

func sample(t *testing.T, text string) *ast.File {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "sample.go", text, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestReadsCommands(t *testing.T) {
	t.Parallel()
	f := sample(t, "package cli\n"+
		"type Root struct { Plan PlanCmd `cmd:\"\" help:\"x\"`; Vat struct { Run VatRun `cmd:\"\" default:\"withargs\"`; Simulate simulate `cmd:\"\"` } `cmd:\"\"`; MakeAgain again `cmd:\"\"`; Gallery again `cmd:\"\" hidden:\"\"`; Verbose bool `help:\"x\"` }\n"+
		"type PlanCmd struct { Request string `arg:\"\"` }\ntype simulate struct{}\ntype again struct{}\ntype VatRun struct{}\n")
	if got, want := commands([]*ast.File{f}), []string{"make-again", "plan", "vat run", "vat simulate"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestReadsPatterns(t *testing.T) {
	t.Parallel()
	f := sample(t, `package web
func routes() { handle("GET /{$}"); handle("POST /makings/{id}"); handle("/asset/"); handle("GET /makings/{id}"); say("no / pattern") }`)
	if got, want := patterns(f), []string{"/", "/makings/{id}", "/asset/"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestReadsMissingComments(t *testing.T) {
	t.Parallel()
	f := sample(t, `package x
// A is said.
type A int
type B int
func (A) M() {}
func (b hidden) N() {}
type hidden int
// Said for all.
const ( C = 1; D = 2 )
var E = 1
var F = 1 // said beside
func G() {}
func h() {}
`)
	if got, want := undocumented(f), []string{"B", "A.M", "E", "G"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestReadsInterfaces(t *testing.T) {
	t.Parallel()
	f := sample(t, `package x
type wide interface { A(); B(); C(); D(); E(); F() }
type constraint interface { ~int | ~string }
var v interface { A() }
`)
	got := interfaces(f)
	if got["wide"] != 6 || got["constraint"] != 0 || got["interface without a name 1"] != 1 {
		t.Errorf("got %v", got)
	}
}

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

const root = "../.."

// The handbook says of each formula what its source says now.
func TestHandbookIsFresh(t *testing.T) {
	t.Parallel()
	want, err := generate(root)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(target)))
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("%s is not what the sources say now (%v); mend it with: make generate", target, err)
	}
}

// A comment is taken apart as the house writes it.
func TestDocument(t *testing.T) {
	t.Parallel()
	fo := formula{contract: map[string]string{}}
	fo.document("F returns x.\n\n\tx = y\n\nIt says more: of y.\n\nContract:\n\n  - Quantity: mass, g\n  - Inputs: y\n    at noon, g\n  - Checked: see G\n")
	if len(fo.about) != 2 || len(fo.lines) != 1 || fo.lines[0] != "x = y" {
		t.Errorf("about %q, lines %q", fo.about, fo.lines)
	}
	for name, want := range map[string]string{"Quantity": "mass, g", "Inputs": "y at noon, g", "Checked": "see G"} {
		if fo.contract[name] != want {
			t.Errorf("%s is %q, want %q", name, fo.contract[name], want)
		}
	}
}

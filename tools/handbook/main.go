// Command handbook writes internal/handbook/formulas_gen.go: every formula of
// the trade packages with its contract, its parameters and the function
// itself, read from the sources as they stand.
//
// The packages, and their order, are those of layer 1 in docs/design.md. It
// imports none of them, so that it also runs when what it wrote before no
// longer compiles.
package main

import (
	"fmt"
	"os"
	"path/filepath"
)

const target = "internal/handbook/formulas_gen.go"

func main() {
	text, err := generate(".")
	if err == nil {
		err = os.WriteFile(filepath.FromSlash(target), text, 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "handbook:", err)
		os.Exit(1)
	}
}

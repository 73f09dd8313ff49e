// Command vatside is the program: it wires the parts together, runs one
// command and leaves with its exit code.
package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "usage: vatside COMMAND [REQUEST.json | -] [--json]")
	os.Exit(2)
}

package cli

import "fmt"

// versionCmd prints the version.
type versionCmd struct{}

// Run prints it.
func (versionCmd) Run(p *Program) error {
	return print(p.Out, fmt.Appendln(nil, "vatside", p.Version))
}

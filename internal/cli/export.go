package cli

import (
	"context"
	"fmt"
	"path/filepath"

	"vatside/internal/intake"
)

// exportCmd hands the whole studio out.
type exportCmd struct {
	Dir  string `arg:"" type:"path" help:"Folder for it; made if it is not there, empty if it is."`
	Data string `placeholder:"DIR" type:"path" default:"${data}" env:"VATSIDE_DATA" help:"Folder that holds the studio. Usual: ${default}."`
}

// Run writes the folder; the studio may be in use.
func (c exportCmd) Run(ctx context.Context, p *Program) error {
	file, err := present(ctx, c.Data)
	if err != nil {
		return err
	}
	defer file.Close() //nolint:errcheck // it is only read
	if err := intake.Export(ctx, service(file, p), c.Dir, filepath.Join(c.Data, photoFolder)); err != nil {
		return err
	}
	return print(p.Out, fmt.Appendf(nil, "The studio is written to %s: tables, a spreadsheet of them, and the photos\n", c.Dir))
}

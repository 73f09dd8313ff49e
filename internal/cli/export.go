package cli

import (
	"context"
	"fmt"
	"path/filepath"

	"vatside/internal/intake"
	"vatside/internal/keeping"
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
	if err := intake.Export(ctx, service(file, p), c.Dir); err != nil {
		return err
	}
	rotten, err := keeping.AddPhotos(filepath.Join(c.Data, photoFolder), filepath.Join(c.Dir, intake.PhotoFolder))
	if err != nil {
		return err
	}
	return print(p.Out, leftOut(fmt.Appendf(nil, "The studio is written to %s: tables, a spreadsheet of them, and the photos\n", c.Dir), rotten))
}

// leftOut adds how many photos are not what their names say.
func leftOut(said []byte, rotten int) []byte {
	if rotten == 0 {
		return said
	}
	return fmt.Appendf(said, "Photos that are damaged, and left out: %d\n", rotten)
}

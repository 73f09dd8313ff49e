package cli

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/intake"
	"vatside/internal/keeping"
	"vatside/internal/measure"
	"vatside/internal/store"
	"vatside/internal/studio"
)

// importCmd takes records in.
type importCmd struct {
	File  string `arg:"" optional:"" type:"path" help:"A spreadsheet (.xlsx), a table as text (.csv), or a folder that vatside export wrote."`
	As    string `placeholder:"KIND" help:"What a row is: makings, papers, lots, customers or fibres. Usual: by the headings."`
	Sheet string `placeholder:"NAME" help:"Which sheet of a spreadsheet. Usual: the first."`
	Look  bool   `help:"Only say what would be done."`
	Undo  string `placeholder:"ID" help:"Take an import back as a whole, instead of taking one in."`
	Data  string `placeholder:"DIR" type:"path" default:"${data}" env:"VATSIDE_DATA" help:"Folder that holds the studio. Usual: ${default}."`
}

// Run takes the file in, all of it or nothing.
func (c importCmd) Run(ctx context.Context, p *Program) error {
	if (c.File == "") == (c.Undo == "") {
		return fault.Invalid("FILE", "Name a file to take in, or with --undo an import to take back.")
	}
	if c.As != "" && !slices.Contains(intake.Kinds(), intake.Kind(c.As)) {
		return fault.Invalid("--as", "A row is one of makings, papers, lots, customers and fibres.")
	}
	if intake.IsFolder(c.File) {
		return c.whole(ctx, p)
	}
	file, err := present(ctx, c.Data)
	if err != nil {
		return err
	}
	defer file.Close() //nolint:errcheck // what was written was synced
	s := service(file, p)
	if c.Undo != "" {
		was, err := s.UndoImport(ctx, c.Undo)
		if err != nil {
			return err
		}
		return print(p.Out, fmt.Appendf(nil, "What came from %s is taken back\n", was.File))
	}
	proposal, err := c.propose(ctx, p, s)
	if err != nil {
		return err
	}
	said := told(proposal)
	if n := proposal.Batch.Import; c.Look || n.Added+n.Changed == 0 {
		return print(p.Out, append(said, "Nothing was written\n"...))
	}
	made, err := s.Import(ctx, proposal.Batch)
	if err != nil {
		return err
	}
	return print(p.Out, fmt.Appendf(said, "Written. To take it back: vatside import --undo %s\n", made.ID))
}

// whole makes an empty studio of a folder that was handed out.
func (c importCmd) whole(ctx context.Context, p *Program) error {
	if c.Look || c.As != "" || c.Sheet != "" {
		return fault.Invalid("FILE", "A whole studio is taken in as it is: leave out --look, --as and --sheet.")
	}
	release, err := hold(c.Data)
	if err != nil {
		return err
	}
	defer release()
	file, err := store.Open(ctx, filepath.Join(c.Data, studioFile))
	if err != nil {
		return err
	}
	defer file.Close() //nolint:errcheck // what was written was synced
	// The photos first, so that no entry tells of one that is missing.
	rotten, err := keeping.AddPhotos(filepath.Join(c.File, intake.PhotoFolder), filepath.Join(c.Data, photoFolder))
	if err != nil {
		return fault.Storage(err, "The photos could not be taken in, and no records were: %s.", oneLine(err.Error()))
	}
	rows, err := intake.Import(ctx, service(file, p), c.File)
	if err != nil {
		return err
	}
	return print(p.Out, leftOut(fmt.Appendf(nil, "The studio of %s is in %s: %d records\n", c.File, c.Data, rows), rotten))
}

func (c importCmd) propose(ctx context.Context, p *Program, s *studio.Service) (intake.Proposal, error) {
	in, err := os.Open(c.File)
	if err != nil {
		return intake.Proposal{}, fault.Storage(err, "%s cannot be read: %v.", c.File, reason(err))
	}
	defer in.Close() //nolint:errcheck // it is only read
	sheets, err := intake.Open(c.File, in)
	if err != nil {
		return intake.Proposal{}, err
	}
	at := 0
	if c.Sheet != "" {
		var names []string
		for _, sheet := range sheets {
			names = append(names, sheet.Name)
		}
		if at = slices.Index(names, c.Sheet); at < 0 {
			return intake.Proposal{}, fault.Invalid("--sheet", "There is no sheet %q; there are %s.", c.Sheet, strings.Join(names, ", "))
		}
	}
	profile, err := s.Profile(ctx)
	if err != nil {
		return intake.Proposal{}, err
	}
	sys := measure.System(profile.System)
	m := intake.Guess(sheets[at], intake.Kind(c.As), sys)
	var old intake.Matching
	found, err := s.Matching(ctx, m.Headings(), &old)
	if err != nil {
		return intake.Proposal{}, err
	}
	if found {
		m = m.Like(old)
	}
	return intake.Propose(ctx, s, intake.Source{File: filepath.Base(c.File), Sheet: sheets[at], Matching: m, System: sys, Now: p.Now()})
}

// told says what a proposal does: how many rows do what, and every row that
// cannot be read.
func told(p intake.Proposal) []byte {
	out := fmt.Appendf(nil, "%s: %d will be added, %d changed, %d are there already, %d cannot be read\n", p.Kind,
		len(p.Of(intake.Adds)), len(p.Of(intake.Changes)), len(p.Of(intake.Skips)), len(p.Of(intake.Cannot)))
	for _, r := range p.Of(intake.Cannot) {
		out = fmt.Appendf(out, "row %d: %s\n", r.Line, oneLine(r.Why))
	}
	return out
}

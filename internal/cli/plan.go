package cli

import (
	"context"

	"vatside/internal/ask"
	"vatside/internal/belief"
	"vatside/internal/plan"
)

// planCmd answers a brief.
type planCmd struct {
	computation
	Data string `placeholder:"DIR" type:"path" help:"Rest on the records of the studio in this folder; without it on the request and the handbook alone."`
}

// Help tells more than the list of flags.
func (planCmd) Help() string {
	return `The request says which paper, which size and how many good sheets, or, under "have", which pulp there is. ` +
		`What it leaves open under "studio" and "known" comes from the records of --data, else from the handbook. ` +
		`With --schema it prints what a request and an answer look like.`
}

// Run makes the plan.
func (c planCmd) Run(ctx context.Context, p *Program) error {
	if c.Schema {
		return printSchemas(p, ask.Plan.Schemas)
	}
	text, err := c.read(p)
	if err != nil {
		return err
	}
	req, err := ask.Plan.Read(text)
	if err != nil {
		return err
	}
	var known belief.Known
	if c.Data != "" {
		if known, err = fromRecords(ctx, p, c.Data, &req); err != nil {
			return err
		}
	}
	answer, err := plan.Make(req, known)
	if err != nil {
		return err
	}
	if c.JSON {
		return printJSON(p.Out, answer)
	}
	return print(p.Out, planTable(req, answer, c.system()))
}

func printSchemas(p *Program, schemas func() ([]byte, error)) error {
	b, err := schemas()
	if err != nil {
		return err
	}
	return print(p.Out, append(b, '\n'))
}

package cli

import (
	"bytes"
	"fmt"

	"vatside/internal/ask"
	"vatside/internal/measure"
	"vatside/internal/recharge"
	"vatside/internal/rehearsal"
)

// vatCmd holds what is asked of a vat; alone it follows one.
type vatCmd struct {
	Follow   followCmd   `cmd:"" default:"withargs" hidden:""`
	Simulate simulateCmd `cmd:"" help:"How even the sheets come: many runs at vats whose true numbers are hidden."`
}

// followCmd answers what a vat does.
type followCmd struct {
	computation
}

// Help tells more than the list of flags.
func (vatCmd) Help() string {
	return `vatside vat REQUEST.json, with --json, --schema and --units as elsewhere, follows fibre and water in the vat sheet by sheet. Grammage here is bone-dry solids on formed area. ` +
		`Recharge: "none", "advised", so much every so many sheets, or a list as a plan's vat.recharges.`
}

// Run follows the vat.
func (c followCmd) Run(p *Program) error {
	if c.Schema {
		return printSchemas(p, ask.Vat.Schemas)
	}
	text, err := c.read(p)
	if err != nil {
		return err
	}
	req, err := ask.Vat.Read(text)
	if err != nil {
		return err
	}
	answer, err := recharge.Make(req)
	if err != nil {
		return err
	}
	if c.JSON {
		return printJSON(p.Out, answer)
	}
	return print(p.Out, vatTable(req, answer, c.system()))
}

// simulateCmd answers what a way of recharging is worth.
type simulateCmd struct {
	computation
}

// Help tells more than the list of flags.
func (simulateCmd) Help() string {
	return `Plays runs at vats whose depth, drift, stock, carried-off water, hand and scale are off from what the maker believes, ` +
		`with one policy: "none", "by feel", "fixed dose", "plan" or "advised", and counts how the sheets weigh. ` +
		`What is hidden can be set under "hidden".`
}

// Run plays the runs.
func (c simulateCmd) Run(p *Program) error {
	if c.Schema {
		return printSchemas(p, ask.Simulate.Schemas)
	}
	text, err := c.read(p)
	if err != nil {
		return err
	}
	req, err := ask.Simulate.Read(text)
	if err != nil {
		return err
	}
	answer, err := rehearsal.Make(req)
	if err != nil {
		return err
	}
	if c.JSON {
		return printJSON(p.Out, answer)
	}
	return print(p.Out, simulateTable(req, answer, c.system()))
}

// simulateTable is what the runs came to, for people.
func simulateTable(r rehearsal.Request, a rehearsal.Answer, sys measure.System) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%d runs of %d sheets from a vat of %s, recharged: %s\n", a.Runs, r.Sheets, show(r.VatL, "L", sys), r.Policy)
	section(&b, "Figures")
	figures(&b, a.Figures, rehearsal.FigureOrder, sys)
	return b.Bytes()
}

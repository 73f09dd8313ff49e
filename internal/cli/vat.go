package cli

import (
	"vatside/internal/ask"
	"vatside/internal/recharge"
)

// vatCmd answers what a vat does.
type vatCmd struct {
	computation
}

// Help tells more than the list of flags.
func (vatCmd) Help() string {
	return `Follows fibre and water in the vat sheet by sheet. Grammage here is bone-dry solids on formed area. ` +
		`Recharge: "none", "advised", so much every so many sheets, or a list as a plan's vat.recharges.`
}

// Run follows the vat.
func (c vatCmd) Run(p *Program) error {
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

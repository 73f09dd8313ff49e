package cli

import (
	"bytes"
	"fmt"

	"vatside/internal/ask"
	"vatside/internal/measure"
)

// convertCmd answers a quantity in another unit.
type convertCmd struct {
	computation
}

// Help tells more than the list of flags.
func (convertCmd) Help() string {
	return `Request: {"value": 24, "from": "lb bond", "to": "g/m2"}, or {"text": "27 lb wet at 10 %", "to": "g"}. ` +
		`A volume is weighed with "density_g_ml" or "product". Words that mean two things, such as a pound of paper or a ream, are asked back.`
}

// Run converts.
func (c convertCmd) Run(p *Program) error {
	if c.Schema {
		return printSchemas(p, ask.Convert.Schemas)
	}
	text, err := c.read(p)
	if err != nil {
		return err
	}
	req, err := ask.Convert.Read(text)
	if err != nil {
		return err
	}
	answer, err := req.Answer()
	if err != nil {
		return err
	}
	if c.JSON {
		return printJSON(p.Out, answer)
	}
	return print(p.Out, convertTable(answer))
}

// convertTable is a conversion for people: the answer in the unit asked for,
// whatever the studio prefers, and its sum.
func convertTable(a ask.ConvertAnswer) []byte {
	var b bytes.Buffer
	number, _ := measure.Show(a.Value, "", measure.Metric)
	fmt.Fprintf(&b, "%s %s", number, a.Unit)
	if a.SecondSide != nil {
		second, _ := measure.Show(*a.SecondSide, "", measure.Metric)
		fmt.Fprintf(&b, " by %s %s", second, a.Unit)
	}
	if a.Low != a.High {
		ends, _ := measure.ShowBand(a.Low, a.High, "", measure.Metric)
		fmt.Fprintf(&b, " (%s)", ends)
	}
	fmt.Fprintln(&b)
	section(&b, "Sum")
	table(&b, func(add func(...string)) {
		for _, l := range a.Sum {
			add("  "+l.What, l.Working, "= "+l.Result, l.Source)
		}
	})
	for i, n := range a.Notes {
		if i == 0 {
			section(&b, "Notes")
		}
		fmt.Fprintf(&b, "  %s\n", n)
	}
	return b.Bytes()
}

package making

import (
	"fmt"
	"math"
	"strings"

	"vatside/internal/measure"
	"vatside/internal/studio"
)

// say puts how much longer into words.
func (d *BeatingData) say(b studio.Beating) {
	hours := func(h measure.Hours) measure.Minutes { return measure.Minutes(math.Round(float64(h)*12) * 5) } // min, in steps of five
	d.Goal = fmt.Sprintf("The card has %s for a load.", d.Speech.One(b.Hours, "h"))
	if b.Target > 0 {
		d.Goal = fmt.Sprintf("To beat to: %.3g %s", b.Target, b.Scale.Unit())
		if !b.Asked {
			d.Goal += fmt.Sprintf(", which %s of beating usually come to", d.Speech.One(b.Hours, "h"))
		}
		d.Goal += "."
	}
	switch {
	case b.Left != nil && b.Left.Mid < 1.0/24:
		d.Left = "It is there, or within minutes of it."
	case b.Left != nil:
		d.Left = "About " + measure.ShowDuration(hours(b.Left.Mid)) + " more from the last reading."
	case b.Why != "":
		d.Left = "How long is not known: " + b.Why + "."
	default:
		d.Left = "Take a first reading."
	}
	if b.Left != nil {
		d.Sure = fmt.Sprintf("Nine times in ten between %s and %s.", measure.ShowDuration(hours(b.Left.Low)), measure.ShowDuration(hours(b.Left.High)))
		if b.Left.Open {
			d.Sure = fmt.Sprintf("At least %s, nineteen times in twenty; how long at most cannot be seen yet.", measure.ShowDuration(hours(b.Left.Low)))
		}
		if b.Left.OnExpectation() {
			d.Rests = "It still rests more on what was expected than on your readings; one more reading tells."
		}
	}
	if b.Earlier {
		d.Rests = strings.TrimSpace("What is expected comes from your last run of " + b.Fibre + " here and from the handbook. " + d.Rests)
	}
}

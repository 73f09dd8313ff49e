package measure

import (
	"regexp"
	"strconv"
	"strings"
)

// said finds a quantity written in metric in a sentence: one number, or two
// sides, and a unit that US readers read otherwise. Compounds such as
// g/m², which US studios read too, are not touched.
var said = regexp.MustCompile(`(\d[\d,]*(?:\.\d+)?)(?: × (\d[\d,]*(?:\.\d+)?))? (mL|mm|kg|kPa|°C|m²|g/L|L|g)([^\w/²]|$)`)

// Retell returns a sentence with its quantities in the reader's system. The
// sentence is written in metric; in Metric it comes back as it is.
func Retell(sentence string, sys System) string {
	if sys != US {
		return sentence
	}
	return said.ReplaceAllStringFunc(sentence, func(found string) string {
		part := said.FindStringSubmatch(found)
		show := func(text string) (string, string, bool) {
			v, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", ""), 64)
			if err != nil {
				return "", "", false
			}
			n, unit := Show(v, part[3], sys)
			return n, unit, true
		}
		first, unit, ok := show(part[1])
		if !ok {
			return found
		}
		if part[2] != "" {
			second, other, ok := show(part[2])
			if !ok || other != unit {
				return found
			}
			first += " × " + second
		}
		return first + " " + unit + part[4]
	})
}

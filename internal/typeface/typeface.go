// Package typeface holds the one typeface of Vatside, for the page, the
// printed card and the labels alike: Atkinson Hyperlegible Next, drawn so that
// letters and figures are told apart by eyes that see poorly, or through wet
// glasses. It is under the SIL Open Font License (LICENSE_FONT).
//
// Three weights are enough: text, emphasis and headings. Missing: italics, and
// scripts other than Latin; a text that needs them falls back to what the
// device has.
package typeface

import _ "embed"

// The files by weight, as TrueType. They are shared: do not change the bytes.
var (
	//go:embed AtkinsonHyperlegibleNext-Regular.ttf
	Regular []byte
	//go:embed AtkinsonHyperlegibleNext-SemiBold.ttf
	SemiBold []byte
	//go:embed AtkinsonHyperlegibleNext-Bold.ttf
	Bold []byte
)

// Family is the name of the typeface as styles and documents call it.
const Family = "Atkinson Hyperlegible Next"

// Files returns the fonts by file name, as styles refer to them.
func Files() map[string][]byte {
	return map[string][]byte{
		"AtkinsonHyperlegibleNext-Regular.ttf":  Regular,
		"AtkinsonHyperlegibleNext-SemiBold.ttf": SemiBold,
		"AtkinsonHyperlegibleNext-Bold.ttf":     Bold,
	}
}

// License is the licence the fonts are passed on under.
//
//go:embed LICENSE_FONT
var License string

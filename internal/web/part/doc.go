// Package part holds what every page is set from: figures, fields, tables,
// cautions, empty places, flashes and drawn bands.
//
// A part is a plain struct and a template of the same name; pages fill the
// struct and call the template, so that a figure looks and reads the same
// wherever it stands. Words follow the trade, never the statistics: a band is
// "nine times in ten 412–428 mm". Missing: charts with axes.
package part

import "embed"

// Templates holds the parts' templates, parsed into every page.
//
//go:embed html/*.html
var Templates embed.FS

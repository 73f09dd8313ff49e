// Package sizing models how paper is made to hold ink and water: size in the
// stock and size on the dry sheet, how much of it a sheet takes up, how long it
// cures, and how its hardness is told.
//
// A sheet drawn through a bath takes up its own weight of bath, more or less,
// and with it the bath's share of size; so bath strength and pick-up are all
// there is, and two weighings give the pick-up. Assumed: the bath weighs what
// water weighs, the sheet takes size and water in the bath's own ratio, and the
// mass of a dry sheet is its mass as it lies. Sources: docs/models/sizing.md.
// Missing: how hard a sheet of a given size becomes, what size does to strength
// and shrinkage, the size of the felts.
package sizing

// Package drying models what the room's air can carry off and how long sheets
// take to dry: between blotters with moving air, between changed blotters, on a
// board, hung in a loft, free, or on a heated plate; how many places a dryer has,
// when the sheets want somebody, and what season and altitude do.
//
// Standing assumptions: air leaves a stack no wetter than saturation at its wet
// bulb, so airflow and weather give a bound on the hours; the share of that
// bound a real stack reaches is learned from one weighed run. Moist air follows
// the handbook's ideal-gas relations; no well-kept Go library has them, so they
// are here, checked against published values. Sources: docs/models/drying.md.
// Missing: the falling rate near dryness, diffusion inside the sheet, the flow
// through a real stack, the heat of a plate.
package drying

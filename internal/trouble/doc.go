// Package trouble answers a fault in the paper: what may have caused it, what to
// test and what to change, in the order in which the facts of this making speak.
//
// It models the fault table of the trade: symptoms, each with its usual causes,
// and to each cause one rule that looks at the facts of a making (mesh, fibre,
// beating, recharges, pressure, drying, air) and says whether they speak for it,
// against it, or are not known. What no recorded fact can tell has the rule
// "look": the test decides.
//
// Causes are hypotheses, never a diagnosis: the maker confirms. Where a fact has
// no sharp edge, between "speaks for" and "speaks against" lies a span that says
// nothing. Most limits are common practice or memory; each stands at its rule.
// Sources: docs/models/trouble.md. Missing: weights of evidence, causes that need
// each other, what this studio has found before.
package trouble

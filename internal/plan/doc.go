// Package plan turns a brief and what the studio knows into a plan: a pure
// function over some thousands of seeded draws. Decisions are made once from
// all draws, outcomes are then drawn given the decisions.
//
// Standing assumptions: the vat is well stirred, drained water returns to it,
// kissed-off sheets go back into the vat and cost no fibre, unretained
// additive is not in the sheet-forming solids. Sources: docs/models/plan.md.
// Missing: several studios at once, calendars, half-made lots.
package plan

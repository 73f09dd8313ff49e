package drying

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Sheets on one spur of a loft: folded together over one cord.
const (
	// SpurLeast is what a crew hung fast, sheets (source: two-thousand-sheets-2016).
	SpurLeast = 4
	// SpurMost is what a mill hung, sheets (source: hand-papermaking-mill-notes-2014).
	SpurMost = 8
	// BlottersPerGap is how many blotters go between two boards, two above the
	// sheets and two below (source: drying-box-page).
	BlottersPerGap = 4
	// sizeSlack is what a sheet may be over the room left for it, mm: no ruler
	// shows it, and inches do not come out even in millimetres.
	sizeSlack = 0.01
)

// Ranges of sheets, boards and lines.
const (
	leastSide, mostSide = 10.0, 10000.0 // mm
	mostLine            = 1e6           // mm; a kilometre of cord
)

// GapsOfBoards returns the gaps in a stack of boards: sheets lie between two.
//
//	gaps = boards − 1
//
// Contract:
//
//   - Quantity: gaps, a count
//   - Inputs: boards, pieces
//   - Valid: boards 2 to 1000; outside: fault.OutOfRange
//   - Assumes: a board on either end
//   - Error: exact
//   - Source: derived; the layers after drying-box-page
//   - Checked: ten boards, four blotters to a gap, are the 36 blotters of a starter set (drying-system-page)
func GapsOfBoards(boards int) (int, error) {
	if err := measure.Inside("boards", "the number of boards", boards, 2, 1000, ""); err != nil {
		return 0, err
	}
	return boards - 1, nil
}

// PlacesOnBoard returns how many sheets lie side by side on a board, glass or
// plate, all turned the same way, whichever way takes more.
//
//	places = max over both ways of ⌊(L + gap)/(l + gap)⌋ · ⌊(S + gap)/(s + gap)⌋
//
// Contract:
//
//   - Quantity: places for sheets, a count
//   - Inputs: board L × S, sheet l × s, gap between two sheets, all mm
//   - Valid: sides 10 to 10000 mm; gap 0 to 500 mm; outside: fault.OutOfRange; a sheet larger than the board: fault.Infeasible
//   - Assumes: sheets may lie at the board's edge; no mixing of both ways in one layer
//   - Error: exact for a grid; mixing both ways takes one or two more at times
//   - Source: derived
//   - Checked: published/places-on-board.csv; property: turning sheet or board changes nothing, the sheets' area fits
func PlacesOnBoard(boardLong, boardShort, sheetLong, sheetShort, gap measure.Length) (int, error) {
	err := fault.First(
		measure.Inside("board_long", "the long side of the board", boardLong, leastSide, mostSide, "mm"),
		measure.Inside("board_short", "the short side of the board", boardShort, leastSide, mostSide, "mm"),
		measure.Inside("sheet_long", "the long side of the sheet", sheetLong, leastSide, mostSide, "mm"),
		measure.Inside("sheet_short", "the short side of the sheet", sheetShort, leastSide, mostSide, "mm"),
		measure.Inside("gap", "the gap between two sheets", gap, 0, 500, "mm"),
	)
	if err != nil {
		return 0, err
	}
	places := max(
		inRow(boardLong, sheetLong, gap)*inRow(boardShort, sheetShort, gap),
		inRow(boardLong, sheetShort, gap)*inRow(boardShort, sheetLong, gap),
	)
	if places == 0 {
		return 0, fault.Infeasible("sheet_long", "a sheet of %.4g × %.4g mm is larger than the board of %.4g × %.4g mm", float64(sheetLong), float64(sheetShort), float64(boardLong), float64(boardShort))
	}
	return places, nil
}

// inRow is how many pieces with gaps between them fit a length.
func inRow(length, piece, gap measure.Length) int {
	return int(math.Floor(float64((length + sizeSlack + gap) / (piece + gap))))
}

// Places returns the places for sheets in a stack of boards.
//
//	places = (boards − 1) · sheets to a gap
//
// Contract:
//
//   - Quantity: places for sheets, a count
//   - Inputs: boards, pieces; perGap, sheets side by side between two boards
//   - Valid: boards 2 to 1000; perGap 1 to 1000; outside: fault.OutOfRange
//   - Assumes: one layer of sheets between two blotters above and two below in every gap: four blotters a gap
//   - Error: exact
//   - Source: derived; the layers after drying-box-page
//   - Checked: published/places-on-board.csv
func Places(boards, perGap int) (int, error) {
	gaps, err := GapsOfBoards(boards)
	if err != nil {
		return 0, err
	}
	if err := measure.Inside("per_gap", "the sheets between two boards", perGap, 1, 1000, ""); err != nil {
		return 0, err
	}
	return gaps * perGap, nil
}

// PlacesOnLines returns the places on the cords of a loft, where sheets hang
// folded over in spurs.
//
//	places = lines · ⌊(length + gap)/(width + gap)⌋ · sheets to a spur
//
// Contract:
//
//   - Quantity: places for sheets, a count
//   - Inputs: lines, pieces; length of one; width of the sheet along the line; gap between two spurs, all mm; spur, sheets hung together
//   - Valid: lines 1 to 1000; length 10 to 1000000 mm; width 10 to 10000 mm; gap 0 to 500 mm; spur 1 to 8; outside: fault.OutOfRange; a sheet wider than the line is long: fault.Infeasible
//   - Assumes: lines so far apart that the sheets do not touch
//   - Error: exact
//   - Source: derived; spurs of four after two-thousand-sheets-2016, of seven or eight after hand-papermaking-mill-notes-2014
//   - Checked: worked example; property: a longer line never holds fewer
func PlacesOnLines(lines int, length, width, gap measure.Length, spur int) (int, error) {
	err := fault.First(
		measure.Inside("lines", "the number of lines", lines, 1, 1000, ""),
		measure.Inside("line_length", "the length of a line", length, leastSide, mostLine, "mm"),
		measure.Inside("width", "the width of the sheet along the line", width, leastSide, mostSide, "mm"),
		measure.Inside("gap", "the gap between two spurs", gap, 0, 500, "mm"),
		measure.Inside("spur", "the sheets in a spur", spur, 1, SpurMost, ""),
	)
	if err != nil {
		return 0, err
	}
	spurs := inRow(length, width, gap)
	if spurs == 0 {
		return 0, fault.Infeasible("width", "a sheet %.4g mm wide does not fit on a line of %.4g mm", float64(width), float64(length))
	}
	return lines * spurs * spur, nil
}

// Loads returns how often the dryer is filled.
//
//	loads = ⌈sheets / places⌉
//
// Contract:
//
//   - Quantity: dryer loads, whole
//   - Inputs: sheets; places for sheets in the dryer
//   - Valid: sheets 0 to 1000000; places 1 to 100000; outside: fault.OutOfRange
//   - Assumes: the last load may be short
//   - Error: exact
//   - Source: derived
//   - Checked: property: loads hold all sheets and one load fewer does not
func Loads(sheets measure.Sheets, places int) (measure.Loads, error) {
	err := fault.First(
		measure.Inside("sheets", "the number of sheets", sheets, 0, 1e6, ""),
		measure.Inside("places", "the places in the dryer", places, 1, 100000, ""),
	)
	if err != nil {
		return 0, err
	}
	return measure.Loads(math.Ceil(float64(sheets) / float64(places))), nil
}

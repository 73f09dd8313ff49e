package costing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Item is one thing a making cost: a step's work, a lot of fibre, a product, a
// bath of size. Several items are estimates still; Break makes money of them.
type Item struct {
	What     string
	Cost     measure.Cost
	Material bool // fibre, additives, size: what Bill.OnMaterials is put on
}

// Step is the hands-on time of one step.
type Step struct {
	What  string
	Hours measure.Hours
}

// Work prices steps at one rate, one item to a step.
func Work(steps []Step, rate measure.Cost) ([]Item, error) {
	out := make([]Item, 0, len(steps))
	for _, s := range steps {
		cost, err := Labour(s.Hours, rate)
		if err != nil {
			return nil, err
		}
		out = append(out, Item{What: s.What, Cost: cost})
	}
	return out, nil
}

// Bill is what a making cost and what came of it.
type Bill struct {
	Currency       string // three letters, iso-4217
	Items          []Item
	OnMaterials    measure.Share // put on the materials, as OnMaterials is by custom
	Overhead       measure.Share // on all of it; 0 where overhead is an item by the hour
	Made           int           // sheets that were pulled and kept
	Good           int
	Retree, Broken int           // sold cheaper
	ShopPays       measure.Share // of the retail price; 0: the custom, half
}

// Line is one line of money, in smallest coins.
type Line struct {
	What  string
	Minor int64
}

// Breakdown is a bill in smallest coins: its lines add up to its total to the
// coin, and so do the shares of the sheets.
//
// The rule of rounding: each line is rounded by itself, halves away from nought,
// and the total is the sum of the rounded lines; so the printed column adds up,
// and lies within half a coin a line of the unrounded sum. Prices that must pay are
// rounded up.
type Breakdown struct {
	Currency string
	Lines    []Line
	Total    int64
	PerMade  Shares // the total over all sheets made
	PerGood  Shares // the total over the good ones, which carry the lost

	Floor            int64 // price of a good sheet that pays for all, seconds unsold
	FloorWithSeconds int64 // the same, retree and broken sold at their allowance
	SecondsBring     int64 // what they bring at that price
	Retail           int64 // price in a shop that pays its share and leaves the floor
}

// Break sums a bill.
//
//	total = Σ⌊item⌉ + ⌊on materials · Σ⌊material⌉⌉ + ⌊overhead · all that⌉
//
// Contract:
//
//   - Quantity: money in smallest coins, by line, in all, for each sheet
//   - Inputs: costs, major units; shares on materials and overhead; sheets made, good, retree, broken; share a shop pays
//   - Valid: costs 0 to 1,000,000,000; shares 0 to 10; made 1 to 10,000,000; good, retree and broken together at most made; else fault.OutOfRange; a code of iso-4217, else fault.Invalid
//   - Assumes: ⌊ ⌉ rounds halves away from nought; what is neither good nor sold cheaper brings nothing
//   - Error: half a coin a line
//   - Source: derived, docs/models/costing.md; allowances modern-paper-making
//   - Checked: published/check-costing.csv; properties: lines and shares add up to the total, which is StudioFormula within the rounding; a floor pays and a coin less does not
func Break(b Bill) (Breakdown, error) {
	if err := b.check(); err != nil {
		return Breakdown{}, err
	}
	out := Breakdown{Currency: b.Currency}
	if err := out.add(b); err != nil {
		return Breakdown{}, err
	}
	var err error
	if out.PerMade, err = Split(out.Total, b.Made); err != nil {
		return Breakdown{}, err
	}
	if out.PerGood, err = Split(out.Total, b.Good); err != nil {
		return Breakdown{}, err
	}
	out.Floor = out.PerGood.Most()
	if err := out.sellSeconds(b); err != nil {
		return Breakdown{}, err
	}
	if err := out.sellInShops(b); err != nil {
		return Breakdown{}, err
	}
	return out, nil
}

func (b Bill) check() error {
	if err := measure.Inside("made", "the number of sheets made", b.Made, 1, int(mostSheets), ""); err != nil {
		return err
	}
	if err := measure.Inside("good", "the number of good sheets", b.Good, 1, b.Made, ""); err != nil {
		return err
	}
	if err := measure.Inside("retree", "the number of retree sheets", b.Retree, 0, b.Made-b.Good, ""); err != nil {
		return err
	}
	return measure.Inside("broken", "the number of broken sheets", b.Broken, 0, b.Made-b.Good-b.Retree, "")
}

// add rounds the items, what is put on the materials, and overhead on what all
// that comes to.
func (d *Breakdown) add(b Bill) error {
	materials := int64(0)
	for _, it := range b.Items {
		if err := measure.Inside("items", "the cost of each item", it.Cost, 0, mostCost, ""); err != nil {
			return err
		}
		if err := d.line(it.What, it.Cost); err != nil {
			return err
		}
		if it.Material {
			materials += d.Lines[len(d.Lines)-1].Minor
		}
	}
	if err := d.onTop("on materials", "on_materials", materials, b.OnMaterials); err != nil {
		return err
	}
	return d.onTop("overhead", "overhead", d.Total, b.Overhead)
}

// onTop adds a share of a sum already rounded, as a line of its own.
func (d *Breakdown) onTop(what, field string, on int64, share measure.Share) error {
	if err := measure.Inside(field, "what is put on top, as a share,", share, 0, mostShare, ""); err != nil {
		return err
	}
	sum, err := FromMinor(on, d.Currency)
	if err != nil || share == 0 {
		return err
	}
	return d.line(what, sum*measure.Cost(share))
}

func (d *Breakdown) line(what string, cost measure.Cost) error {
	minor, err := MinorUnits(cost, d.Currency)
	if err != nil {
		return err
	}
	d.Lines = append(d.Lines, Line{what, minor})
	d.Total += minor
	return nil
}

// sellSeconds finds the lowest whole price at which everything sold pays. The
// formula comes within a coin of it; rounded prices of seconds decide.
func (d *Breakdown) sellSeconds(b Bill) error {
	total, err := FromMinor(d.Total, d.Currency)
	if err != nil {
		return err
	}
	about, err := FloorWithSeconds(total, measure.Sheets(b.Good), measure.Sheets(b.Retree), measure.Sheets(b.Broken))
	if err != nil {
		return err
	}
	near, err := MinorUnits(about, d.Currency)
	if err != nil {
		return err
	}
	for price := max(0, near-2); ; price++ {
		back, err := d.secondsBring(b, price)
		if err != nil {
			return err
		}
		if back+price*int64(b.Good) >= d.Total {
			d.FloorWithSeconds, d.SecondsBring = price, back
			return nil
		}
	}
}

func (d *Breakdown) secondsBring(b Bill, price int64) (int64, error) {
	full, err := FromMinor(price, d.Currency)
	if err != nil {
		return 0, err
	}
	sum := int64(0)
	for _, grade := range []struct {
		sheets int
		off    measure.Share
	}{{b.Retree, RetreeOff}, {b.Broken, BrokenOff}} {
		each, err := Graded(full, grade.off)
		if err != nil {
			return 0, err
		}
		coins, err := MinorUnits(each, d.Currency)
		if err != nil {
			return 0, err
		}
		sum += coins * int64(grade.sheets)
	}
	return sum, nil
}

// sellInShops rounds the retail price up, so that the shop's share of it is
// never below the floor.
func (d *Breakdown) sellInShops(b Bill) error {
	share := b.ShopPays
	if share == 0 {
		share = ShopPays
	}
	floor, err := FromMinor(d.Floor, d.Currency)
	if err != nil {
		return err
	}
	if _, err := RetailFloor(floor, share); err != nil {
		return err
	}
	d.Retail = int64(math.Ceil(float64(d.Floor)/float64(share) - 1e-9)) // 1e-9 coin: 805/0.5 is 1610
	return nil
}

// Shares is a total split over sheets as evenly as coins allow: More of them
// carry one coin above Each.
type Shares struct {
	Each int64
	More int
	Of   int
}

// Split divides a total of smallest coins over n sheets, so that the shares add
// up to the total.
//
//	each = ⌊total / n⌋, and one coin more for total mod n of them
//
// Contract:
//
//   - Quantity: smallest coins for each sheet
//   - Inputs: total, smallest coins; n sheets
//   - Valid: total at least 0; n 1 to 10,000,000; else fault.OutOfRange
//   - Assumes: coins cannot be cut
//   - Error: exact; two sheets differ by at most one coin
//   - Source: derived, docs/models/costing.md
//   - Checked: property: the shares add up to the total
func Split(total int64, n int) (Shares, error) {
	if total < 0 {
		return Shares{}, fault.OutOfRange("total", "the total to split must not be below nought")
	}
	if err := measure.Inside("sheets", "the number of sheets", n, 1, int(mostSheets), ""); err != nil {
		return Shares{}, err
	}
	return Shares{Each: total / int64(n), More: int(total % int64(n)), Of: n}, nil
}

// Sum is the total again.
func (s Shares) Sum() int64 { return s.Each*int64(s.Of) + int64(s.More) }

// Most is the largest share: a price at which all sheets together pay the total.
func (s Shares) Most() int64 {
	if s.More > 0 {
		return s.Each + 1
	}
	return s.Each
}

// Nearest is the even share rounded to a coin, halves up: for reading, since it
// need not add up.
func (s Shares) Nearest() int64 {
	if 2*s.More >= s.Of && s.More > 0 {
		return s.Each + 1
	}
	return s.Each
}

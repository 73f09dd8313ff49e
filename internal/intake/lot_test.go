package intake

import (
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/studio"
)

// lotNamed is a lot on the shelf by its name.
func lotNamed(t *testing.T, u *studio.Service, name string) studio.Lot {
	t.Helper()
	list, err := u.Lots(t.Context(), studio.LotFilter{Name: name})
	if err != nil || len(list) != 1 {
		t.Fatalf("%d lots are called %s, %v", len(list), name, err)
	}
	return list[0]
}

const shelfSheet = "Name,Fibre,Amount (kg),Form,Moisture\nred box,abaca,2,,8 %\nbucket,cotton rag,5,wet stock,97 %\n"

// What was used since a lot list was taken in is not given back by taking it in
// again; another amount is counted.
func TestUsedFibreStaysUsed(t *testing.T) {
	t.Parallel()
	u, _ := newStudio(t)
	take(t, u, propose(t, u, open(t, shelfSheet), Lots))
	byHand, err := u.SaveLot(t.Context(), studio.Lot{Name: "by hand", What: "flax", Form: studio.AsBought}, studio.Movement{ID: "first", MassG: 3000})
	if err != nil {
		t.Fatal(err)
	}
	const held = shelfSheet + "by hand,flax,3,,\n"
	if p := propose(t, u, open(t, held), Lots); len(p.Of(Skips)) != 3 {
		t.Fatalf("what lies there as the sheet says: %+v", p.Rows)
	}
	use := func(id, lot string, grams float64) {
		t.Helper()
		if err := u.ThrowAway(t.Context(), lot, studio.Movement{ID: id, MassG: grams}); err != nil {
			t.Fatal(err)
		}
	}
	red := lotNamed(t, u, "red box")
	use("used 1", red.ID, 500)
	use("used 2", byHand.ID, 1000)
	p := propose(t, u, open(t, held), Lots)
	if len(p.Of(Skips)) != 3 || len(p.Batch.Moves)+len(p.Batch.Lots) != 0 {
		t.Errorf("the same sheet again: %+v, %+v", p.Rows, p.Batch.Moves)
	}
	if notes := strings.Join(p.Rows[0].Notes, ""); !strings.Contains(notes, "2000 g") || !strings.Contains(notes, "1500 g") {
		t.Errorf("the row that is not taken says %q", notes)
	}
	counted := strings.Replace(held, "abaca,2,", "abaca,1.8,", 1)
	p = propose(t, u, open(t, counted), Lots)
	if len(p.Of(Changes)) != 1 || len(p.Batch.Moves) != 1 {
		t.Fatalf("another amount: %+v", p.Rows)
	}
	take(t, u, p)
	if g := lotNamed(t, u, "red box").AmountG; g != 1800 {
		t.Errorf("after the count %g g lie there", g)
	}
	use("used 3", red.ID, 300)
	if p := propose(t, u, open(t, counted), Lots); len(p.Of(Skips)) != 3 {
		t.Errorf("the count again: %+v", p.Rows)
	}
	if p := propose(t, u, open(t, held), Lots); len(p.Batch.Moves) != 1 || p.Batch.Moves[0].MassG != 500 {
		t.Errorf("the sheet put right to what it said first: %+v, %+v", p.Rows, p.Batch.Moves)
	}
}

// A row that says neither fibre nor form leaves both as they are, and its
// amount is read by them.
func TestLotKeepsWhatARowLeavesOut(t *testing.T) {
	t.Parallel()
	u, _ := newStudio(t)
	take(t, u, propose(t, u, open(t, shelfSheet), Lots))
	p := propose(t, u, open(t, "Name,Amount\nbucket,20 L\nred box,1 kg\n"), Lots)
	if len(p.Of(Changes)) != 2 {
		t.Fatalf("%+v", p.Rows)
	}
	take(t, u, p)
	if l := lotNamed(t, u, "bucket"); l.Form != studio.WetStock || l.What != "cotton rag" || l.AmountG != 20_000 {
		t.Errorf("the bucket: %+v", l)
	}
	if l := lotNamed(t, u, "red box"); l.Form != studio.AsBought || l.What != "abaca" || l.AmountG != 1000 {
		t.Errorf("the red box: %+v", l)
	}
}

// A lot in two rows is taken from the first; the second says why it is not.
func TestLotTwice(t *testing.T) {
	t.Parallel()
	u, _ := newStudio(t)
	twice := open(t, "Name,Fibre,Amount (kg),Bought\nred box,abaca,2,3.5.2026\nRed Box,abaca,3,3.5.2026\n,flax,1,3.5.2026\n,flax,1,3.5.2026\n")
	for _, want := range []Does{Adds, Skips} {
		p := propose(t, u, twice, Lots)
		for i, does := range []Does{want, Cannot, want, want} {
			if p.Rows[i].Does != does {
				t.Errorf("row %d: %+v; want %q", i, p.Rows[i], does)
			}
		}
		if why := p.Rows[1].Why; !strings.Contains(why, "twice") {
			t.Errorf("the second row: %s", why)
		}
		take(t, u, p)
	}
	if l := lotNamed(t, u, "red box"); l.AmountG != 2000 {
		t.Errorf("%g g", l.AmountG)
	}
	p := propose(t, u, open(t, "Name,Fibre,Amount (kg)\nred box,abaca,1\nred box,abaca,1.5\n"), Lots)
	if len(p.Of(Changes)) != 1 || len(p.Of(Cannot)) != 1 {
		t.Fatalf("counted in two rows: %+v", p.Rows)
	}
	take(t, u, p)
	if l := lotNamed(t, u, "red box"); l.AmountG != 1000 {
		t.Errorf("%g g after the count", l.AmountG)
	}
}

// A bare amount and a bare price of a studio on US units are of pounds (source:
// inch-pound-1959), of a metric one of kilograms.
func TestBareAmountAndPrice(t *testing.T) {
	t.Parallel()
	for sys, want := range map[measure.System]struct{ grams, aKilo float64 }{
		measure.US:     {2.5 * 453.59237, 26.46}, // 12 a pound
		measure.Metric: {2500, 12},
	} {
		u, _ := newStudio(t)
		s := open(t, "Fibre,Amount,Price,Bought\nabaca,2.5,12,2026-05-03\n")
		p, err := Propose(t.Context(), u, Source{File: "shelf.csv", Sheet: s, Matching: Guess(s, Lots, sys), System: sys, Now: today})
		if err != nil || len(p.Batch.Lots) != 1 || len(p.Batch.Moves) != 1 {
			t.Fatalf("%s: %+v, %v", sys, p.Rows, err)
		}
		price, grams := *p.Batch.Lots[0].PriceKg, p.Batch.Moves[0].MassG
		if price != want.aKilo || grams < want.grams*0.999999 || grams > want.grams*1.000001 {
			t.Errorf("%s: %g g at %g a kg; want %+v", sys, grams, price, want)
		}
	}
}

// Finished sheets that were kept from a past making hold its import, until
// then it can be undone; a sheet of lots does not count them in kilograms.
func TestFinishedSheetsHoldTheirImport(t *testing.T) {
	t.Parallel()
	u, _ := newStudio(t)
	i := take(t, u, propose(t, u, open(t, notebook), ""))
	makings, err := u.Makings(t.Context(), studio.MakingFilter{})
	if err != nil {
		t.Fatal(err)
	}
	var kept []studio.Lot
	for _, m := range makings { // of some nobody wrote down what a sheet weighs
		l, err := u.KeepLeft(t.Context(), m.ID, studio.Sheets)
		switch {
		case err == nil:
			kept = append(kept, l)
		case fault.KindOf(err) != fault.KindInfeasible:
			t.Error(err)
		}
	}
	if len(kept) != 2 || kept[0].Count(kept[0].AmountG)+kept[1].Count(kept[1].AmountG) != 52+50 { // the two rows with a weight
		t.Fatalf("kept %+v", kept)
	}
	if _, err := u.UndoImport(t.Context(), i.ID); fault.KindOf(err) != fault.KindConflict || !strings.Contains(err.Error(), "2 lots were kept") {
		t.Errorf("undone under its sheets: %v", err)
	}
	p := propose(t, u, open(t, "Name,Fibre,Amount (kg)\n"+`"`+kept[0].Name+`"`+",abaca,2\n"), Lots)
	if len(p.Of(Cannot)) != 1 || !strings.Contains(p.Rows[0].Why, "counted") {
		t.Errorf("a row of finished sheets: %+v", p.Rows)
	}
}

package intake

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/studio"
)

// Numbers as people write them.
func TestNumbers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind  measure.Kind
		text  string
		unit  string
		comma bool
		want  float64
		noted bool
	}{
		{measure.OfMass, "12.4", "g", false, 12.4, false},
		{measure.OfMass, "12,4", "g", true, 12.4, false},
		{measure.OfMass, "1,234", "g", true, 1.234, false},
		{measure.OfMass, "1.2 kg", "g", false, 1200, false},
		{measure.OfMass, "2", "kg", false, 2000, false},
		{measure.OfMass, "½ lb", "g", false, 226.796185, false},
		{measure.OfMass, "1 lb 4 oz", "g", false, 566.9904625, false},
		{measure.OfMass, "approx. 450 g", "kg", false, 450, true},
		{measure.OfMass, "ca. 1,5", "kg", true, 1500, true},
		{measure.OfMass, "~450", "g", false, 450, true},
		{measure.OfMass, "450 ± 10 g", "g", false, 450, true},
		{measure.OfMass, "2-3", "kg", false, 2500, true},
		{measure.OfMass, "2–3 lb", "kg", false, 1133.980925, true},
		{measure.OfHours, "2 to 3", "h", false, 2.5, true},
		{measure.OfHours, "90", "min", false, 1.5, false},
		{measure.OfHours, "1:30", "min", false, 1.5, false},
		{measure.OfHours, "2 1/2", "h", false, 2.5, false},
		{measure.OfHours, "2-1/2", "h", false, 2.5, false},
		{measure.OfSheets, "60+3", "sheets", false, 63, true},
		{measure.OfSheets, "40?", "sheets", false, 40, true},
		{measure.OfSheets, "60 - 65", "sheets", false, 62, true},
		{measure.OfCaliper, "8", "pt", false, 0.2032, false},
		{measure.OfCaliper, "210 µm", "mm", false, 0.21, false},
		{measure.OfGrammage, "60 lb text", "g/m²", false, 88.8, false},
		{measure.OfPercent, "52%", "%", false, 52, false},
	} {
		got, note, err := style{comma: c.comma}.number(c.kind, c.text, c.unit, measure.Metric)
		if err != nil || got < c.want*0.999 || got > c.want*1.001 || (note != "") != c.noted {
			t.Errorf("%q in %s: %g, %q, %v; want %g, noted %v", c.text, c.unit, got, note, err, c.want, c.noted)
		}
	}
	for _, text := range []string{"lots", "3-2", "12 kg of", "-5", "1,234", "2--3", "a-b", "=SUM(A1)"} {
		if v, _, err := (style{}).number(measure.OfMass, text, "g", measure.Metric); err == nil {
			t.Errorf("%q is read as %g", text, v)
		}
	}
}

func TestDays(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"2019-05-03": "2019-05-03", "3/5/2019": "2019-05-03", "3.5.19": "2019-05-03", "25/12/2018": "2018-12-25", "12/25/2018": "2018-12-25",
		"3 May 2019": "2019-05-03", "3rd of May, 2019": "2019-05-03", "May 3, 2019": "2019-05-03", "Fri 3 May 2019": "2019-05-03", "3. März 2019": "2019-03-03",
		"3-May-19": "2019-05-03", "20190503": "2019-05-03", "43588": "2019-05-03", "43588.5": "2019-05-03", "2019/5/3 14:20": "2019-05-03",
		"2019年5月3日": "2019-05-03", "May 2019": "2019-05-01", "5/2019": "2019-05-01", "2019-05": "2019-05-01", "c. 3 May 2019": "2019-05-03", "3 May '09": "2009-05-03",
	} {
		d, _, err := style{dayFirst: true}.day(text, false, today)
		if err != nil || d.Format(time.DateOnly) != want {
			t.Errorf("%q: %s, %v; want %s", text, d.Format(time.DateOnly), err, want)
		}
	}
	if d, _, err := (style{}).day("3/5/2019", false, today); err != nil || d.Format(time.DateOnly) != "2019-03-05" {
		t.Errorf("the month first: %v, %v", d, err)
	}
	if d, _, err := (style{}).day("42126", true, today); err != nil || d.Format(time.DateOnly) != "2019-05-03" {
		t.Errorf("counted from 1904: %v, %v", d, err)
	}
	for _, text := range []string{"31/4/2021", "13/13/2021", "2021", "yesterday", "3 May 2099", "0", "99999", "2021-02-30"} {
		if d, _, err := (style{dayFirst: true}).day(text, false, today); err == nil {
			t.Errorf("%q is read as %v", text, d)
		}
	}
}

func TestFurnishes(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"abaca": "abaca", "70% cotton rag, 30% abaca": "cotton rag 70 %, abaca 30 %", "abaca/flax 60/40": "abaca 60 %, flax 40 %",
		"50/50 abaca/flax": "abaca 50 %, flax 50 %", "abaca and flax": "abaca 50 %, flax 50 %", "1/2 abaca, 1/2 flax": "abaca 50 %, flax 50 %",
		"abaca (80%) + kozo (20%)": "abaca 80 %, kozo 20 %", "2 parts abaca, 1 part flax": "abaca 66.7 %, flax 33.3 %", "1 lb abaca, 8 oz flax": "abaca 66.7 %, flax 33.3 %", "700 g cotton rag; 300 g abaca": "cotton rag 70 %, abaca 30 %",
		"33,3 % abaca, 66,7 % flax": "abaca 33.3 %, flax 66.7 %", "80% abaca, flax": "abaca 80 %, flax 20 %", "Abacca": "abaca",
		"bog flax 2 upper field": "bog flax 2 upper field",
	} {
		parts, _, err := readFurnish(text, fibre.Shelf{}, measure.Metric)
		if err != nil || furnishWords(parts) != want {
			t.Errorf("%q: %s, %v; want %s", text, furnishWords(parts), err, want)
		}
	}
	for _, text := range []string{"", "%", "50% abaca, flax, kozo", "cotton rag 70 abaca", "70% cotton rag 30% abaca", "cotton rag 70% abaca 30%"} {
		if parts, _, err := readFurnish(text, fibre.Shelf{}, measure.Metric); err == nil {
			t.Errorf("%q: %v", text, parts)
		}
	}
}

// The same table in every dress that spreadsheets give it.
func TestEncodings(t *testing.T) {
	t.Parallel()
	const table = "Date;Paper;Fibre;g/m2;Notes\n3.5.2019;Bütten für Müller;abaca;100;“thin” – ½ as thick\n"
	latin, err := charmap.Windows1252.NewEncoder().String(table)
	if err != nil {
		t.Fatal(err)
	}
	wide, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(table)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"UTF-8": table, "with its mark": "\ufeff" + table, "Windows-1252": latin, "UTF-16": wide,
		"old line ends": strings.ReplaceAll(table, "\n", "\r"), "tabs": strings.ReplaceAll(table, ";", "\t"), "commas": strings.ReplaceAll(table, ";", ","),
	} {
		u, _ := newStudio(t)
		p := propose(t, u, open(t, text), "")
		if len(p.Rows) != 1 || p.Rows[0].Does != Adds || p.Rows[0].Name != "3 May 2019, Bütten für Müller" {
			t.Errorf("%s: %+v", name, p.Rows)
		}
	}
	for name, text := range map[string]string{"empty": "  \n\n", "no text": "\x00\x01\x02", "an old spreadsheet": "\xd0\xcf\x11\xe0....", "no spreadsheet": "PK\x03\x04...."} {
		if _, err := Open("x.csv", strings.NewReader(text)); fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// workbook writes an invented spreadsheet with merged cells, real dates, blank
// rows and a formula.
func workbook(t *testing.T) []byte {
	t.Helper()
	f := excelize.NewFile()
	for cell, v := range map[string]any{
		"A1": "Demo mill (invented)", "A3": "Date", "B3": "Paper", "C3": "Fibre", "D3": "gsm", "E3": "Sheets", "F3": "Sheet weight (oz)", "G3": "Notes",
		"A4": time.Date(2019, 5, 3, 0, 0, 0, 0, time.UTC), "B4": "Heron text", "C4": "abaca", "D4": 100, "E4": 40, "F4": 0.1 + 0.2, "G4": "first",
		"B5": "Quill", "C5": "cotton rag", "D5": 140, "E5": 12,
		"A8": "14 May 2019", "B8": "ditto", "C8": "\"", "D8": "140", "E8": "ca. 20", "G8": "和紙",
	} {
		if err := f.SetCellValue("Sheet1", cell, v); err != nil {
			t.Fatal(err)
		}
	}
	for _, m := range [][2]string{{"A1", "G1"}, {"A4", "A5"}} {
		if err := f.MergeCell("Sheet1", m[0], m[1]); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := f.NewSheet("Empty"); err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	if err := f.Write(&buf); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

func TestWorkbook(t *testing.T) {
	t.Parallel()
	u, _ := newStudio(t)
	sheets, err := Open("mill.xlsx", bytes.NewReader(workbook(t)))
	if err != nil || len(sheets) != 1 {
		t.Fatalf("%d sheets, %v", len(sheets), err)
	}
	p := propose(t, u, sheets[0], "")
	want := []string{"3 May 2019, Heron text", "3 May 2019, Quill", "14 May 2019, Quill"}
	if len(p.Rows) != len(want) {
		t.Fatalf("%+v", p.Rows)
	}
	for i, r := range p.Rows {
		if r.Does != Adds || r.Name != want[i] {
			t.Errorf("row %d: %+v; want %s", r.Line, r, want[i])
		}
	}
	if says := strings.Join(p.Rows[0].Says, ", "); !strings.Contains(says, "40 pulled") || !strings.Contains(says, "8.505 g") {
		t.Errorf("the first row says %s", says)
	}
	take(t, u, p)
	if again := propose(t, u, sheets[0], ""); len(again.Of(Skips)) != 3 {
		t.Errorf("again: %+v", again.Rows)
	}
}

// What the other kinds of sheet add, change and pass over; and that undoing
// puts every row back.
func TestOtherKinds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind          Kind
		first, second string
	}{
		{Papers, "Paper,Furnish,Grammage (gsm),Size,Beating,Drying,Notes\nHeron,70% cotton rag + 30% abaca,100,A3,3 h,stack,\nDusk,abaca,80,33 x 33 cm,7,board,lets light through\n",
			"Paper,Furnish,Grammage (gsm),Size,Beating,Drying,Notes\nHeron,\"70% cotton rag, 30% abaca\",110,A3,3 h,stack,\nDusk,abaca,80,33 x 33 cm,7,board,lets light through\nNew one,kozo,30,A4,1,board,\n"},
		{Lots, "Fibre,Amount (kg),Price per kg,Moisture,Bought,Notes\nabaca,\"2,5\",€ 12.50,8 %,3.5.2026,\ncotton rag,27 lb wet at 10 %,,,4.5.2026,in the cellar\n",
			"Fibre,Amount (kg),Price per kg,Moisture,Bought,Notes\nabaca,\"2,0\",€ 13.50,8 %,3.5.2026,\ncotton rag,27 lb wet at 10 %,,,4.5.2026,in the cellar\nflax,1,,,5.5.2026,\n"},
		{People, "Name,Email,Phone\nInvented Binder,binder@demo.invalid,=1+1\nInvented Scribe,,+49 0\n",
			"Name,Email,Phone\nInvented Binder,other@demo.invalid,=1+1\nInvented Scribe,,+49 0\nInvented Printer,,\n"},
		{Fibres, "Name,Like,Notes\nmeadow flax (invented),flax,from the field\nshed kozo (invented),kozo,\n",
			"Name,Like,Notes\nmeadow flax (invented),hemp,from the field\nshed kozo (invented),kozo,\nbog abaca (invented),abaca,\n"},
	} {
		u, _ := newStudio(t)
		empty := contents(t, u)
		p := propose(t, u, open(t, c.first), c.kind)
		if len(p.Of(Adds)) != 2 {
			t.Fatalf("%s: %+v", c.kind, p.Rows)
		}
		first := take(t, u, p)
		if again := propose(t, u, open(t, c.first), c.kind); len(again.Of(Adds))+len(again.Of(Changes)) != 0 {
			t.Errorf("%s, the same again: %+v", c.kind, again.Rows)
		}
		held := contents(t, u)
		p = propose(t, u, open(t, c.second), c.kind)
		if a, ch, s := len(p.Of(Adds)), len(p.Of(Changes)), len(p.Of(Skips)); ch != 1 || a != 1 || s != 1 {
			t.Errorf("%s: %d added, %d changed, %d there: %+v", c.kind, a, ch, s, p.Rows)
		}
		second := take(t, u, p)
		both := contents(t, u)
		if _, err := u.UndoImport(t.Context(), first.ID); fault.KindOf(err) != fault.KindConflict || contents(t, u) != both {
			t.Errorf("%s: the first is undone under the second: %v", c.kind, err)
		}
		for _, step := range []struct {
			id, want string
		}{{second.ID, held}, {first.ID, empty}} {
			if _, err := u.UndoImport(t.Context(), step.id); err != nil {
				t.Errorf("%s: %v", c.kind, err)
			}
			if got := contents(t, u); got != step.want {
				t.Errorf("%s: after undoing\n%s\nwant\n%s", c.kind, got, step.want)
			}
		}
	}
}

// A row that was put right changes its making by a correction, which goes with
// its import; what was written down here since keeps the first import.
func TestChangedRow(t *testing.T) {
	t.Parallel()
	u, _ := newStudio(t)
	s := open(t, notebook)
	first := take(t, u, propose(t, u, s, ""))
	held := contents(t, u)
	p := propose(t, u, open(t, strings.Replace(notebook, "63,52", "64,52", 1)), "")
	if len(p.Of(Changes)) != 1 || len(p.Of(Skips)) != 3 || len(p.Batch.Events) != 1 {
		t.Fatalf("%+v", p.Rows)
	}
	second := take(t, u, p)
	makings, err := u.Makings(t.Context(), studio.MakingFilter{Light: true})
	if err != nil {
		t.Fatal(err)
	}
	id := p.Batch.Events[0].MakingID
	if st, err := u.State(t.Context(), id); err != nil || st.Pulled != 64 {
		t.Errorf("%d pulled, %v", st.Pulled, err)
	}
	if old := propose(t, u, s, ""); len(old.Of(Skips)) != 4 {
		t.Errorf("the old file again takes the correction back: %+v", old.Rows)
	}
	if _, err := u.UndoImport(t.Context(), second.ID); err != nil {
		t.Fatal(err)
	}
	if contents(t, u) != held {
		t.Error("undoing the correction leaves something")
	}
	if _, err := u.Record(t.Context(), makings[0].ID, studio.NewEvent("later", today, studio.Remark{Text: "seen again"})); err != nil {
		t.Fatal(err)
	}
	if _, err := u.UndoImport(t.Context(), first.ID); fault.KindOf(err) != fault.KindConflict {
		t.Errorf("undone although something was written down since: %v", err)
	}
}

// Nothing that is read is lost or makes the reader fall over.
func FuzzSheet(f *testing.F) {
	f.Add([]byte(notebook))
	f.Add([]byte("Date,Paper,Fibre,g/m2\n3/5/2019,a,1/0 abaca,1/0\n"))
	f.Add([]byte("\xff\xfeD\x00a\x00"))
	f.Add([]byte("Name;Like\n\"'=x\";flax\n"))
	u, _ := newStudio(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		sheets, err := Open("x.csv", bytes.NewReader(data))
		if err != nil {
			return
		}
		for _, k := range append(Kinds(), "") {
			m := Guess(sheets[0], k, measure.US)
			p, err := Propose(t.Context(), u, Source{File: "x.csv", Sheet: sheets[0], Matching: m, System: measure.US, Now: today})
			if err != nil {
				continue
			}
			if len(p.Rows) != len(m.Rows(sheets[0])) {
				t.Fatalf("%d rows of %d", len(p.Rows), len(m.Rows(sheets[0])))
			}
			for _, r := range p.Rows {
				if r.Does == "" || (r.Does == Cannot) != (r.Why != "") {
					t.Fatalf("%+v", r)
				}
			}
		}
	})
}

func FuzzGuard(f *testing.F) {
	for _, s := range []string{"=1", "'=1", "''", "file: x", `\u000d`, "\r\n", "-5", "@", "plain"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		safe := guardCell(s)
		if got := unguardCell(safe); got != s {
			t.Fatalf("%q becomes %q and %q", s, safe, got)
		}
		if safe != "" && strings.IndexByte(formulaMarks, safe[0]) >= 0 {
			t.Fatalf("%q begins like a formula", safe)
		}
	})
}

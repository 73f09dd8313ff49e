package paperwork

import (
	"fmt"
	"io"
	"iter"
	"slices"

	"codeberg.org/go-pdf/fpdf"
)

// Margins in mm. The left one leaves room for a punch or a clip.
const (
	marginLeft   = 14.0
	marginRight  = 11.0
	marginTop    = 8.0
	marginBottom = 9.0
	footHigh     = 4.0
	runningHead  = 9.0 // on pages after the first
)

// WritePDF sets the card and writes it as PDF. The same card gives the same
// bytes. A card goes on one page when it fits, else on two, the vat on the
// front and the steps and the record behind; very long runs take more pages
// of tally. It fails only where w does, or with the QR content when that is
// longer than a code can hold.
func (c Card) WritePDF(w io.Writer, paper Size) error {
	p, err := c.draw(paper)
	if err != nil {
		return err
	}
	if err := p.pdf.Output(w); err != nil {
		return fmt.Errorf("the card could not be written: %w", err)
	}
	return nil
}

// draw sets the card on as few pages as it takes.
func (c Card) draw(paper Size) (*pen, error) {
	p, err := c.newPen(paper)
	if err != nil {
		return nil, err
	}
	return p, p.card(c)
}

// card sets the card on the pen's pages.
func (p *pen) card(c Card) error {
	plan, err := p.arrange(c)
	if err != nil {
		return err
	}
	for i, page := range plan {
		p.pdf.AddPage()
		y := p.top
		if i > 0 {
			y = p.running(c, y)
		}
		p.bare = y
		p.print(page, y)
		p.foot(c, i+1, len(plan))
	}
	if err := p.pdf.Error(); err != nil {
		return fmt.Errorf("the card could not be set: %w", err)
	}
	return nil
}

func (c Card) newPen(paper Size) (*pen, error) {
	f, err := loadFaces()
	if err != nil {
		return nil, err
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.W, Ht: paper.H}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCellMargin(0)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(c.Date.UTC())
	pdf.SetModificationDate(c.Date.UTC())
	pdf.SetTitle(join(" ", tidy(c.Paper), tidy(c.Tag)), true)
	pdf.SetCreator("Vatside", true)
	pdf.SetProducer("Vatside", true)
	pdf.SetLang("en")
	pdf.AddUTF8FontFromBytes(mainFamily, "", f.main)
	pdf.AddUTF8FontFromBytes(mainFamily, "B", f.mainBold)
	return &pen{
		pdf: pdf, faces: f,
		left: marginLeft, right: paper.W - marginRight,
		top: marginTop, bottom: paper.H - marginBottom,
	}, pdf.Error()
}

// running sets the short head of the pages after the first.
func (p *pen) running(c Card, y float64) float64 {
	tagW := p.width(bold, 12, c.Tag)
	pt := p.fit(bold, 12, 7, c.Paper, p.right-p.left-tagW-8)
	lines := p.wrap(bold, pt, c.Paper, p.right-p.left-tagW-8)
	if len(lines) > 0 {
		p.text(p.left, y+4.2, bold, pt, lines[0])
	}
	p.textRight(p.right, y+4.2, bold, 12, c.Tag)
	p.fill(p.left, y+6, p.right-p.left, strong)
	return y + runningHead
}

// foot sets the line at the bottom of every page.
func (p *pen) foot(c Card, page, pages int) {
	y := p.bottom - 0.4
	left := join(" · ", c.Tag, prefix("units: ", c.Units), "Vatside")
	if p.lost > 0 && page == pages {
		left = join(" · ", left, string(missingSign)+" stands for a letter these typefaces do not hold")
	}
	p.text(p.left, y, plain, 7.4, left)
	p.textRight(p.right, y, plain, 7.4, fmt.Sprintf("page %d of %d", page, pages))
}

// part is a piece of the card that is not broken across pages. Glue keeps it
// on the page of the part after it.
type part struct {
	draw  func(y float64) float64
	high  float64
	glue  bool
	fills bool // takes what is left of the page
	fresh bool // begins a page when the card takes more than one
}

// setting says how close the card is set.
type setting struct {
	long   bool // every caution of a step and every note is printed
	tally  bool // low boxes in the tally, the rule not larger than it must be
	steps  bool // steps in smaller type, fewer blanks for readings and remarks
	spare  bool // what to expect as text, one blank for a reading
	parted bool // the columns of steps may be parted across pages
}

// settings are tried in turn: the roomiest first.
var settings = []setting{
	{long: true}, {long: true, tally: true}, {long: true, tally: true, steps: true},
	{}, {tally: true}, {tally: true, steps: true}, {tally: true, steps: true, spare: true},
	{tally: true, steps: true, parted: true}, {tally: true, steps: true, spare: true, parted: true},
}

// arrange chooses the setting with the fewest pages: all on one page if the
// close setting fits, else the widest setting that takes two, else whatever
// takes fewest.
func (p *pen) arrange(c Card) ([][]part, error) {
	one, err := p.parts(c, setting{tally: true, steps: true, spare: true})
	if err != nil {
		return nil, err
	}
	if pages := p.breakPages(one, false); len(pages) == 1 {
		return pages, nil
	}
	var fewest [][]part
	for _, s := range settings {
		list, err := p.parts(c, s)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(list, func(q part) bool { return q.high > p.room()-runningHead }) {
			continue // columns longer than a page
		}
		for _, fresh := range []bool{true, false} {
			pages := p.breakPages(list, fresh)
			if len(pages) <= 2 {
				return pages, nil
			}
			if fewest == nil || len(pages) < len(fewest) {
				fewest = pages
			}
		}
	}
	return fewest, nil
}

// breakPages puts the parts on pages in order. With fresh, parts that ask for
// it begin a page.
func (p *pen) breakPages(list []part, fresh bool) [][]part {
	var pages [][]part
	var page []part
	room := p.room()
	used := 0.0
	for i := 0; i < len(list); {
		n, high := 1, list[i].high
		for list[i+n-1].glue && i+n < len(list) {
			high += list[i+n].high
			n++
		}
		if high > room-runningHead {
			n = min(n, 3) // longer than a page: keep the headings with the first
			high = 0
			for _, q := range list[i : i+n] {
				high += q.high
			}
		}
		begins := fresh && list[i].fresh && len(page) > 0
		if len(page) > 0 && (begins || used+high > room) {
			pages = append(pages, page)
			page, used = nil, runningHead
		}
		page = append(page, list[i:i+n]...)
		used += high
		i += n
	}
	return append(pages, page)
}

// room is the height of the parts of a first page; later pages have a running
// head besides.
func (p *pen) room() float64 { return p.bottom - footHigh - p.top }

// leftAfter is what is left of the last page after the parts.
func (p *pen) leftAfter(list []part) float64 {
	pages := p.breakPages(list, false)
	left := p.room()
	if len(pages) > 1 {
		left -= runningHead
	}
	for _, q := range pages[len(pages)-1] {
		left -= q.high
	}
	return left
}

// The widest white added between parts, in mm.
const (
	mostSpread = 4.0
	fillSpread = 1.5 // on a page with a part that fills
)

// print sets the parts of one page from y, with what room is left given to
// the part that fills, else spread between the parts.
func (p *pen) print(page []part, y float64) {
	room := p.bottom - footHigh - y
	loose := 0
	for _, q := range page {
		room -= q.high
		if !q.glue {
			loose++
		}
	}
	fills := slices.ContainsFunc(page, func(q part) bool { return q.fills })
	space := min(mostSpread, max(0, room)/float64(max(1, loose)))
	if fills {
		space = min(fillSpread, space)
	}
	for _, q := range page {
		if q.fills {
			p.bottomOf = y + q.high + max(0, room-space*float64(loose))
		}
		y = q.draw(y)
		if !q.glue {
			y += space
		}
	}
}

// measured returns the part with its height, learned by a dry run.
func (p *pen) measured(draw func(y float64) float64) part {
	was := p.dry
	p.dry = true
	defer func() { p.dry = was }()
	return part{draw: draw, high: draw(0)}
}

// parts lists the card in order.
func (p *pen) parts(c Card, close setting) ([]part, error) {
	var failed error
	var list []part
	add := func(draw func(y float64) float64) *part {
		list = append(list, p.measured(draw))
		return &list[len(list)-1]
	}
	add(func(y float64) float64 {
		end, err := p.head(c, y)
		if err != nil {
			failed = err
		}
		return end
	})
	add(func(y float64) float64 { return p.furnish(c, y) })
	add(func(y float64) float64 { return p.decisions(c, y) })
	add(func(y float64) float64 { return p.weighing(c, y) })
	add(func(y float64) float64 { return p.rule(c, close.tally, y) })
	add(func(y float64) float64 { return p.tests(c, close.tally, y) })
	if len(c.Recharges) > 0 {
		add(p.rechargeHeading).glue = true
		for _, g := range c.Recharges {
			for before := range chunks(g.Before, longestTally) {
				piece := g
				piece.Before = before
				add(func(y float64) float64 { return p.recharge(piece, y) })
			}
		}
	}
	list = append(list, p.tallyParts(c, close.tally)...)
	add(func(y float64) float64 { return p.outcomes(c, close.spare, y) })
	list = append(list, p.stepParts(c, list, close)...)
	least, readings := 2, 3
	if close.steps {
		least, readings = 1, 2
	}
	if close.spare {
		readings = 1
	}
	add(func(y float64) float64 { return p.readings(c, readings, y) })
	add(func(y float64) float64 { return p.record(c, y) })
	add(func(y float64) float64 { return p.remarks(least, y, p.bottomOf) }).fills = true
	notes := c.Notes
	if close.long {
		notes = slices.Concat(notes, c.Grounds)
	}
	add(func(y float64) float64 { return p.cautions(c, notes, y) })
	add(func(y float64) float64 { return p.restsOn(c, y) })
	kept := list[:0]
	for _, q := range list {
		if q.high > 0 {
			kept = append(kept, q)
		}
	}
	return kept, failed
}

// chunks yields list in pieces of at most n; an empty list as one empty piece.
func chunks(list []int, n int) iter.Seq[[]int] {
	if len(list) == 0 {
		return slices.Values([][]int{nil})
	}
	return slices.Chunk(list, n)
}

// longestTally is how many boxes one part of the tally holds at most, so that
// it fits any page.
const longestTally = 200

// tallyParts lists the posts, two in a row where the setting is close and
// they are short.
func (p *pen) tallyParts(c Card, tight bool) []part {
	if len(c.Posts) == 0 {
		return nil
	}
	high, w, inRow := 9.5, p.right-p.left, 1
	if tight {
		high = blankHigh
		if half := (w - halfColumns) / 2; tallyOf(half, longestPost(c.Posts)).perRow >= longestPost(c.Posts) {
			w, inRow = half, 2
		}
	}
	t := tallyOf(w, min(longestTally, longestPost(c.Posts)))
	head := p.measured(func(y float64) float64 {
		foot := p.tallyHeading(c, y)
		for i := range min(inRow, len(c.Posts)) {
			p.tallyColumns(p.left+float64(i)*(w+halfColumns), foot-0.6, w, t)
		}
		return foot + 1.4
	})
	head.glue = true
	list := []part{head}
	for row := range slices.Chunk(tallyRows(c.Posts, longestTally), inRow) {
		list = append(list, p.measured(func(y float64) float64 { return p.posts(row, t, w, c.MassUnit, high, y) }))
	}
	return list
}

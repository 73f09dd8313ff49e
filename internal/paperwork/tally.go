package paperwork

import (
	"slices"
	"strconv"
)

// tallySizes are the measures of one post's row, in mm.
type tallySizes struct {
	label, box, gap, kissed, weigh, jugs, space float64
	spoilt                                      int // boxes for sheets kissed off
	perRow                                      int // boxes in a row
}

// Measures of the tally, in mm.
const (
	widestBox   = 6.2 // width of the box of one sheet
	narrowBox   = 4.2 // below this a stroke does not fit
	fivesGap    = 1.7 // between fives
	halfColumns = 7.0 // between two posts side by side
)

// tallyOf returns the measures for posts of up to most sheets in a width; the
// blank for jugs stands where it takes no place from the boxes.
func tallyOf(w float64, most int) tallySizes {
	if w < 120 {
		return tallySizes{label: 10.5, gap: fivesGap, kissed: 10.5, weigh: 18, space: 2, spoilt: 3}.boxed(w, most)
	}
	with := tallySizes{label: 13, gap: fivesGap, kissed: 17, weigh: 21, jugs: 13, space: 3, spoilt: 4}.boxed(w, most)
	if with.perRow < most {
		return tallySizes{label: 15, gap: fivesGap, kissed: 21, weigh: 25, space: 3, spoilt: 5}.boxed(w, most)
	}
	return with
}

// boxed adds the boxes of the sheets.
func (t tallySizes) boxed(w float64, most int) tallySizes {
	room := w - t.boxEnd()
	for t.perRow = max(1, most); ; t.perRow-- {
		t.box = (room - t.gap*float64((t.perRow-1)/5)) / float64(t.perRow)
		if t.box >= narrowBox || t.perRow == 1 {
			break
		}
	}
	if t.perRow < most && t.perRow > 5 {
		t.perRow -= t.perRow % 5 // wrapped rows hold whole fives
		t.box = (room - t.gap*float64((t.perRow-1)/5)) / float64(t.perRow)
	}
	t.box = min(t.box, widestBox)
	return t
}

// boxEnd is what of a row is not for boxes.
func (t tallySizes) boxEnd() float64 { return t.label + t.fromKissed() + t.space }

// fromKissed is the width from the boxes for sheets kissed off to the edge.
func (t tallySizes) fromKissed() float64 { return t.kissed + t.space + t.fromWeigh() }

// fromWeigh is the width from the blank for the weight to the edge.
func (t tallySizes) fromWeigh() float64 {
	if t.jugs == 0 {
		return t.weigh
	}
	return t.weigh + t.space + t.jugs
}

// longestPost returns the most sheets of any post.
func longestPost(posts []Post) int {
	most := 0
	for _, q := range posts {
		most = max(most, q.Last-q.First+1)
	}
	return most
}

// tallyHeading names the columns of the tally.
func (p *pen) tallyHeading(c Card, y float64) float64 {
	p.line(p.left, y, p.right, y, hairline)
	end := p.label(p.left, y+3.6, "tally")
	marks := end + 3
	marks = p.text(marks, y+3.6, plain, 7.6, "a stroke for each sheet couched; ten weighed at parting") + 3
	if some(c.Posts, func(q Post) int { return len(q.Recharge) }) {
		p.wedge(marks+1, y+3.5, 2.2)
		marks = p.text(marks+2.8, y+3.6, plain, 7.6, "recharge first") + 3
	}
	if some(c.Posts, func(q Post) int { return len(q.RunDown) }) {
		p.hollowWedge(marks+1, y+3.5, 2.2)
		p.text(marks+2.8, y+3.6, plain, 7.6, "water off first")
	}
	return y + 5
}

// tallyColumns names the blanks of a post's row of width w at x.
func (p *pen) tallyColumns(x, y, w float64, t tallySizes) {
	spoilt, name := "kissed off", "at parting"
	if p.labelWidth(spoilt) > t.kissed {
		spoilt = "kissed"
	}
	p.label(x+w-t.fromKissed(), y+3.2, spoilt)
	p.label(x+w-t.fromWeigh(), y+3.2, name)
	if t.jugs > 0 {
		p.label(x+w-t.jugs, y+3.2, "jugs")
	}
}

func some(posts []Post, count func(Post) int) bool {
	return slices.ContainsFunc(posts, func(q Post) bool { return count(q) > 0 })
}

// tallyRow is a post, or a piece of one too long for a page, under its number.
type tallyRow struct {
	number int
	Post
}

// tallyRows numbers the posts and cuts those longer than most boxes.
func tallyRows(posts []Post, most int) []tallyRow {
	var rows []tallyRow
	for i, q := range posts {
		for ; q.Last-q.First+1 > most; q.First, q.Test = q.First+most, max(0, q.Test-most) {
			piece := q
			piece.Last = q.First + most - 1
			rows = append(rows, tallyRow{i + 1, piece})
		}
		rows = append(rows, tallyRow{i + 1, q})
	}
	return rows
}

// posts sets posts beside one another, one or two in a row.
func (p *pen) posts(row []tallyRow, t tallySizes, w float64, unit string, high, y float64) float64 {
	foot := y
	for i, q := range row {
		foot = max(foot, p.post(q.number, q.Post, t, unit, high, p.left+float64(i)*(w+halfColumns), y, w))
	}
	return foot
}

// above is the white over a row of boxes, where the wedges stand, in mm.
const above = 2.3

// post sets one post: its boxes, the boxes for sheets kissed off, and the
// blank for the weight of ten. high is the height of a box.
func (p *pen) post(n int, q Post, t tallySizes, unit string, high, x, y, w float64) float64 {
	p.label(x, y+5, "post")
	p.text(x, y+5+leading(13), bold, 13, strconv.Itoa(n))
	row := y + above
	for sheet := q.First; sheet <= q.Last; sheet++ {
		i := sheet - q.First
		if i > 0 && i%t.perRow == 0 {
			row += high + above
		}
		j := i % t.perRow
		p.sheetBox(x+t.label+float64(j)*t.box+float64(j/5)*t.gap, row, high, sheet, q, t)
	}
	each, under := t.kissed/float64(t.spoilt), y+above+high
	for i := range t.spoilt {
		p.box(x+w-t.fromKissed()+float64(i)*each, y+above, each, high, hairline)
	}
	weigh := x + w - t.fromWeigh()
	p.textRight(weigh+t.weigh, under-0.4, plain, 9, unit)
	p.line(weigh, under, weigh+t.weigh-p.width(plain, 9, unit)-1, under, midline)
	if t.jugs > 0 {
		p.line(x+w-t.jugs, under, x+w, under, midline)
	}
	return row + high + 0.8
}

func (p *pen) sheetBox(x, y, high float64, sheet int, q Post, t tallySizes) {
	p.box(x, y, t.box, high, hairline)
	p.text(x+0.6, y+2.6, plain, p.fit(plain, 6.6, 5, strconv.Itoa(sheet), t.box-1), strconv.Itoa(sheet))
	if sheet-q.First < q.Test {
		p.text(x+0.6, y+high-0.7, plain, 5.6, "test")
	}
	if slices.Contains(q.Recharge, sheet) {
		p.fill(x-0.35, y, 0.7, high)
		p.wedge(x, y+0.2, 2.6)
	}
	if slices.Contains(q.RunDown, sheet) {
		p.line(x, y, x, y+high, 0.5)
		p.hollowWedge(x, y+0.2, 2.6)
	}
}

package paperwork

import (
	"slices"
	"strconv"
)

// tallySizes are the measures of one post's row, in mm.
type tallySizes struct {
	label, box, gap, kissed, weigh, space float64
	spoilt                                int // boxes for sheets kissed off
	perRow                                int // boxes in a row
}

// Measures of the tally, in mm.
const (
	widestBox   = 6.2 // width of the box of one sheet
	narrowBox   = 4.2 // below this a stroke does not fit
	fivesGap    = 1.7 // between fives
	halfColumns = 7.0 // between two posts side by side
)

// tallyOf returns the measures for posts of up to most sheets in a width.
func tallyOf(w float64, most int) tallySizes {
	t := tallySizes{label: 15, gap: fivesGap, kissed: 21, weigh: 25, space: 3, spoilt: 5}
	if w < 120 {
		t = tallySizes{label: 10.5, gap: fivesGap, kissed: 10.5, weigh: 18, space: 2, spoilt: 3}
	}
	room := w - t.label - t.kissed - t.weigh - 2*t.space
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
	marks = p.text(marks, y+3.6, plain, 7.6, "a stroke for each sheet couched") + 3
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
	spoilt, name := "kissed off", "ten, at parting"
	if p.labelWidth(name) > t.weigh {
		spoilt, name = "kissed", "ten weigh"
	}
	p.label(x+w-t.weigh-t.space-t.kissed, y+3.2, spoilt)
	p.label(x+w-t.weigh, y+3.2, name)
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

// post sets one post: its boxes, the boxes for sheets kissed off, and the
// blank for the weight of ten. high is the height of a box.
func (p *pen) post(n int, q Post, t tallySizes, unit string, high, x, y, w float64) float64 {
	p.label(x, y+5, "post")
	p.text(x, y+5+leading(13), bold, 13, strconv.Itoa(n))
	row := y + 2.6
	for sheet := q.First; sheet <= q.Last; sheet++ {
		i := sheet - q.First
		if i > 0 && i%t.perRow == 0 {
			row += high + 2.6
		}
		j := i % t.perRow
		p.sheetBox(x+t.label+float64(j)*t.box+float64(j/5)*t.gap, row, high, sheet, q, t)
	}
	right := x + w
	each := t.kissed / float64(t.spoilt)
	for i := range t.spoilt {
		p.box(right-t.weigh-t.space-t.kissed+float64(i)*each, y+2.6, each, high, hairline)
	}
	p.textRight(right, y+2.6+high-0.4, plain, 9, unit)
	p.line(right-t.weigh, y+2.6+high, right-p.width(plain, 9, unit)-1, y+2.6+high, midline)
	return row + high + 1.2
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

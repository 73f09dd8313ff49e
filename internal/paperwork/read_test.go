package paperwork

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
)

// setOpen sets the card with its streams uncompressed, so that a test reads
// what a printer would get.
func setOpen(t testing.TB, c Card, paper Size) (*pen, []byte) {
	t.Helper()
	p, err := c.newPen(paper)
	if err != nil {
		t.Fatal(err)
	}
	p.pdf.SetCompression(false)
	if err := p.card(c); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := p.pdf.Output(&out); err != nil {
		t.Fatal(err)
	}
	return p, out.Bytes()
}

var showText = regexp.MustCompile(`(?s)BT [0-9.]+ [0-9.]+ Td \((.*?[^\\]|)\) Tj ET`)

// textOf reads the strings that the file shows, in the order it shows them.
// The PDF specification (ISO 32000-1, 7.3.4.2) escapes \, ( and ) in strings;
// the fonts are addressed by UTF-16, most significant byte first.
func textOf(file []byte) []string {
	var all []string
	for _, m := range showText.FindAllSubmatch(file, -1) {
		var raw []byte
		for i := 0; i < len(m[1]); i++ {
			b := m[1][i]
			if b == '\\' && i+1 < len(m[1]) {
				i++
				b = m[1][i]
				if b == 'r' {
					b = '\r'
				}
			}
			raw = append(raw, b)
		}
		var units []uint16
		for i := 0; i+1 < len(raw); i += 2 {
			units = append(units, uint16(raw[i])<<8|uint16(raw[i+1]))
		}
		all = append(all, string(utf16.Decode(units)))
	}
	return all
}

// plainText joins strings and evens out the spaces.
func plainText(parts []string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(parts, " "), "\u00a0", " ")), " ")
}

var filledBox = regexp.MustCompile(`([0-9.-]+) ([0-9.-]+) ([0-9.-]+) ([0-9.-]+) re f`)

// inkOf paints the filled boxes of the first page that lie in a region, given in mm
// from the top left, at so many dots per mm.
func inkOf(file []byte, paper Size, x, y, w, h, perMM float64) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, int(w*perMM), int(h*perMM)))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	black := image.NewUniform(color.Black)
	file, _, _ = bytes.Cut(file, []byte("endstream")) // the first page is the first stream
	for _, m := range filledBox.FindAllSubmatch(file, -1) {
		var v [4]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(string(m[i+1]), 64)
			v[i] *= mmPerPoint
		}
		top, left := paper.H-v[1]-y, v[0]-x
		if v[3] < 0 { // the writer counts heights downwards
			v[3] = -v[3]
		}
		r := image.Rect(int(left*perMM+0.5), int(top*perMM+0.5), int((left+v[2])*perMM+0.5), int((top+v[3])*perMM+0.5))
		draw.Draw(img, r, black, image.Point{}, draw.Src)
	}
	return img
}

package photo

import (
	"image"
	"image/color"
	"image/jpeg"
	"io"
)

// smallSide is the longer side of the small picture, in pixels; ours: the
// column of a page on a dense screen.
const smallSide = 960

// quality of the small picture; ours: deckle and fibres stay clear.
const quality = 85

// small makes the small picture, upright.
func small(picture image.Image, turned int) *image.RGBA {
	return turn(shrink(picture, smallSide), turned)
}

func writeSmall(w io.Writer, picture image.Image) error {
	return jpeg.Encode(w, picture, &jpeg.Options{Quality: quality})
}

// shrink makes a picture whose longer side is at most side, every pixel the
// mean of those it stands for. The scalers of the image library keep a strip of
// floats as high as the source, which for a large photo is more than the photo.
// What can be seen through stands on white.
func shrink(src image.Image, side int) *image.RGBA {
	b := src.Bounds()
	w, h := fit(b.Dx(), b.Dy(), side)
	at := func(x, y int) color.RGBA64 { return color.RGBA64Model.Convert(src.At(x, y)).(color.RGBA64) }
	if fast, ok := src.(image.RGBA64Image); ok {
		at = fast.RGBA64At
	}
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	sums := make([][4]uint64, w)
	for y := range h {
		clear(sums)
		y0, y1 := y*b.Dy()/h, (y+1)*b.Dy()/h
		for sy := y0; sy < y1; sy++ {
			for x := range w {
				s := &sums[x]
				for sx, end := x*b.Dx()/w, (x+1)*b.Dx()/w; sx < end; sx++ {
					c := at(b.Min.X+sx, b.Min.Y+sy)
					s[0], s[1], s[2], s[3] = s[0]+uint64(c.R), s[1]+uint64(c.G), s[2]+uint64(c.B), s[3]+uint64(c.A)
				}
			}
		}
		for x := range w {
			n := uint64(y1-y0) * uint64((x+1)*b.Dx()/w-x*b.Dx()/w)
			white := 0xffff - sums[x][3]/n
			part := func(i int) uint8 { return uint8(min(0xffff, sums[x][i]/n+white) >> 8) }
			dst.SetRGBA(x, y, color.RGBA{part(0), part(1), part(2), 0xff})
		}
	}
	return dst
}

// fit is the size of a picture whose longer side is at most side, its shape
// kept.
func fit(w, h, side int) (int, int) {
	longer := max(w, h)
	if longer <= side {
		return w, h
	}
	return max(1, (w*side+longer/2)/longer), max(1, (h*side+longer/2)/longer)
}

// turn brings a picture upright from one of the eight orientations of EXIF
// (CIPA DC-008, tag 0x0112); any other number leaves it.
func turn(src *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return src
	}
	w, h := src.Bounds().Dx(), src.Bounds().Dy()
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	if orientation >= 5 { // the sides change places
		dst = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range dst.Bounds().Dy() {
		for x := range dst.Bounds().Dx() {
			sx, sy := x, y
			switch orientation {
			case 2:
				sx = w - 1 - x
			case 3:
				sx, sy = w-1-x, h-1-y
			case 4:
				sy = h - 1 - y
			case 5:
				sx, sy = y, x
			case 6:
				sx, sy = y, h-1-x
			case 7:
				sx, sy = w-1-y, h-1-x
			case 8:
				sx, sy = w-1-y, x
			}
			dst.SetRGBA(x, y, src.RGBAAt(sx, sy))
		}
	}
	return dst
}

package photo

import (
	"context"
	"image"
	"image/draw"
	"io"
	"slices"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/multi/qrcode"
	single "github.com/makiuchi-d/gozxing/qrcode"

	"vatside/internal/fault"
)

// Longer sides in pixels at which a code is looked for, ours: in the whole
// picture, where a tag that fills it is seen at the first and one out of focus
// at the last; then in each half of it, where a small one is.
var codeSides = []int{1000, 1600, 500}

const codeTile = 1600

// Codes reads the codes (QR, ISO/IEC 18004) in a picture, which is not kept;
// none where none can be seen. Faults as of Add.
func (f *Folder) Codes(ctx context.Context, from io.Reader) ([]string, error) {
	file, _, _, err := f.arrive(from)
	if err != nil {
		return nil, err
	}
	defer gone(file)
	var found []string
	_, err = f.decode(ctx, file, func(_ format, picture image.Image, held int) error {
		for _, one := range views(picture) {
			if err := ctx.Err(); err != nil {
				return fault.Storage(err, "the picture was not waited for")
			}
			if found = read(grey(turn(shrink(one.of, one.side), held))); len(found) > 0 {
				break
			}
		}
		return nil
	})
	return found, err
}

// view is a picture, or a part of it, and how large it is looked at.
type view struct {
	of   image.Image
	side int
}

func views(picture image.Image) (list []view) {
	b := picture.Bounds()
	for _, side := range codeSides {
		list = append(list, view{picture, side})
	}
	parts, ok := picture.(interface {
		SubImage(image.Rectangle) image.Image
	})
	if !ok || max(b.Dx(), b.Dy()) <= codeTile {
		return list
	}
	half := image.Pt(b.Dx()/2, b.Dy()/2)
	for _, at := range [...][2]int{{1, 1}, {0, 0}, {1, 0}, {2, 0}, {0, 1}, {2, 1}, {0, 2}, {1, 2}, {2, 2}} { // the middle first, in quarters of the sides
		from := b.Min.Add(image.Pt(at[0]*half.X/2, at[1]*half.Y/2))
		list = append(list, view{parts.SubImage(image.Rectangle{from, from.Add(half)}), codeTile})
	}
	return list
}

func grey(m image.Image) *image.Gray {
	g := image.NewGray(m.Bounds())
	draw.Draw(g, g.Bounds(), m, m.Bounds().Min, draw.Src)
	return g
}

// read finds the codes in a picture of one size, each text once. A reader that
// trips over a picture has found nothing in it.
func read(m *image.Gray) (found []string) {
	defer func() {
		if recover() != nil {
			found = nil
		}
	}()
	light := gozxing.NewLuminanceSourceFromImage(m)
	hints := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true}
	for _, b := range []gozxing.Binarizer{gozxing.NewHybridBinarizer(light), gozxing.NewGlobalHistgramBinarizer(light)} {
		bits, err := gozxing.NewBinaryBitmap(b)
		if err != nil {
			continue
		}
		list, _ := qrcode.NewQRCodeMultiReader().DecodeMultiple(bits, hints) //nolint:errcheck // none found is said by none
		if len(list) == 0 {
			if one, err := single.NewQRCodeReader().Decode(bits, hints); err == nil {
				list = append(list, one)
			}
		}
		for _, one := range list {
			if text := one.GetText(); text != "" && !slices.Contains(found, text) {
				found = append(found, text)
			}
		}
		if len(found) > 0 {
			return found
		}
	}
	return nil
}

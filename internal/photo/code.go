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

// codeSides are the longer sides in pixels at which a code is looked for, ours:
// the first shows a tag that fills the picture, the others what is blurred or
// small in it.
var codeSides = []int{1000, 1600, 500, 2400}

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
		for _, side := range codeSides {
			if side > codeSides[0] && max(picture.Bounds().Dx(), picture.Bounds().Dy()) <= side/2 {
				continue // no more to be seen than before
			}
			if err := ctx.Err(); err != nil {
				return fault.Storage(err, "the picture was not waited for")
			}
			if found = read(grey(turn(shrink(picture, side), held))); len(found) > 0 {
				break
			}
		}
		return nil
	})
	return found, err
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

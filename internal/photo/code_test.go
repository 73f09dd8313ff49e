package photo_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/png"
	"slices"
	"testing"

	goqr "github.com/piglig/go-qr"
	"golang.org/x/image/tiff"

	"vatside/internal/fault"
	"vatside/internal/photo"
)

const tagged = "http://127.0.0.1:8017/makings?tag=K7-3F"

// coded is a code on a white page, its modules so many pixels wide.
func coded(t testing.TB, text string, module int) image.Image {
	t.Helper()
	code, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := code.WriteAsPNG(goqr.NewQrCodeImgConfig(module, 4), &b); err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A code is read in every kind of file, however the camera was held, also
// mirrored, and the picture is not kept.
func TestCodes(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	f := photo.In(dir)
	m := coded(t, tagged, 6)
	pictures := map[string][]byte{"PNG": asPNG(t, m), "TIFF": asTIFF(t, m, tiff.Deflate)}
	for held := range uint16(9) {
		pictures["JPEG held "+string('0'+rune(held))] = withEXIF(asJPEG(t, m), exif(binary.LittleEndian, held))
	}
	large := image.NewGray(image.Rect(0, 0, 2800, 2100))
	for i := range large.Pix {
		large.Pix[i] = 180
	}
	for y := range m.Bounds().Dy() {
		for x := range m.Bounds().Dx() {
			large.Set(1900+x, 1300+y, m.At(x, y))
		}
	}
	pictures["a small one in a large picture"] = asJPEG(t, large)
	for name, content := range pictures {
		got, err := f.Codes(t.Context(), bytes.NewReader(content))
		if err != nil || !slices.Equal(got, []string{tagged}) {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
	if left := files(t, dir); len(left) > 0 {
		t.Errorf("kept: %v", left)
	}
}

// Several codes are all told, a picture without one tells none, and what is no
// picture is refused as a photo is.
func TestCodesSeveralNoneDamaged(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	f := photo.In(dir)
	two := image.NewGray(image.Rect(0, 0, 900, 500))
	for i := range two.Pix {
		two.Pix[i] = 255
	}
	for i, text := range []string{tagged, "K4-7T"} {
		one := coded(t, text, 6)
		for y := range one.Bounds().Dy() {
			for x := range one.Bounds().Dx() {
				two.Set(60+450*i+x, 80+y, one.At(x, y))
			}
		}
	}
	got, err := f.Codes(t.Context(), bytes.NewReader(asPNG(t, two)))
	slices.Sort(got)
	if want := []string{"K4-7T", tagged}; err != nil || !slices.Equal(got, want) {
		t.Errorf("%q, %v; want %q", got, err, want)
	}
	blank := image.NewGray(image.Rect(0, 0, 2000, 1300))
	for i := range blank.Pix {
		blank.SetGray(i%2000, i/2000, color.Gray{uint8(i % 251)})
	}
	if got, err := f.Codes(t.Context(), bytes.NewReader(asJPEG(t, blank))); err != nil || len(got) > 0 {
		t.Errorf("nothing: %q, %v", got, err)
	}
	if got, err := f.Codes(t.Context(), bytes.NewReader(asJPEG(t, image.NewGray(image.Rect(0, 0, 1, 1))))); err != nil || len(got) > 0 {
		t.Errorf("one pixel: %q, %v", got, err)
	}
	for name, content := range map[string][]byte{"text": []byte("no picture"), "empty": {}, "cut": asJPEG(t, two)[:900]} {
		if _, err := f.Codes(t.Context(), bytes.NewReader(content)); fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	if left := files(t, dir); len(left) > 0 {
		t.Errorf("kept: %v", left)
	}
}

package photo_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"vatside/internal/fault"
	"vatside/internal/photo"
)

// corners is a picture whose four corners have colours of their own, so that
// it can be seen how it lies: red, green, blue, white, clockwise from the top
// left.
func corners(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{A: 255}
			switch {
			case x < w/2 && y < h/2:
				c.R = 255
			case y < h/2:
				c.G = 255
			case x >= w/2:
				c.B = 255
			default:
				c = color.RGBA{255, 255, 255, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

func asJPEG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asTIFF(t testing.TB, m image.Image, c tiff.CompressionType) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := tiff.Encode(&b, m, &tiff.Options{Compression: c}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// exif is a TIFF head with one directory that holds the orientation and, as a
// stand-in for what a camera writes besides, a maker's name.
func exif(order binary.AppendByteOrder, held uint16) []byte {
	b := []byte("II*\x00")
	if order == binary.AppendByteOrder(binary.BigEndian) {
		b = []byte("MM\x00*")
	}
	b = order.AppendUint32(b, 8)
	b = order.AppendUint16(b, 2)
	const ascii, short = 2, 3
	b = order.AppendUint16(b, 0x010f)
	b = order.AppendUint16(b, ascii)
	b = order.AppendUint32(b, 9)
	b = order.AppendUint32(b, 8+2+2*12+4)
	b = order.AppendUint16(b, 0x0112)
	b = order.AppendUint16(b, short)
	b = order.AppendUint32(b, 1)
	b = order.AppendUint16(b, held)
	b = order.AppendUint16(b, 0)
	b = order.AppendUint32(b, 0)
	return append(b, "Whereabo\x00"...)
}

// withEXIF puts an APP1 segment behind the first marker of a JPEG.
func withEXIF(jpeg, exif []byte) []byte {
	head := append([]byte("Exif\x00\x00"), exif...)
	b := append([]byte{}, jpeg[:2]...)
	b = append(b, 0xff, 0xe1)
	b = binary.BigEndian.AppendUint16(b, uint16(len(head)+2))
	return append(append(b, head...), jpeg[2:]...)
}

// webpOf is the smallest lossless picture written by hand: one colour, 1 × 1
// to 16384 × 16384, for WebP has no encoder here.
func smallestWebP(w, h int) []byte {
	// Head of VP8L: signature, 14 bits width - 1, 14 bits height - 1, alpha, version;
	// then no transform, no colour cache, no meta codes, and five codes of one
	// symbol each (green, red, blue, alpha, distance), which need no bits.
	var bits []bool
	put := func(v uint64, n int) {
		for i := range n {
			bits = append(bits, v>>i&1 == 1)
		}
	}
	put(uint64(w-1), 14)
	put(uint64(h-1), 14)
	put(0, 1)
	put(0, 3)
	put(0, 1) // no transform
	put(0, 1) // no colour cache
	put(0, 1) // no meta codes
	for _, symbol := range []uint64{200, 100, 50, 255, 0} {
		put(1, 1)      // simple code
		put(0, 1)      // of one symbol
		put(1, 1)      // of eight bits
		put(symbol, 8) // which is
	}
	data := []byte{0x2f}
	for i := 0; i < len(bits); i += 8 {
		var b byte
		for j := 0; j < 8 && i+j < len(bits); j++ {
			if bits[i+j] {
				b |= 1 << j
			}
		}
		data = append(data, b)
	}
	if len(data)%2 == 1 {
		data = append(data, 0)
	}
	b := []byte("RIFF")
	b = binary.LittleEndian.AppendUint32(b, uint32(4+8+len(data)))
	b = append(b, "WEBPVP8L"...)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(data)))
	return append(b, data...)
}

func add(t testing.TB, f *photo.Folder, content []byte) photo.Kept {
	t.Helper()
	k, err := f.Add(t.Context(), bytes.NewReader(content))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func smallOf(t testing.TB, f *photo.Folder, hash string) image.Image {
	t.Helper()
	file, err := f.OpenSmall(t.Context(), hash)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	m, err := jpeg.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Every format is kept byte for byte, under its hash, with a small picture of
// the same shape.
func TestFormats(t *testing.T) {
	t.Parallel()
	m := corners(1200, 800)
	for name, c := range map[string]struct {
		content      []byte
		format, mime string
		w, h         int
	}{
		"jpeg":      {asJPEG(t, m), "JPEG", "image/jpeg", 1200, 800},
		"png":       {asPNG(t, m), "PNG", "image/png", 1200, 800},
		"tiff":      {asTIFF(t, m, tiff.Uncompressed), "TIFF", "image/tiff", 1200, 800},
		"deflated":  {asTIFF(t, m, tiff.Deflate), "TIFF", "image/tiff", 1200, 800},
		"webp":      {smallestWebP(1200, 800), "WebP", "image/webp", 1200, 800},
		"tiny":      {asPNG(t, corners(2, 2)), "PNG", "image/png", 2, 2},
		"thin":      {asPNG(t, corners(3000, 2)), "PNG", "image/png", 3000, 2},
		"grey jpeg": {asJPEG(t, image.NewGray(image.Rect(0, 0, 30, 20))), "JPEG", "image/jpeg", 30, 20},
	} {
		f := photo.In(filepath.Join(t.TempDir(), "photos"))
		k := add(t, f, c.content)
		if k.Format != c.format || k.Width != c.w || k.Height != c.h {
			t.Errorf("%s: kept as %+v", name, k)
		}
		file, mime, err := f.Open(k.Hash)
		if err != nil || mime != c.mime {
			t.Fatalf("%s: %v, media type %s", name, err, mime)
		}
		if got, err := io.ReadAll(file); err != nil || !bytes.Equal(got, c.content) {
			t.Errorf("%s: the file is not as it came", name)
		}
		file.Close()
		b := smallOf(t, f, k.Hash).Bounds()
		if max(b.Dx(), b.Dy()) > 960 || c.w == 1200 && (b.Dx() != 960 || b.Dy() != 640) {
			t.Errorf("%s: the small picture is %v", name, b)
		}
		if again := add(t, f, c.content); again != k {
			t.Errorf("%s: added twice it is %+v and %+v", name, k, again)
		}
		if n := len(files(t, f.Dir())); n != 2 {
			t.Errorf("%s: %d files, want the photo and its small picture", name, n)
		}
	}
}

func files(t testing.TB, dir string) []string {
	t.Helper()
	var list []string
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			list = append(list, path)
		}
		return err
	})
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	return list
}

// HEIC has no encoder here: the picture of four corners was written once.
func TestHEIC(t *testing.T) {
	t.Parallel()
	content, err := os.ReadFile("testdata/corners.heic")
	if err != nil {
		t.Fatal(err)
	}
	f := photo.In(filepath.Join(t.TempDir(), "photos"))
	k := add(t, f, content)
	if _, mime, err := f.Open(k.Hash); err != nil || mime != "image/heic" || k.Format != "HEIC" || k.Width != 64 || k.Height != 48 {
		t.Errorf("kept as %+v, %s, %v", k, mime, err)
	}
	m := smallOf(t, f, k.Hash)
	if got := [4]string{hue(m.At(16, 12)), hue(m.At(48, 12)), hue(m.At(48, 36)), hue(m.At(16, 36))}; got != [4]string{"red", "green", "blue", "white"} {
		t.Errorf("corners %v", got)
	}
	for _, n := range []int{12, 40, len(content) / 2, len(content) - 1} {
		if _, err := f.Add(t.Context(), bytes.NewReader(content[:n])); fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("cut at %d: %v", n, err)
		}
	}
	for i := range 30 { // whatever is spoilt, it ends with a sentence or a picture
		spoilt := bytes.Clone(content)
		spoilt[(i*41)%len(spoilt)] ^= 0x55
		if _, err := f.Add(t.Context(), bytes.NewReader(spoilt)); err != nil && fault.KindOf(err) != fault.KindInvalid && fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("byte %d spoilt: %v", (i*41)%len(spoilt), err)
		}
	}
}

// Held in any of the eight ways of EXIF, a photo comes out upright: the way a
// camera stored it is undone. Which corner of the stored picture belongs where
// is the table of CIPA DC-008, "Orientation".
func TestOrientations(t *testing.T) {
	t.Parallel()
	// Where the stored first row and first column lie in the upright picture.
	stored := corners(60, 40)
	red, green, blue, white := "red", "green", "blue", "white"
	for held, want := range map[uint16][4]string{ // clockwise from the top left
		1: {red, green, blue, white},
		2: {green, red, white, blue}, // row at the top, column at the right
		3: {blue, white, red, green}, // bottom, right
		4: {white, blue, green, red}, // bottom, left
		5: {red, white, blue, green}, // left, top
		6: {white, red, green, blue}, // right, top
		7: {blue, green, red, white}, // right, bottom
		8: {green, blue, white, red}, // left, bottom
		0: {red, green, blue, white}, // not a way to hold a camera
		9: {red, green, blue, white},
	} {
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			f := photo.In(t.TempDir())
			k := add(t, f, withEXIF(asJPEG(t, stored), exif(order, held)))
			m := smallOf(t, f, k.Hash)
			b := m.Bounds()
			if turned := held >= 5 && held <= 8; turned != (b.Dx() < b.Dy()) || turned != (k.Width < k.Height) {
				t.Errorf("held %d: %v, said to be %d × %d", held, b, k.Width, k.Height)
			}
			x, y := b.Dx()/4, b.Dy()/4
			got := [4]string{hue(m.At(x, y)), hue(m.At(3*x, y)), hue(m.At(3*x, 3*y)), hue(m.At(x, 3*y))}
			if got != want {
				t.Errorf("held %d: corners %v, want %v", held, got, want)
			}
		}
	}
}

func hue(c color.Color) string {
	r, g, _, _ := c.RGBA()
	const half = 0x8000
	switch {
	case r > half && g > half:
		return "white"
	case r > half:
		return "red"
	case g > half:
		return "green"
	default:
		return "blue"
	}
}

// What a camera wrote besides stays in the photo and is not in the small one.
func TestSmallPictureTellsNothing(t *testing.T) {
	t.Parallel()
	f := photo.In(t.TempDir())
	k := add(t, f, withEXIF(asJPEG(t, corners(60, 40)), exif(binary.LittleEndian, 1)))
	file, err := f.OpenSmall(t.Context(), k.Hash)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	got, err := io.ReadAll(file)
	if err != nil || bytes.Contains(got, []byte("Whereabo")) || bytes.Contains(got, []byte("Exif")) {
		t.Errorf("the small picture holds what the camera wrote: %v", err)
	}
}

// A small picture that is gone is made again.
func TestSmallPictureComesBack(t *testing.T) {
	t.Parallel()
	f := photo.In(t.TempDir())
	k := add(t, f, withEXIF(asJPEG(t, corners(60, 40)), exif(binary.BigEndian, 6)))
	if err := os.RemoveAll(filepath.Join(f.Dir(), "small")); err != nil {
		t.Fatal(err)
	}
	if b := smallOf(t, f, k.Hash).Bounds(); b.Dx() != 40 || b.Dy() != 60 {
		t.Errorf("made again it is %v", b)
	}
}

// What cannot be read is refused with a sentence, and leaves nothing behind.
func TestRefused(t *testing.T) {
	t.Parallel()
	whole := asJPEG(t, corners(400, 300))
	cut := func(b []byte) []byte { return b[:len(b)*2/3] }
	noise := func(b []byte) []byte {
		b = bytes.Clone(b)
		for i := len(b) / 2; i < len(b)/2+40; i++ {
			b[i] = 0xff
		}
		return b
	}
	for name, c := range map[string]struct {
		content []byte
		kind    fault.Kind
		says    string
	}{
		"empty":             {nil, fault.KindInvalid, "empty"},
		"text":              {[]byte("a letter to a friend, of some length"), fault.KindInvalid, "no photo"},
		"svg":               {[]byte("<svg xmlns='http://www.w3.org/2000/svg'><script>x</script></svg>"), fault.KindInvalid, "no photo"},
		"gif":               {[]byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;"), fault.KindInvalid, "no photo"},
		"cut jpeg":          {cut(whole), fault.KindInvalid, "damaged"},
		"head alone":        {whole[:20], fault.KindInvalid, "damaged"},
		"three bytes":       {whole[:3], fault.KindInvalid, "damaged"},
		"cut png":           {cut(asPNG(t, corners(400, 300))), fault.KindInvalid, "damaged"},
		"spoilt png":        {noise(asPNG(t, corners(400, 300))), fault.KindInvalid, "damaged"},
		"cut tiff":          {cut(asTIFF(t, corners(400, 300), tiff.Uncompressed)), fault.KindInvalid, "damaged"},
		"cut webp":          {smallestWebP(400, 300)[:22], fault.KindInvalid, "damaged"},
		"huge png":          {pngBomb(60000, 60000), fault.KindOutOfRange, "megapixels"},
		"impossible png":    {pngBomb(1<<31-1, 1<<31-1), fault.KindInvalid, ""},
		"huge webp":         {smallestWebP(16384, 16384), fault.KindOutOfRange, "megapixels"},
		"huge jpeg":         {jpegClaims(whole, 65500, 65500), fault.KindOutOfRange, "megapixels"},
		"large progressive": {jpegFrameBehind("", 0xc2, 6000, 5000), fault.KindOutOfRange, "at most 16 megapixels"},
		"behind zero":       {jpegFrameBehind("\xff\x00\xff\xfe", 0xc2, 6000, 5000), fault.KindOutOfRange, "at most 16 megapixels"},
		"behind a restart":  {jpegFrameBehind("\xff\xd3\xff\xfe", 0xc2, 6000, 5000), fault.KindOutOfRange, "at most 16 megapixels"},
		"behind filling":    {jpegFrameBehind("\xff\xff\xff\xfe", 0xc2, 6000, 5000), fault.KindOutOfRange, "at most 16 megapixels"},
		"in four channels":  {jpegFrameBehind("", 0xc0, 10000, 6000), fault.KindOutOfRange, "at most 50 megapixels"},
		"large heic":        {append([]byte("\x00\x00\x00\x18ftypheic"), make([]byte, 33<<20)...), fault.KindOutOfRange, "at most 32 MB"},
	} {
		f := photo.In(filepath.Join(t.TempDir(), "photos"))
		kept := add(t, f, asPNG(t, corners(8, 8)))
		_, err := f.Add(t.Context(), bytes.NewReader(c.content))
		if fault.KindOf(err) != c.kind || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
		if list := files(t, f.Dir()); len(list) != 2 {
			t.Errorf("%s: something is left behind: %v", name, list)
		}
		smallOf(t, f, kept.Hash)
	}
}

// pngBomb is a PNG whose head claims a size, with nothing behind it.
func pngBomb(w, h int) []byte {
	var b bytes.Buffer
	png.Encode(&b, image.NewGray(image.Rect(0, 0, 1, 1))) //nolint:errcheck // to memory
	out := b.Bytes()
	binary.BigEndian.PutUint32(out[16:], uint32(w))
	binary.BigEndian.PutUint32(out[20:], uint32(h))
	binary.BigEndian.PutUint32(out[29:], crc32.ChecksumIEEE(out[12:29]))
	return out
}

// jpegClaims writes another size into the frame header of a JPEG.
func jpegClaims(jpeg []byte, w, h int) []byte {
	b := bytes.Clone(jpeg)
	i := bytes.Index(b, []byte{0xff, 0xc0})
	binary.BigEndian.PutUint16(b[i+5:], uint16(h))
	binary.BigEndian.PutUint16(b[i+7:], uint16(w))
	return b
}

// jpegFrameBehind is the head of a JPEG that claims a size in four channels,
// with odd bytes and a remark before its frame; the remark holds the head of a
// small grey one.
func jpegFrameBehind(odd string, mark byte, w, h uint16) []byte {
	grey := []byte{0xff, 0xc0, 0, 11, 8, 0, 8, 0, 8, 1, 1, 0x11, 0}
	b := append([]byte{0xff, 0xd8}, odd...)
	if odd != "" {
		b = append(append(b, 0, byte(2+len(grey))), grey...)
	}
	b = append(b, 0xff, mark, 0, 20, 8)
	b = binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(b, h), w)
	b = append(b, 4, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0, 4, 0x11, 0)
	return append(b, 0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0)
}

// A reader that breaks off, as a network does, leaves nothing behind.
func TestBrokenOff(t *testing.T) {
	t.Parallel()
	f := photo.In(filepath.Join(t.TempDir(), "photos"))
	from := io.MultiReader(bytes.NewReader(asJPEG(t, corners(40, 30))[:200]), broken{})
	if _, err := f.Add(t.Context(), from); fault.KindOf(err) != fault.KindStorage {
		t.Errorf("broken off: %v", err)
	}
	if list := files(t, f.Dir()); len(list) != 0 {
		t.Errorf("left behind: %v", list)
	}
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, errors.New("the network is gone") }

// A hash that is none never leads out of the folder.
func TestHashesAreHashes(t *testing.T) {
	t.Parallel()
	f := photo.In(t.TempDir())
	for _, hash := range []string{"", "..", "../" + strings.Repeat("a", 61), strings.Repeat("A", 64), strings.Repeat("a", 64), strings.Repeat("a", 63) + "/"} {
		if _, _, err := f.Open(hash); fault.KindOf(err) != fault.KindNotFound {
			t.Errorf("%q: %v", hash, err)
		}
		if _, err := f.OpenSmall(t.Context(), hash); fault.KindOf(err) != fault.KindNotFound {
			t.Errorf("%q, small: %v", hash, err)
		}
	}
}

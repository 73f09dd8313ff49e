package photo

import (
	"bufio"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"strings"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"

	"vatside/internal/fault"
)

// mostMemory is what decoding one picture may take, in bytes; ours. With what
// the program takes besides it stays below 500 MB.
const mostMemory = 384 << 20

// Bytes that decoding takes per pixel at the worst, read off the decoders: the
// picture itself and what stands beside it until the end.
const (
	jpegAgain       = 4     // to turn other channels into a screen's own
	jpegCoefficient = 4     // for each sample, until all scans are read
	pngBytes        = 8 * 2 // 16 bits in four channels; interlaced, all passes stand beside the whole
	webpBytes       = 12    // lossless: the picture, and its transforms
	tiffBytes       = 8 * 2 // 16 bits in four channels, all of it unpacked in one strip
)

// mostSide is the longest side in pixels; ours: what JPEG itself can say.
const mostSide = 65535

// format is one kind of file that is taken.
type format struct {
	name  string // as people call it
	ends  string // of the file's name
	mime  string
	bytes func(head io.ReadSeeker, size image.Config) int64 // per pixel, at the worst
	size  func(io.Reader) (image.Config, error)
	read  func(io.Reader) (image.Image, error)
	// upright: the decoder itself turns the picture.
	upright bool
}

// formats are all that is taken, by what stands at their beginning.
var formats = []struct {
	format
	begins []string // ? is any byte
}{
	{format{name: "JPEG", ends: ".jpg", mime: "image/jpeg", bytes: jpegMemory, size: jpeg.DecodeConfig, read: jpeg.Decode}, []string{"\xff\xd8\xff"}},
	{format{name: "PNG", ends: ".png", mime: "image/png", bytes: always(pngBytes), size: png.DecodeConfig, read: png.Decode}, []string{"\x89PNG\r\n\x1a\n"}},
	{format{name: "WebP", ends: ".webp", mime: "image/webp", bytes: always(webpBytes), size: webp.DecodeConfig, read: webp.Decode}, []string{"RIFF????WEBP"}},
	{format{name: "TIFF", ends: ".tif", mime: "image/tiff", bytes: always(tiffBytes), size: tiff.DecodeConfig, read: tiff.Decode}, []string{"II*\x00", "MM\x00*"}},
	{format{name: "HEIC", ends: ".heic", mime: "image/heic", bytes: always(mostMemory * heicBytes / heicMemory), size: heicSize, read: heicRead, upright: true},
		[]string{"????ftyphei", "????ftyphev", "????ftypmif1", "????ftypmsf1"}},
}

func always(n int64) func(io.ReadSeeker, image.Config) int64 {
	return func(io.ReadSeeker, image.Config) int64 { return n }
}

// Formats says which files are taken and how large they may be, for pages.
func Formats() string {
	var list []string
	for _, f := range formats {
		list = append(list, fmt.Sprintf("%s to %d megapixels", f.name, mostMemory/f.bytes(strings.NewReader(""), image.Config{})/1e6))
	}
	return strings.Join(list, ", ")
}

// known tells the format by the first bytes.
func known(f io.ReadSeeker) (format, error) {
	head := make([]byte, 16)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return format{}, fault.Storage(err, "the photo could not be read again")
	}
	head = head[:n]
	for _, f := range formats {
		for _, b := range f.begins {
			if begins(head, b) {
				return f.format, nil
			}
		}
	}
	if begins(head, "????ftypavi") {
		return format{}, fault.Invalid("photo", "AVIF photos cannot be read; let the phone or the computer save it as JPEG")
	}
	return format{}, fault.Invalid("photo", "this is no photo that can be read; JPEG, PNG, WebP, HEIC and TIFF can")
}

func begins(head []byte, with string) bool {
	if len(head) < len(with) {
		return false
	}
	for i := range len(with) {
		if with[i] != '?' && head[i] != with[i] {
			return false
		}
	}
	return true
}

// decode reads a whole picture from a file, refusing before it what would take
// too much.
func decode(file *os.File) (format, image.Image, error) {
	fm, err := known(file)
	if err != nil {
		return format{}, nil, err
	}
	size, err := fm.config(file)
	if err != nil {
		return format{}, nil, err
	}
	per := fm.bytes(file, size)
	if w, h := int64(size.Width), int64(size.Height); w > mostSide || h > mostSide || w*h > mostMemory/per {
		return format{}, nil, fault.OutOfRange("photo", "at most %d megapixels of this kind of %s, no side longer than %d pixels; this one is %d × %d. Save it smaller",
			mostMemory/per/1e6, fm.name, mostSide, w, h)
	}
	picture, err := fm.picture(file)
	if err != nil {
		return format{}, nil, err
	}
	if b := picture.Bounds(); b.Dx() != size.Width || b.Dy() != size.Height {
		return format{}, nil, fm.damaged()
	}
	return fm, picture, nil
}

func (fm format) config(file io.ReadSeeker) (image.Config, error) {
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return image.Config{}, fault.Storage(err, "the photo could not be read again")
	}
	c, err := fm.size(file)
	if fault.KindOf(err) == fault.KindOutOfRange {
		return c, err
	}
	if err != nil || c.Width <= 0 || c.Height <= 0 {
		return image.Config{}, fm.damaged()
	}
	return c, nil
}

// picture decodes; a decoder that trips over a hostile file is no defect of
// the record and must not end the program.
func (fm format) picture(file io.ReadSeeker) (_ image.Image, err error) {
	defer func() {
		if recover() != nil {
			err = fm.damaged()
		}
	}()
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return nil, fault.Storage(err, "the photo could not be read again")
	}
	var from io.Reader = file // TIFF is read from all over the file
	if fm.name != "TIFF" {
		from = bufio.NewReaderSize(file, 64<<10)
	}
	picture, err := fm.read(from)
	if err != nil {
		return nil, fm.damaged()
	}
	return picture, nil
}

func (fm format) damaged() error {
	return fault.Invalid("photo", "this %s file is damaged or not whole; take it from the camera once more", fm.name)
}

// jpegMemory is what a pixel of a JPEG takes: a byte for each channel, for
// coarser colours may be kept at full size; the whole once more where it is not
// kept in the channels of a screen's own picture; and in a progressive one a
// coefficient beside each sample, fewer than one a channel where colour is
// coarser (ITU-T T.81, B.2.2).
func jpegMemory(file io.ReadSeeker, size image.Config) int64 {
	n := int64(3)
	switch size.ColorModel {
	case color.GrayModel:
		n = 1
	case color.RGBAModel:
		n = 3 + jpegAgain
	case color.CMYKModel:
		n = 4 + jpegAgain
	}
	frame, mark := jpegFrame(file)
	if mark != progressive || len(frame) < 6 {
		return n
	}
	samples, wide, high := 0, 1, 1
	for c := frame[6:]; len(c) >= 3; c = c[3:] {
		h, v := int(c[1]>>4), int(c[1]&15)
		samples, wide, high = samples+h*v, max(wide, h), max(high, v)
	}
	return n + int64((jpegCoefficient*samples+wide*high-1)/(wide*high))
}

// Markers of JPEG (ITU-T T.81, table B.1).
const (
	sof0, progressive = 0xc0, 0xc2 // SOF2
	rst0, rst7        = 0xd0, 0xd7
	eoi, sos          = 0xd9, 0xda
)

// jpegFrame finds the frame header, and the marker before it, by the very steps
// of the decoder: what it passes over is passed over here.
func jpegFrame(file io.ReadSeeker) (frame []byte, mark byte) {
	if _, err := file.Seek(2, io.SeekStart); err != nil {
		return nil, 0
	}
	r := bufio.NewReader(file)
	var two [2]byte
	for {
		if _, err := io.ReadFull(r, two[:]); err != nil {
			return nil, 0
		}
		var err error
		for two[0] != 0xff && err == nil {
			two[0] = two[1]
			two[1], err = r.ReadByte()
		}
		mark = two[1]
		if mark == 0 && err == nil {
			continue
		}
		for mark == 0xff && err == nil {
			mark, err = r.ReadByte()
		}
		if rst0 <= mark && mark <= rst7 && err == nil {
			continue
		}
		if err == nil {
			_, err = io.ReadFull(r, two[:])
		}
		n := int(two[0])<<8 + int(two[1]) - 2
		if err != nil || n < 0 || mark == eoi || mark == sos { // no frame: it will not decode
			return nil, 0
		}
		if sof0 <= mark && mark <= progressive {
			frame = make([]byte, n)
			if _, err := io.ReadFull(r, frame); err != nil {
				return nil, 0
			}
			return frame, mark
		}
		if _, err := r.Discard(n); err != nil {
			return nil, 0
		}
	}
}

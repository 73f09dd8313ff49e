package photo

import (
	"bytes"
	"compress/gzip"
	"context"
	_ "embed"
	"errors"
	"image"
	"image/color"
	"io"
	"sync"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"

	"vatside/internal/fault"
)

// The decoder of HEIC is a library of C, walled off: see heif/README.md.
//
//go:embed heif/heif.wasm.gz
var heifCode []byte

// Limits of the walled-off decoder; ours.
const (
	heicMemory = 320 << 20 // bytes it may take for all it does
	heicPage   = 64 << 10  // bytes of a page of its memory (WebAssembly 1.0)
	heicBytes  = 13        // of its memory per pixel: the picture, its tiles and the copy handed over; 7 seen of a phone
	mostHEIC   = 32 << 20  // bytes of a file
)

// Kinds of picture the decoder speaks of, by its own numbers.
const (
	heifYCbCr, heifRGB, heifGrey = 0, 1, 2
	heif420, heif422, heif444    = 1, 2, 3
)

var errHEIC = errors.New("photo: the HEIC file cannot be decoded")

// heif is the decoder, made ready when first needed and kept.
var heif = sync.OnceValues(func() (h struct {
	runtime wazero.Runtime
	code    wazero.CompiledModule
}, err error) {
	ctx := context.Background()
	packed, err := gzip.NewReader(bytes.NewReader(heifCode))
	if err != nil {
		return h, err
	}
	code, err := io.ReadAll(packed)
	if err != nil {
		return h, err
	}
	h.runtime = wazero.NewRuntimeWithConfig(ctx, wazero.NewRuntimeConfig().
		WithMemoryLimitPages(heicMemory/heicPage).WithMemoryCapacityFromMax(true))
	wasi_snapshot_preview1.MustInstantiate(ctx, h.runtime)
	h.code, err = h.runtime.CompileModule(ctx, code)
	return h, err
})

func heicSize(r io.Reader) (image.Config, error) {
	p, err := heicDecode(r, false)
	if err != nil {
		return image.Config{}, err
	}
	return image.Config{ColorModel: color.YCbCrModel, Width: p.w, Height: p.h}, nil
}

// heicRead decodes; the decoder itself turns the picture upright.
func heicRead(r io.Reader) (image.Image, error) {
	p, err := heicDecode(r, true)
	if err != nil {
		return nil, err
	}
	return p.picture, nil
}

type heicPicture struct {
	w, h    int
	picture image.Image
}

// heicDecode runs the decoder on one file in a memory of its own, which goes
// with it.
func heicDecode(r io.Reader, whole bool) (p heicPicture, err error) {
	content, err := io.ReadAll(io.LimitReader(r, mostHEIC+1))
	if len(content) > mostHEIC {
		return p, fault.OutOfRange("photo", "at most %d MB of a HEIC photo; save it smaller, or as JPEG", mostHEIC>>20)
	}
	if err != nil {
		return p, err
	}
	h, err := heif()
	if err != nil {
		return p, err
	}
	ctx := context.Background() // to be able to stop it would make it five times slower
	m, err := h.runtime.InstantiateModule(ctx, h.code, wazero.NewModuleConfig().WithName(""))
	if err != nil {
		return p, err
	}
	defer m.Close(ctx) //nolint:errcheck // it holds nothing but memory
	box := sandbox{ctx, m}
	in, err := box.room(len(content))
	if err != nil || !m.Memory().Write(in, content) {
		return p, errors.Join(errHEIC, err)
	}
	said, err := box.room(5 * 4)
	if err != nil {
		return p, err
	}
	ask := func(headOnly uint64, out uint32) error {
		args := []uint64{uint64(in), uint64(len(content)), headOnly}
		for i := range uint32(5) {
			args = append(args, uint64(said+4*i))
		}
		ok, err := m.ExportedFunction("decode").Call(ctx, append(args, uint64(out))...)
		if err == nil && ok[0] == 0 {
			err = errHEIC
		}
		return err
	}
	if err := ask(1, 0); err != nil {
		return p, err
	}
	var n [4]int // width, height, what it is, how coarse its colours are
	for i := range n {
		v, _ := m.Memory().ReadUint32Le(said + 4*uint32(i))
		n[i] = int(v)
	}
	p.w, p.h = n[0], n[1]
	if !whole || p.w <= 0 || p.h <= 0 || p.w > mostSide || p.h > mostSide {
		return p, nil
	}
	layout, size := heicLayout(p.w, p.h, n[2], n[3])
	if layout == nil {
		return p, errHEIC
	}
	out, err := box.room(size)
	if err != nil {
		return p, err
	}
	if err := ask(0, out); err != nil {
		return p, err
	}
	pixels, ok := m.Memory().Read(out, uint32(size))
	if !ok {
		return p, errHEIC
	}
	p.picture = layout(pixels)
	return p, nil
}

// sandbox is one running decoder.
type sandbox struct {
	ctx context.Context
	m   api.Module
}

// room makes room in the decoder's memory.
func (b sandbox) room(n int) (uint32, error) {
	at, err := b.m.ExportedFunction("malloc").Call(b.ctx, uint64(n))
	if err != nil {
		return 0, err
	}
	if at[0] == 0 {
		return 0, errHEIC
	}
	return uint32(at[0]), nil
}

// heicLayout says how the pixels of a picture lie in the decoder's memory, and
// how many bytes they take; nil for what it does not know. Its rows are at least
// 64 pixels, an even number, and whole multiples of 16 bytes.
func heicLayout(w, h, what, coarse int) (func([]byte) image.Image, int) {
	const step, least = 16, 64
	rowOf := func(n, bytes int) int { return ((max(n, least)+1)/2*2*bytes + step - 1) / step * step }
	row := func(n int) int { return rowOf(n, 1) }
	area := image.Rect(0, 0, w, h)
	switch what {
	case heifGrey:
		return func(b []byte) image.Image { return &image.Gray{Pix: b, Stride: row(w), Rect: area} }, row(w) * h
	case heifRGB:
		return func(b []byte) image.Image { return &image.NRGBA{Pix: b, Stride: rowOf(w, 4), Rect: area} }, rowOf(w, 4) * h
	case heifYCbCr:
	default:
		return nil, 0
	}
	cw, ch, ratio := (w+1)/2, (h+1)/2, image.YCbCrSubsampleRatio420
	switch coarse {
	case heif420:
	case heif422:
		ch, ratio = h, image.YCbCrSubsampleRatio422
	case heif444:
		cw, ch, ratio = w, h, image.YCbCrSubsampleRatio444
	default:
		return nil, 0
	}
	y, c := row(w)*h, row(cw)*ch
	return func(b []byte) image.Image {
		return &image.YCbCr{Y: b[:y:y], Cb: b[y : y+c : y+c], Cr: b[y+c : y+2*c : y+2*c], YStride: row(w), CStride: row(cw), SubsampleRatio: ratio, Rect: area}
	}, y + 2*c
}

package web_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	goqr "github.com/piglig/go-qr"

	"vatside/internal/studio"
)

// sendPicture sends the picture of a code as a phone does.
func (a *aStudio) sendPicture(content []byte) sheet {
	a.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	if content != nil {
		p, err := w.CreateFormFile("picture", "image.jpg")
		if err != nil {
			a.t.Fatal(err)
		}
		p.Write(content) //nolint:errcheck // to memory
	}
	w.Close() //nolint:errcheck // to memory
	r := httptest.NewRequest("POST", "/makings/code", &b)
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return a.do(r)
}

// shot is a photo of a print lying on a grey table.
type shot struct {
	wide    int     // px
	turn    float64 // degrees
	scale   float64 // px of the photo to one of the print
	lean    float64 // how much smaller its far side is than its near one, a share
	blur    int     // px, each way
	light   float64 // of full light
	slope   float64 // how much of it is lost from left to right
	noise   float64 // of 255
	x, y    float64 // where of the print the middle of the photo is, shares
	quality int
}

// taken is the photo of a print.
func (s shot) taken(print image.Image) *image.RGBA {
	b := print.Bounds()
	high := s.wide * 3 / 4
	m := image.NewRGBA(image.Rect(0, 0, s.wide, high))
	sin, cos := math.Sincos(s.turn * math.Pi / 180)
	chance := rand.New(rand.NewPCG(1, 2))
	for y := range high {
		far := 1 + s.lean*(0.5-float64(y)/float64(high))
		for x := range s.wide {
			u, v := (float64(x)-float64(s.wide)/2)*far/s.scale, (float64(y)-float64(high)/2)*far/s.scale
			sx, sy := int(s.x*float64(b.Dx())+u*cos-v*sin), int(s.y*float64(b.Dy())+u*sin+v*cos)
			grey := 110.0
			if image.Pt(sx, sy).In(b) {
				r, g, bl, _ := print.At(sx, sy).RGBA()
				grey = 20 + 0.85*float64(r+g+bl)/3/257
			}
			grey = grey*s.light*(1-s.slope*float64(x)/float64(s.wide)) + s.noise*chance.NormFloat64()
			n := uint8(max(0, min(255, grey)))
			m.SetRGBA(x, y, color.RGBA{n, n, n, 255})
		}
	}
	return blurred(m, s.blur)
}

// blurred is every pixel the mean of those around it.
func blurred(m *image.RGBA, by int) *image.RGBA {
	if by == 0 {
		return m
	}
	b, out := m.Bounds(), image.NewRGBA(m.Bounds())
	for y := range b.Dy() {
		for x := range b.Dx() {
			sum, n := 0, 0
			for j := max(0, y-by); j <= min(b.Dy()-1, y+by); j++ {
				for i := max(0, x-by); i <= min(b.Dx()-1, x+by); i++ {
					sum, n = sum+int(m.RGBAAt(i, j).R), n+1
				}
			}
			out.SetRGBA(x, y, color.RGBA{uint8(sum / n), uint8(sum / n), uint8(sum / n), 255})
		}
	}
	return out
}

func sent(t *testing.T, m image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A printed tag is found by a picture of it, turned, leaning, blurred, dark,
// unevenly lit, cut and small.
func TestATagIsFoundByItsPicture(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	_, file := a.printed("/makings/" + m.ID + "/labels.pdf?kind=tags&count=1")
	print, err := png.Decode(bytes.NewReader(run(t, "pdftoppm", "-r", "300", "-png", "-singlefile", file)))
	if err != nil {
		t.Fatal(err)
	}
	// One tag stands at the top left: 66 × 38 mm of 210 × 297, 6 and 15 mm in.
	tag := func(s shot) shot {
		s.x, s.y = 0.19, 0.116
		if s.wide == 0 {
			s.wide = 1300
		}
		if s.light == 0 {
			s.light = 1
		}
		if s.scale == 0 {
			s.scale = 1
		}
		if s.quality == 0 {
			s.quality = 80
		}
		return s
	}
	for name, s := range map[string]shot{
		"upright":       {},
		"on its side":   {turn: 90},
		"upside down":   {turn: 180},
		"turned by 37":  {turn: 37},
		"turned by 45":  {turn: 45},
		"turned by 200": {turn: 200, scale: 0.8},
		"leaning":       {turn: 12, lean: 0.5},
		"blurred":       {turn: 5, blur: 3},
		"dark":          {turn: -8, light: 0.25, noise: 3},
		"side light":    {turn: 3, slope: 0.8, noise: 2},
		"small":         {turn: 20, scale: 0.45},
		"poor":          {turn: 25, scale: 0.6, lean: 0.2, blur: 1, light: 0.5, noise: 4, quality: 40},
		"large":         {wide: 3000, scale: 2.2, turn: 15, blur: 2},
		"far, large":    {wide: 3000, scale: 0.5, turn: 15},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s = tag(s)
			if got := a.sendPicture(sent(t, s.taken(print), s.quality)); got.to() != "/makings/"+m.ID {
				t.Errorf("%d, leads to %q: %s", got.code, got.to(), got.text("#f-picture-error"))
			}
		})
	}
	t.Run("cut", func(t *testing.T) {
		t.Parallel()
		b := print.Bounds()
		corner := print.(interface {
			SubImage(image.Rectangle) image.Image
		}).SubImage(image.Rect(b.Dx()*20/100, b.Dy()*5/100, b.Dx()*35/100, b.Dy()*15/100))
		if got := a.sendPicture(sent(t, corner, 80)); got.to() != "/makings/"+m.ID {
			t.Errorf("%d, leads to %q", got.code, got.to())
		}
	})
}

// A picture without a code, with another's code, with several tags, and what
// is no picture: one plain sentence each, and how to go on.
func TestPicturesThatLeadNowhere(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	says := func(name string, got sheet, want string) {
		t.Helper()
		if got.code != http.StatusUnprocessableEntity || !strings.Contains(got.text("#f-picture-error"), want) {
			t.Errorf("%s: %d %q, want %q", name, got.code, got.text("#f-picture-error"), want)
		}
	}
	noise := image.NewGray(image.Rect(0, 0, 1200, 900))
	chance := rand.New(rand.NewPCG(3, 4))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(chance.IntN(256))
	}
	says("nothing", a.sendPicture(picture(t, 200, "jpeg")), "type the code")
	says("noise", a.sendPicture(sent(t, noise, 80)), "type the code")
	says("no picture", a.sendPicture([]byte("a letter")), "no photo")
	says("no file", a.sendPicture(nil), "Take a picture first")
	says("another's code", a.sendPicture(coded(t, "https://example.org/makings/7")), "none of a making")
	says("a tag of no making", a.sendPicture(coded(t, "http://elsewhere:8017/makings?tag=K22K")), "No making carries")
	if got := a.sendPicture(coded(t, "http://elsewhere:8017/makings?tag="+m.Tag)); got.to() != "/makings/"+m.ID {
		t.Errorf("a tag printed at another address leads to %d %q", got.code, got.to())
	}
	if got := a.sendPicture(coded(t, m.Tag)); got.to() != "/makings/"+m.ID {
		t.Errorf("a bare tag leads to %d %q", got.code, got.to())
	}
	second := a.another(m)
	both := image.NewGray(image.Rect(0, 0, 1400, 700))
	for i := range both.Pix {
		both.Pix[i] = 255
	}
	for i, tag := range []string{m.Tag, second.Tag} {
		code, err := png.Decode(bytes.NewReader(coded(t, tag)))
		if err != nil {
			t.Fatal(err)
		}
		for y := range code.Bounds().Dy() {
			for x := range code.Bounds().Dx() {
				both.Set(100+700*i+x, 100+y, code.At(x, y))
			}
		}
	}
	got := a.sendPicture(sent(t, both, 90))
	if got.code != http.StatusOK || got.Find(".line").Length() != 2 || !strings.Contains(got.text(".strip"), "which is it") {
		t.Errorf("two tags: %d, %d lines, %q", got.code, got.Find(".line").Length(), got.text(".strip"))
	}
}

// another starts one more making of the same brief.
func (a *aStudio) another(m studio.Making) studio.Making {
	a.t.Helper()
	if got := a.post("/briefs/"+m.BriefID+"/makings", nil); got.code != http.StatusSeeOther {
		a.t.Fatalf("the making was not begun: %d", got.code)
	}
	list, err := a.records.Makings(a.t.Context(), studio.MakingFilter{})
	if err != nil {
		a.t.Fatal(err)
	}
	for _, one := range list {
		if one.ID != m.ID {
			return one
		}
	}
	a.t.Fatal("there is no other making")
	return studio.Making{}
}

// coded is a picture of a code.
func coded(t *testing.T, text string) []byte {
	t.Helper()
	code, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := code.WriteAsPNG(goqr.NewQrCodeImgConfig(8, 4), &b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
